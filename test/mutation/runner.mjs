// Stryker's test runner for this project. The tests run within the worker's own process: every module is compiled once
// and evaluated afresh for each mutant, with the mutant on before the first line is read. Whatever a mutant does while a
// file loads is thus seen like anything else, and nothing it left behind reaches the next one.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { resolve } from "node:path";
import { declareClassPlugin, PluginKind } from "@stryker-mutator/api/plugin";
import {
  DryRunStatus,
  determineHitLimitReached,
  TestStatus,
  toMutantRunResult,
} from "@stryker-mutator/api/test-runner";
import { testFilesOf } from "./folders.mjs";
import { freshModules } from "./modules.mjs";
import { collector, endSuites, runTest } from "./tests.mjs";

/** a test that takes more of the processor waits until the quick ones of every file have had their say */
const slowMs = 100;
/** and one that takes more than this is not asked at all, unless all are */
const longMs = process.env.DIALBOOK_MUTATION_ALL_TESTS ? Number.POSITIVE_INFINITY : 1500;
const timesFile = "test-times.json";
const stryker = (globalThis.__stryker__ ??= {});

const message = (error) => String(error?.message ?? error);
const passed = (test, timeSpentMs) => ({ id: test.id, name: test.name, status: TestStatus.Success, timeSpentMs });
const failed = (test, error) => ({
  id: test.id,
  name: test.name,
  status: TestStatus.Failed,
  timeSpentMs: 0,
  failureMessage: message(error),
});

/** of this process, in ms: on a machine that others use too it says more than the clock */
function processorTime() {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** One go through tests, with modules of its own. */
class Session {
  begun = new Set();
  #standIns = {};
  #metInReading = false;
  #load = freshModules(this.#standIns);

  /** the tests of a file; throws where it does not load */
  read(file) {
    const { tests, api } = collector();
    this.#standIns.vitest = api;
    this.#load(resolve(file));
    if (tests.length === 0) throw new Error(`${file} holds no test`);
    return tests.map((test, n) => ({ ...test, id: `${file}#${n} ${test.name}` }));
  }

  /** Those of its tests that are wanted, and where the mutant was met while this file or one before was read also any the dry
   * run did not see: what a module does while it loads can change the names of tests. */
  wanted(file, { ids, long }) {
    const hits = stryker.hitCount;
    const tests = this.read(file);
    this.#metInReading ||= stryker.hitCount !== hits;
    return tests.filter(({ id }) => ids.has(id) || (this.#metInReading && !long.has(id)));
  }

  async run(test) {
    const start = performance.now();
    try {
      await runTest(test, this.begun);
      return passed(test, performance.now() - start);
    } catch (error) {
      return failed(test, error);
    }
  }

  async end() {
    try {
      await endSuites(this.begun);
      return [];
    } catch (error) {
      return [failed({ id: "end", name: "what stands after all tests" }, error)];
    }
  }
}

class InProcessRunner {
  capabilities() {
    return { reloadEnvironment: true };
  }

  async init() {
    this.files = testFilesOf(process.env.DIALBOOK_MUTATION);
    // one counterexample is enough
    createRequire(resolve("package.json"))("fast-check").configureGlobal({ endOnFailure: true });
  }

  /** First each file with modules of its own, for what it covers and how long it takes; then all together, the way a mutant meets them. */
  async dryRun() {
    stryker.activeMutant = undefined;
    stryker.hitCount = undefined;
    stryker.mutantCoverage = { static: {}, perTest: {} };
    const times = { loads: {}, tests: {}, long: [] };
    for (const file of this.files) {
      const bad = await this.#cover(file, times);
      if (bad) return { status: DryRunStatus.Complete, tests: [bad] };
    }
    writeFileSync(timesFile, JSON.stringify(times));
    const mutantCoverage = stryker.mutantCoverage;
    stryker.mutantCoverage = { static: {}, perTest: {} };
    return { status: DryRunStatus.Complete, tests: await this.#tests(this.#order()), mutantCoverage };
  }

  async #cover(file, times) {
    const session = new Session();
    const start = processorTime();
    const whileLoading = `${file}#`;
    stryker.currentTestId = whileLoading;
    const tests = session.read(file);
    times.loads[file] = processorTime() - start;
    const { perTest } = stryker.mutantCoverage;
    const asked = [];
    for (const test of tests) {
      stryker.currentTestId = test.id;
      const began = processorTime();
      const result = await session.run(test);
      if (result.status === TestStatus.Failed) return result;
      const took = processorTime() - began;
      if (took > longMs) {
        delete perTest[test.id];
        times.long.push(test.id);
      } else {
        times.tests[test.id] = took;
        asked.push(test);
      }
    }
    stryker.currentTestId = undefined;
    shareLoading(perTest, whileLoading, asked);
    const [bad] = await session.end();
    return bad;
  }

  async mutantRun({ activeMutant, testFilter, hitLimit }) {
    Object.assign(stryker, { activeMutant: activeMutant.id, hitCount: 0, hitLimit, currentTestId: undefined });
    const tests = await this.#tests(this.#order(testFilter));
    const late = determineHitLimitReached(stryker.hitCount, hitLimit);
    return toMutantRunResult(late ?? { status: DryRunStatus.Complete, tests });
  }

  /** The files that hold the tests wanted, the quickest first. */
  #order(wanted) {
    this.times ??= JSON.parse(readFileSync(timesFile, "utf8"));
    const { loads, tests, long } = this.times;
    const ids = new Set(wanted ?? Object.keys(tests));
    const cost = new Map();
    for (const id of ids) {
      const file = id.slice(0, id.indexOf("#"));
      cost.set(file, (cost.get(file) ?? loads[file]) + tests[id]);
    }
    return { ids, long: new Set(long), files: [...cost].sort((a, b) => a[1] - b[1]).map(([file]) => file) };
  }

  /** Results up to the first failure. */
  async #tests(order) {
    const session = new Session();
    const results = [];
    const slow = [];
    const timeOf = ({ id }) => this.times.tests[id] ?? 0;
    const quickestFirst = (a, b) => timeOf(a) - timeOf(b);
    const allPass = async (tests) => {
      for (const test of tests.sort(quickestFirst)) {
        results.push(await session.run(test));
        if (results.at(-1).status === TestStatus.Failed) return false;
      }
      return true;
    };
    for (const file of order.files) {
      let tests;
      try {
        tests = session.wanted(file, order);
      } catch (error) {
        return [...results, failed({ id: `${file}#`, name: "loads" }, error)];
      }
      slow.push(...tests.filter((test) => timeOf(test) > slowMs));
      if (!(await allPass(tests.filter((test) => timeOf(test) <= slowMs)))) return results;
    }
    if (!(await allPass(slow))) return results;
    return [...results, ...(await session.end())];
  }
}

/** What was covered while a file was read is covered by each of its tests. */
function shareLoading(perTest, whileLoading, tests) {
  const hits = perTest[whileLoading] ?? {};
  delete perTest[whileLoading];
  for (const [n, { id }] of tests.entries()) {
    const covered = (perTest[id] ??= {});
    for (const mutant of Object.keys(hits)) covered[mutant] = (covered[mutant] ?? 0) + (n === 0 ? hits[mutant] : 1);
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.TestRunner, "in-process", InProcessRunner)];
