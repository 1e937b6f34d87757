import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { Instrumenter } from "@stryker-mutator/instrumenter";

const quiet = { isDebugEnabled: () => false, debug() {}, info() {}, warn() {} };

/** Every mutant of the files of a folder whose path holds `part`, as Stryker makes them: places count lines and columns from 0. */
export async function mutantsOf(folder, part = "") {
  const wanted = (name) => /(?<!\.d)\.ts$/.test(name) && join(folder, name).includes(part);
  const names = readdirSync(folder, { recursive: true }).filter(wanted);
  const files = names.sort().map((name) => {
    const path = join(folder, name);
    return { name: path, content: readFileSync(path, "utf8"), mutate: true };
  });
  const instrumenter = new Instrumenter(quiet);
  const options = { plugins: null, excludedMutations: [], ignorers: [] };
  return (await instrumenter.instrument(files, options)).mutants;
}

/** What tells a mutant from every other of its file, whatever number it has in a run. */
export function keyOf({ fileName, location: { start, end }, mutatorName, replacement }) {
  const name = fileName.replaceAll("\\", "/").replace(/^.*kernel-lib\/src\//, "");
  return `${name}:${start.line}:${start.column}-${end.line}:${end.column} ${mutatorName} ${replacement}`;
}

/** The first `count` of the mutants in an order that the seed alone decides: a random sample of them. */
export function sampleOf(mutants, count, seed) {
  const rank = (mutant) =>
    createHash("sha256")
      .update(`${seed} ${keyOf(mutant)}`)
      .digest("hex");
  const ranked = mutants.map((mutant) => ({ mutant, rank: rank(mutant) }));
  ranked.sort((a, b) => (a.rank < b.rank ? -1 : 1));
  return ranked.slice(0, count).map(({ mutant }) => mutant);
}

/** The place of a mutant as Stryker's option `mutate` takes it. */
export function rangeOf({ fileName, location: { start, end } }) {
  return `${fileName}:${start.line + 1}:${start.column}-${end.line + 1}:${end.column}`;
}
