import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { holds, said, textsOf, wordings } from "./wordings.js";

const source = resolve(import.meta.dirname, "../../kernel-lib/src");
const tests = resolve(import.meta.dirname, "..");

/** sentences that no test compares as a whole yet, each with its file; the list may only grow shorter */
const listed = readFileSync(resolve(import.meta.dirname, "untested-wordings.txt"), "utf8")
  .split("\n")
  .filter((line) => line !== "");

it("has a test on every sentence of a refusal, whole, but those that are listed", () => {
  const texts = [...new Set(textsOf(tests))];
  const all = wordings(source);
  // the search itself finds something
  expect(all.length).toBeGreaterThan(600);
  const untested = all.filter((wording) => !texts.some((text) => holds(text, wording))).map(said);
  expect([...new Set(untested)].toSorted()).toEqual(listed);
});

it("takes a sentence as tested only where a text holds it from its first word to its last", () => {
  const wording = wordings(source).find((one) => said(one).includes("there is no such notebook"))!;
  const whole = "/x/a.ipynb: there is no such notebook; give the path of an .ipynb file";
  expect(holds(whole, wording)).toBe(true);
  for (const part of ["there is no such notebook", whole.slice(0, -1), whole.replace("such", "a")]) {
    expect(holds(part, wording)).toBe(false);
  }
});
