// What a test file imports from vitest, as far as the tests of the counted folders use it: files are read into a plain
// list of tests, which can then be run in any order. Something else a file asks for is undefined and fails the dry run.
import { format } from "node:util";
import { ASYMMETRIC_MATCHERS_OBJECT, chai, JestAsymmetricMatchers, JestChaiExpect, JestExtend } from "@vitest/expect";

for (const plugin of [JestExtend, JestChaiExpect, JestAsymmetricMatchers]) chai.use(plugin);
const expect = Object.assign(
  (value, message) => chai.expect(value, message),
  chai.expect,
  globalThis[ASYMMETRIC_MATCHERS_OBJECT],
);

const newSuite = (parent, name) => ({ parent, name, beforeAll: [], afterAll: [], beforeEach: [], afterEach: [] });

/** `$name` is a field of the row, `%s` and its like the next value of it; the name only tells tests apart */
function titled(title, row) {
  const text = title.replaceAll(/\$(\w+)/g, (_, field) => String(row[0]?.[field]));
  const places = text.match(/%[sdifjoO]/g)?.length ?? 0;
  return format(text, ...row.slice(0, places));
}

const eachOf = (declare) => (rows) => (title, body, limit) => {
  for (const given of rows) {
    const row = Array.isArray(given) ? given : [given];
    declare(titled(title, row), () => body(...row), limit);
  }
};

/** Collects the tests that are declared while it is the one in use: `{ tests, api }`, `api` in place of vitest. */
export function collector() {
  const tests = [];
  let suite = newSuite(undefined, "");

  function describe(name, body) {
    const outer = suite;
    suite = newSuite(outer, name);
    try {
      body();
    } finally {
      suite = outer;
    }
  }
  describe.each = eachOf(describe);

  function it(name, body) {
    if (typeof body !== "function") throw new Error(`"${name}": a test is a name and a function here`);
    tests.push({ name: fullName(suite, name), suite, body });
  }
  const skipped = () => {};
  skipped.each = () => skipped;
  it.each = eachOf(it);
  it.skip = skipped;
  it.runIf = (wanted) => (wanted ? it : skipped);
  it.skipIf = (unwanted) => (unwanted ? skipped : it);

  const hook = (kind) => (body) => {
    suite[kind].push(body);
  };
  const hooks = Object.fromEntries(
    ["beforeAll", "afterAll", "beforeEach", "afterEach"].map((kind) => [kind, hook(kind)]),
  );
  return { tests, api: { describe, it, test: it, expect, ...hooks } };
}

const fullName = (suite, name) => [...suitesOf(suite).map((outer) => outer.name), name].filter(Boolean).join(" ");

/** from the outermost to the one given */
function suitesOf(suite) {
  return suite ? [...suitesOf(suite.parent), suite] : [];
}

/** Runs one test with its hooks; throws what fails. `begun` holds the suites whose `beforeAll` has been. */
export async function runTest({ suite, body }, begun) {
  const suites = suitesOf(suite);
  for (const outer of suites) {
    if (begun.has(outer)) continue;
    begun.add(outer);
    for (const before of outer.beforeAll) await before();
  }
  try {
    for (const outer of suites) for (const before of outer.beforeEach) await before();
    await body();
  } finally {
    for (const outer of suites.reverse()) for (const after of outer.afterEach) await after();
  }
}

export async function endSuites(begun) {
  for (const suite of [...begun].reverse()) for (const after of suite.afterAll) await after();
}
