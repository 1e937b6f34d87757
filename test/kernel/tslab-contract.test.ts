import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type Converter, createConverter, isCompleteCode } from "tslab/dist/converter.js";
import { createExecutor } from "tslab/dist/executor.js";
import * as jupyter from "tslab/dist/jupyter.js";
import { expect, it, vi } from "vitest";
import { project } from "./workplace.js";

const unused = (): never => {
  throw new Error("is not part of this test");
};

/** an executor on a converter that compiles every cell to the text given */
function executing(converted: Partial<ReturnType<Converter["convert"]>>) {
  const node: Converter = {
    convert: () => ({ diagnostics: [], ...converted }),
    inspect: unused,
    complete: unused,
    addModule: unused,
    close: () => undefined,
  };
  const log = vi.fn();
  const error = vi.fn();
  return {
    executor: createExecutor(project, { node, browser: node, close: () => undefined }, { log, error }),
    log,
    error,
  };
}

it("is pinned to the release whose exports are relied on", () => {
  const { version } = JSON.parse(readFileSync(join(project, "node_modules/tslab/package.json"), "utf8"));
  const { dependencies } = JSON.parse(readFileSync(join(project, "kernel-lib/package.json"), "utf8"));
  expect([version, dependencies.tslab]).toEqual(["1.0.22", "1.0.22"]);
});

it("exports what the kernel is built on", () => {
  expect([createConverter, createExecutor, isCompleteCode, jupyter.JupyterHandlerImpl].map((it) => typeof it)).toEqual(
    new Array(4).fill("function"),
  );
  const methods = ["handleComplete", "handleInspect", "handleIsComplete", "handleKernel"] as const;
  expect(methods.map((name) => typeof jupyter.JupyterHandlerImpl.prototype[name])).toEqual(
    new Array(4).fill("function"),
  );
  expect(jupyter.lastWriteDisplayData).toBeNull();
});

it("calls log with the value of the last expression only", async () => {
  const { executor, log, error } = executing({ output: "exports.tsLast = 6 * 7", lastExpressionVar: "tsLast" });
  expect(await executor.execute("6 * 7")).toBe(true);
  expect(log.mock.calls).toEqual([[42]]);
  expect(error).not.toHaveBeenCalled();
});

it("calls error with what a cell throws, at once or later", async () => {
  const now = executing({ output: "throw 1" });
  expect(await now.executor.execute("throw 1")).toBe(false);
  expect(now.error.mock.calls).toEqual([[1]]);
  const later = executing({ output: "await null; throw 2", hasToplevelAwait: true });
  expect(await later.executor.execute("…")).toBe(false);
  expect(later.error.mock.calls).toEqual([[2]]);
});

it("calls error with one format for what does not compile", async () => {
  const at = { offset: 3, line: 0, character: 3 };
  const { executor, error } = executing({
    diagnostics: [{ start: at, end: at, messageText: "no", category: 1, code: 1 }],
  });
  expect(await executor.execute("…")).toBe(false);
  expect(error.mock.calls).toEqual([["%s%d:%d - %s", "", 1, 4, "no"]]);
});

it("puts a prefix of known length before a cell, so that a place in a stack can be counted back", async () => {
  for (const [hasToplevelAwait, prefix] of [
    [false, "(function(exports, require) { "],
    [true, "(async function(exports, require) { "],
  ] as const) {
    const { executor, error } = executing({ output: "throw new Error()", hasToplevelAwait });
    await executor.execute("…");
    expect(String(error.mock.calls[0]?.[0].stack)).toContain(`:1:${prefix.length + 7}`);
  }
});
