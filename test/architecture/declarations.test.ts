import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { resolve } from "node:path";
import { expect, it } from "vitest";

const require = createRequire(import.meta.url);
const root = resolve(import.meta.dirname, "../..");

type Compiler = typeof import("typescript");
/** the compiler that cells are checked with */
const cellCompiler = require("@tslab/typescript-for-tslab") as Compiler;

it("is built and checked with the pinned compilers", () => {
  expect(cellCompiler.version).toBe("5.0.4");
  expect((require("typescript") as Compiler).version).toBe("5.9.3");
});

function findings(files: readonly string[], strict: boolean): string[] {
  const ts = cellCompiler;
  const program = ts.createProgram(files, {
    target: ts.ScriptTarget.ES2022,
    lib: ["lib.es2022.d.ts"],
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Node10,
    esModuleInterop: true,
    types: ["node"],
    strict,
    noEmit: true,
    skipLibCheck: false,
  });
  return ts
    .getPreEmitDiagnostics(program)
    .filter((d) => d.file && !d.file.fileName.includes("/node_modules/"))
    .map((d) => `${d.file?.fileName}: ${ts.flattenDiagnosticMessageText(d.messageText, "\n")}`);
}

it("has public declarations that the cells' compiler reads without a fault, in one file", () => {
  const joined = resolve(root, "kernel-lib/dist/index.d.ts");
  expect(existsSync(joined), "run npm run build first").toBe(true);
  expect(findings([joined], true)).toEqual([]);
  const lines = readFileSync(joined, "utf8").split("\n");
  expect(lines.filter((line) => /from ['"]\./.test(line))).toEqual([]);
  expect(lines.filter((line) => line.includes("Float64Array"))).toEqual([]);
});

it("refuses mixed kinds under the cells' compiler too, which runs without strict", () => {
  expect(
    findings([resolve(root, "test/quantity/kinds.test-d.ts")], false).filter((f) => f.includes("ts-expect-error")),
  ).toEqual([]);
});
