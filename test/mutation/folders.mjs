import { readdirSync } from "node:fs";

/** The folders whose mutants are counted, in the order of the code map. */
export const folders = ["quantity", "numerics", "uncertainty", "survey", "form", "axis", "conformity", "facing"];

/** Test files elsewhere that are to notice a change in a folder too, as paths from the project: `form: ["test/…"]`. */
const also = {};

/** The test files that look at a folder: those of the folder of the same name, and what `also` adds. */
export function testFilesOf(folder) {
  const names = readdirSync(`test/${folder}`, { recursive: true }).filter((name) => name.endsWith(".test.ts"));
  return [...names.sort().map((name) => `test/${folder}/${name}`), ...(also[folder] ?? [])];
}

const aim = 85;

/** What the tests of a folder that is not there yet have reached, in percent; a number here only rises, and goes at the aim. */
const reached = { numerics: 70, uncertainty: 60, survey: 60 };

/** The share, in percent, below which a folder must not fall. */
export const heldOf = (folder) => reached[folder] ?? aim;
