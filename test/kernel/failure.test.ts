import { expect, it } from "vitest";
import { lateFailure, replyFailure } from "../../kernel-lib/src/kernel/failure.js";
import type { CodeCell } from "../../kernel-lib/src/kernel/notebook.js";
import { header, type Message } from "../../kernel-lib/src/kernel/wire.js";

const message = (content: Message["content"], metadata = {}): Message => ({
  identities: [],
  header: header("execute_reply", "s"),
  parent: {},
  metadata,
  content,
});
const cell = (...tags: string[]): CodeCell => ({
  cell_type: "code",
  id: "a",
  metadata: { tags },
  source: "",
  execution_count: null,
  outputs: [],
});
const stopped = { status: "error", ename: "RangeError", evalue: "over\n  3", place: { line: 4, column: 2 } };

it("finds nothing wrong with a cell that ran, or that was meant to stop and did", () => {
  expect(replyFailure("01", 2, cell(), message({ status: "ok" }))).toBeUndefined();
  expect(replyFailure("01", 2, cell("raises-exception"), message(stopped))).toBeUndefined();
});

it("names chapter, cell and line of a cell that stopped", () => {
  expect(replyFailure("01", 2, cell(), message(stopped))).toBe("01, cell 2, line 4: RangeError: over 3");
  const compile = { ...stopped, ename: "CompileError", evalue: "line 4, column 2: no such unit" };
  expect(replyFailure("01", 2, cell(), message(compile))).toBe(
    "01, cell 2, line 4: does not compile: column 2: no such unit",
  );
  expect(replyFailure("01", 2, cell(), message({ status: "aborted" }))).toBe("01, cell 2: was not run (aborted)");
});

it("finds a cell wrong that was meant to stop and ran", () => {
  expect(replyFailure("01", 2, cell("raises-exception"), message({ status: "ok" }))).toBe(
    "01, cell 2: ran, but is tagged raises-exception: it should be refused",
  );
});

it("takes ordinary output for no failure", () => {
  expect(lateFailure("01", 2, message({ text: "Error: x (thrown at line 3)" }))).toBeUndefined();
});
