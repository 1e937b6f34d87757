import { program } from "../../kernel-lib/src/facing/program.js";
import type { FacingJob } from "../../kernel-lib/src/facing/program-job.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { replay } from "../../kernel-lib/src/facing/replay.js";
import { mm } from "../../kernel-lib/src/quantity/index.js";
import { aJob, aTop } from "./a-job.js";
import { harmOf } from "./harm.js";
import { mutantsOf } from "./mutants.js";

export const mutatedJobs: { readonly [name: string]: FacingJob } = {
  "along x, two depths": aJob({ rounds: [{ depth: mm(0.3) }, { depth: mm(0.5) }] }),
  "along y, one depth": aJob({ feedAlong: "y", rounds: [{ depth: mm(0.4) }], zero: { x: mm(170), y: mm(110) } }),
  // 2 mm above the tip and 10 mm wider all round than the cutter: what stops short of the rim meets it first
  "along x under an arbor": aJob({
    rounds: [{ depth: mm(0.5) }],
    cutter: { ...aJob().cutter, holder: [{ name: "arbor", diameter: mm(60), above: mm(2) }] },
    obstacles: [
      { name: "stop", area: area(mm(223.5), mm(240), mm(60), mm(90)), top: mm(3) },
      { name: "post", area: area(mm(60), mm(80), mm(143.5), mm(150)), top: mm(3) },
    ],
  }),
};

/** as found, in mm over Z0, as the map of the job's plate has it between its places */
const topMm = (job: FacingJob) => (x: number, y: number) => {
  const [u, v] = [(x - job.plate.xFrom.in("mm")) / 120, (y - job.plate.yFrom.in("mm")) / 70];
  return (40 * u - 25 * v - 40) / 1000;
};

/** What both rules say of a program as written. */
export function bothRules(job: FacingJob): { readonly harm: string; readonly refusals: number } {
  const { text } = program(job);
  return {
    harm: harmOf(text, job, topMm(job)),
    refusals: replay(text, job, aTop(job), { pitch: mm(5) }).refusals.length,
  };
}

/** Every n-th fault of a program judged by both rules; `where`: only in lines like that. */
export function judgedFaults(name: string, every: number, where = /./) {
  const job = mutatedJobs[name]!;
  const top = aTop(job);
  const judged = mutantsOf(program(job).text)
    .filter(({ what }) => where.test(what))
    .filter((_, i) => i % every === 0)
    .map((mutant) => ({
      what: mutant.what,
      harm: harmOf(mutant.text, job, topMm(job)),
      passes: replay(mutant.text, job, top, { pitch: mm(5) }).passes,
    }));
  const harmful = judged.filter(({ harm }) => harm !== "");
  const harmless = judged.filter(({ harm }) => harm === "");
  const missed = harmful.filter(({ passes }) => passes).map(({ what, harm }) => `${what}: ${harm}`);
  const letThrough = harmless.filter(({ passes }) => passes).length;
  const byHolder = harmful.filter(({ harm }) => /: arbor hits /.test(harm)).length;
  console.log(
    `${name}: ${judged.length} faults, ${harmful.length} harmful by the second rule, ${harmful.length - missed.length} of them refused; ` +
      `${harmless.length} harmless, ${letThrough} of them let through; ${byHolder} hit with the holder alone`,
  );
  return { harmful: harmful.length, missed, letThrough, byHolder };
}
