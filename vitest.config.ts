import { defineConfig } from "vitest/config";

/** tests beside the others of their folder that take seconds each: they run with the slow ones */
const long = [
  "test/decision/correction.test.ts",
  "test/decision/part-and-straightedge.test.ts",
  "test/decision/recovery.test.ts",
  "test/facing/bedding.test.ts",
  "test/facing/replay-mutants.test.ts",
  "test/form/coverage.test.ts",
  "test/form/level-network.test.ts",
  "test/kernel/quiet-markup.test.ts",
  "test/kernel/runner.test.ts",
];

/** `npm test` runs "fast"; the others have a script of their own and CI runs them too */
const project = (name: string, include: string[], exclude: string[], timeout: number) => ({
  test: { name, include, exclude, testTimeout: timeout, hookTimeout: timeout },
});

export default defineConfig({
  cacheDir: "build/cache",
  test: {
    // both cores of a small machine: left alone, one of two is kept free
    maxWorkers: 2,
    // counts for a machine, beside those for a person, where CI asks for them
    reporters: process.env.DIALBOOK_RESULTS
      ? ["default", ["json", { outputFile: process.env.DIALBOOK_RESULTS }]]
      : ["default"],
    coverage: { include: ["kernel-lib/src/**"], reportsDirectory: "build/coverage" },
    projects: [
      {
        test: {
          name: "fast",
          include: ["test/**/*.test.ts"],
          exclude: ["test/slow/**", "test/browser/**", ...long],
          // files of one worker share the modules they load: half of the time went into loading them anew
          isolate: false,
          // many times what the longest takes: the machine may have other work
          testTimeout: 90_000,
          hookTimeout: 180_000,
        },
      },
      project("slow", ["test/slow/**/*.test.ts", ...long], [], 600_000),
      project("browser", ["test/browser/**/*.test.ts"], [], 120_000),
    ],
  },
});
