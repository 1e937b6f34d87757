import { defineConfig } from "vitest/config";
import { testsOf } from "./folders.mjs";

// The tests that a mutant of one folder must fail: no types, no notebooks, no kernels. `loading` is a reporter that turns
// a test file which no longer loads into a failed test: Stryker counts failed tests only.
const loading = {
  onTestModuleEnd({ task }) {
    if (task.result?.state !== "fail" || task.tasks.length > 0) return;
    task.tasks.push({
      type: "test",
      mode: "run",
      id: `${task.id}_loading`,
      name: "loads",
      file: task,
      suite: undefined,
      meta: {},
      result: task.result,
    });
  },
};

export default defineConfig({
  cacheDir: "build/cache",
  test: {
    ...testsOf(process.env.DIALBOOK_MUTATION ?? ""),
    reporters: [loading],
    // a worker for each file: a mutant that is on in one must not be on while the next is loaded
    isolate: true,
    maxWorkers: 1,
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
