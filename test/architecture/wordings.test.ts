import { resolve } from "node:path";
import { expect, it } from "vitest";
import { holds, said, textsOf, wordings } from "./wordings.js";

const source = resolve(import.meta.dirname, "../../kernel-lib/src");
const tests = resolve(import.meta.dirname, "..");

const all = wordings(source);

it("has a test on every sentence of a refusal, whole", () => {
  const texts = [...new Set(textsOf(tests))];
  // the search itself finds something
  expect(all.length).toBeGreaterThan(600);
  const untested = all.filter((wording) => !texts.some((text) => holds(text, wording))).map(said);
  expect([...new Set(untested)]).toEqual([]);
});

it("finds a sentence where a function puts it into its frame, and not what a sentence is only given", () => {
  const sentences = all.map(said);
  expect(sentences).toContain("facing/replay-control.ts: the program ends with the cutter down; lift it first");
  expect(sentences).toContain(
    "survey/row-reader.ts: is blank; write the name of the place, like C4, or datum for a return",
  );
  expect(sentences).toContain('survey/preamble-gauge.ts: "# …: …" is not understood; write "…"');
  expect(sentences).not.toContain("survey/preamble-gauge.ts: 0.6 µm with 9 degrees of freedom");
});

it("takes a sentence as tested only where a text holds it from its first word to its last", () => {
  const wording = all.find((one) => said(one).includes("there is no such notebook"))!;
  const whole = "/x/a.ipynb: there is no such notebook; give the path of an .ipynb file";
  expect(holds(whole, wording)).toBe(true);
  for (const part of ["there is no such notebook", whole.slice(0, -1), whole.replace("such", "a")]) {
    expect(holds(part, wording)).toBe(false);
  }
});
