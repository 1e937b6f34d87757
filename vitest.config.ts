import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["test/**/*.test.ts"],
    exclude: ["test/slow/**", "test/browser/**"],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    typecheck: {
      enabled: true,
      checker: "node_modules/typescript/bin/tsc",
      include: ["test/**/*.test-d.ts"],
      tsconfig: "./tsconfig.json",
    },
    coverage: { include: ["kernel-lib/src/**"], reportsDirectory: "build/coverage" },
  },
});
