// Mutation testing of one folder: how many of the small changes that Stryker makes to it are noticed by its tests.
//
//   npm run test:mutation -- FOLDER [--sample 200] [--seed 1] [--minutes 30] [--only FILE] [--all] [--all-tests]
//                                  [--at-least 85]
//
// A random sample, the same for the same seed and code, or with --all every mutant. Prints the score with its interval
// and every mutant that nothing noticed; the same goes to build/mutation/FOLDER.json. Tests that take long are not asked
// unless --all-tests says so (runner.mjs). With --at-least 85 it fails where the whole interval lies below.
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import { parseArgs } from "node:util";
import { Stryker } from "@stryker-mutator/core";
import { folders } from "./folders.mjs";
import { keyOf, mutantsOf, rangeOf, sampleOf } from "./sample.mjs";

const project = resolve(import.meta.dirname, "../..");
process.chdir(project);
const out = "build/mutation";

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    sample: { type: "string", default: "200" },
    seed: { type: "string", default: "1" },
    minutes: { type: "string", default: "30" },
    only: { type: "string", default: "" },
    all: { type: "boolean", default: false },
    "all-tests": { type: "boolean", default: false },
    "at-least": { type: "string" },
  },
});

/** the folder given, or for `today` another one each day */
function folderOf([given]) {
  if (given === "today") return folders[Math.floor(Date.now() / 86_400_000) % folders.length];
  if (folders.includes(given)) return given;
  console.error(`test:mutation: ${given ?? "no folder"} was given; give one of ${folders.join(", ")}, or today`);
  process.exit(2);
}

/** Wilson's interval for a share, 95 % (E. B. Wilson, J. Am. Stat. Assoc. 22, 1927) */
function interval(hits, count) {
  const z = 1.959964;
  const middle = (hits + z ** 2 / 2) / (count + z ** 2);
  const half = (z / (count + z ** 2)) * Math.sqrt((hits * (count - hits)) / count + z ** 2 / 4);
  return [middle - half, middle + half];
}

const percent = (share) => `${(100 * share).toFixed(1)} %`;

/** the text that a mutant replaces, on one line; Stryker reports places from 1 */
function replaced({ fileName, location: { start, end } }) {
  const lines = readFileSync(fileName, "utf8")
    .split("\n")
    .slice(start.line - 1, end.line);
  lines[lines.length - 1] = lines.at(-1).slice(0, end.column - 1);
  lines[0] = lines[0].slice(start.column - 1);
  return short(lines.join(" "));
}

function short(text) {
  const line = text.replaceAll(/\s+/g, " ");
  return line.length > 150 ? `${line.slice(0, 147)}…` : line;
}

const folder = folderOf(positionals);
const all = await mutantsOf(join("kernel-lib/src", folder), values.only);
if (all.length === 0) {
  console.error(`test:mutation: no mutant stands in a file of ${folder} whose path holds "${values.only}"`);
  process.exit(2);
}
const chosen = values.all ? all : sampleOf(all, Number(values.sample), values.seed);
const started = Date.now();
mkdirSync(out, { recursive: true });
const list = resolve(out, `${folder}-sample.json`);
writeFileSync(list, JSON.stringify(chosen.map(keyOf)));
process.env.DIALBOOK_MUTATION = folder;
process.env.DIALBOOK_MUTATION_SAMPLE = list;
if (values["all-tests"]) process.env.DIALBOOK_MUTATION_ALL_TESTS = "yes";
console.log(`${folder}: ${chosen.length} of ${all.length} mutants, seed ${values.seed}`);
const late = setTimeout(() => {
  console.error(`${folder}: not done after ${values.minutes} min; nothing is said about its score`);
  process.exit(1);
}, 60_000 * Number(values.minutes));

const results = await new Stryker({
  testRunner: "in-process",
  plugins: ["runner.mjs", "chosen-checker.mjs"].map((name) => resolve(import.meta.dirname, name)),
  checkers: ["chosen"],
  mutate: [...new Set(chosen.map(rangeOf))],
  ignorePatterns: ["/build", "/kernel-lib/dist", "/kernel-lib/page", "/notebooks", "/test/browser", "/test/bench"],
  tempDirName: join(out, "sandbox"),
  cleanTempDir: "always",
  disableTypeChecks: false,
  coverageAnalysis: "perTest",
  concurrency: 2,
  timeoutMS: 5_000,
  timeoutFactor: 3,
  maxTestRunnerReuse: 0,
  dryRunTimeoutMinutes: 15,
  reporters: ["json"],
  jsonReporter: { fileName: join(out, `${folder}-stryker.json`) },
  logLevel: "warn",
  allowConsoleColors: false,
  warnings: { slow: false },
}).runMutationTest();
clearTimeout(late);

const tried = results.filter(({ status }) => status !== "CompileError");
const counted = (...wanted) => tried.filter(({ status }) => wanted.includes(status));
const noticed = counted("Killed", "Timeout").length;
const missed = counted("Survived", "NoCoverage");
const valid = noticed + missed.length;
const [low, high] = interval(noticed, valid);
for (const mutant of missed) {
  const { fileName, location, mutatorName, replacement, status } = mutant;
  const place = `${relative(join(project, "kernel-lib/src"), fileName)}:${location.start.line}:${location.start.column}`;
  console.log(`${status}  ${place}  ${mutatorName}\n  - ${replaced(mutant)}\n  + ${short(replacement)}`);
}
const minutes = ((Date.now() - started) / 60_000).toFixed(1);
const sentence = `${folder}: ${noticed} of ${valid} noticed (${counted("Timeout").length} by time), ${percent(noticed / valid)}, 95 % interval ${percent(low)} to ${percent(high)}; ${tried.length - valid} could not be tried; ${minutes} min`;
console.log(sentence);
writeFileSync(join(out, `${folder}.json`), `${JSON.stringify({ sentence, tried }, null, 1)}\n`);
const least = Number(values["at-least"] ?? 0);
if (!(100 * high >= least)) {
  console.error(`${folder}: surely fewer are noticed than the ${least} % asked for`);
  process.exit(1);
}
process.exit(0);
