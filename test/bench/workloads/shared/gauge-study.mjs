import { readFileSync } from "node:fs";
import { checksum, gaugeStudies } from "../../generate.mjs";

const shape = { parts: 10, operators: 3, repeats: 3 };
const variances = ["repeats", "operators", "interaction", "parts"];
const tests = ["parts", "operators", "interaction"];

/** What the two ways of running W7 share. */
export function gaugeStudyTask(own) {
  return {
    id: "W7",
    sizes: [1000],
    relative: 1e-9,
    expected: JSON.parse(readFileSync(new URL("../../expected/w7-study.json", import.meta.url), "utf8")),

    make(size) {
      const values = gaugeStudies(707, size);
      const studies = Array.from({ length: size }, (_, i) => values.slice(90 * i, 90 * i + 90));
      return { inputs: { values, studies, shape }, checksum: checksum(values) };
    },

    result(found) {
      const kept = found.map((study) => variances.map((name) => Math.max(study.variances[name], 0)));
      const percents = kept.map(([e, o, i, p]) => 100 * Math.sqrt((e + o + i) / (e + o + i + p)));
      const sum = (list) => list.reduce((a, b) => a + b, 0);
      return {
        ...Object.fromEntries(variances.map((name, k) => [name, sum(kept.map((of) => of[k]))])),
        ...Object.fromEntries(tests.map((name) => [`p_${name}`, sum(found.map((study) => study[name].p))])),
        mean_percent_grr: sum(percents) / found.length,
        first_percent_grr: percents[0],
      };
    },
    ...own,
  };
}
