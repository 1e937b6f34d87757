import { defineConfig } from "vitest/config";

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
          exclude: ["test/slow/**", "test/browser/**"],
          // files of one worker share the modules they load: half of the time went into loading them anew
          isolate: false,
          testTimeout: 30_000,
          hookTimeout: 60_000,
          typecheck: {
            enabled: true,
            checker: "node_modules/typescript/bin/tsc",
            include: ["test/**/*.test-d.ts"],
            tsconfig: "./tsconfig.json",
          },
        },
      },
      project("slow", ["test/slow/**/*.test.ts"], [], 600_000),
      project("browser", ["test/browser/**/*.test.ts"], [], 120_000),
    ],
  },
});
