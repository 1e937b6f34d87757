import { readdirSync } from "node:fs";

/** The folders whose mutants are counted, in the order of the code map. */
export const folders = ["quantity", "numerics", "uncertainty", "survey", "form", "axis", "conformity", "facing"];

/** The test files that look at a folder, as paths from the project: those of the folder of the same name. */
export function testFilesOf(folder) {
  const names = readdirSync(`test/${folder}`, { recursive: true }).filter((name) => name.endsWith(".test.ts"));
  return names.sort().map((name) => `test/${folder}/${name}`);
}
