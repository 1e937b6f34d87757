/** The folders whose mutants are counted, in the order of the code map, and the tests that look at each. */
const tests = {
  quantity: ["test/quantity/**/*.test.ts"],
  numerics: ["test/numerics/**/*.test.ts"],
  uncertainty: ["test/uncertainty/**/*.test.ts"],
  survey: ["test/survey/**/*.test.ts"],
  form: ["test/form/**/*.test.ts"],
  axis: ["test/axis/**/*.test.ts"],
  conformity: ["test/conformity/**/*.test.ts"],
  facing: ["test/facing/**/*.test.ts"],
};

/** files that take long and say about a single mutant what shorter ones say too */
const left = [];

export const folders = Object.keys(tests);

export const testsOf = (folder) => ({ include: tests[folder] ?? [], exclude: left });
