import { expect, it } from "vitest";
import { changeLines, changesBetween, ranWhole } from "../../kernel-lib/src/kernel/changes.js";
import type { CodeCell, Notebook } from "../../kernel-lib/src/kernel/notebook.js";

const cell = (id: string, ...texts: readonly string[]): CodeCell => ({
  cell_type: "code",
  id,
  metadata: {},
  source: "",
  execution_count: 1,
  outputs: texts.map((text) => ({
    output_type: "execute_result",
    execution_count: 1,
    metadata: {},
    data: { "text/plain": text },
  })),
});
const notebook = (...cells: readonly CodeCell[]): Notebook => ({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 });

it("names what a changed reading changed, and nothing else", () => {
  const before = notebook(cell("a", "table-before.csv: 78 places"), cell("b", "flatness 31.4 µm\nhighest A2"));
  const after = notebook(cell("a", "table-before.csv: 78 places"), cell("b", "flatness 38.0 µm\nhighest A2"));
  expect(changesBetween(before, after)).toEqual([{ cell: 2, gone: ["flatness 31.4 µm"], now: ["flatness 38.0 µm"] }]);
  expect(changeLines("1. The table", changesBetween(before, after))).toEqual([
    "1. The table",
    "  cell 2  was  flatness 31.4 µm",
    "          now  flatness 38.0 µm",
  ]);
  expect(changeLines("1. The table", changesBetween(before, before))).toEqual([]);
});

it("is not confused by a cell put in between, nor by one that stopped", () => {
  const stopped: CodeCell = {
    ...cell("c"),
    outputs: [{ output_type: "error", ename: "MeasurementError", evalue: "no", traceback: [] }],
  };
  const before = notebook(cell("b", "3"), cell("c", "4"));
  expect(changesBetween(before, notebook(cell("new", "1"), cell("b", "3"), stopped))).toEqual([]);
  expect(changesBetween(before, notebook({ ...cell("b"), execution_count: null }))).toEqual([]);
  expect([ranWhole(before), ranWhole(notebook(stopped))]).toEqual([true, false]);
});

it("counts what it does not list", () => {
  const texts = Array.from({ length: 20 }, (_, i) => `line ${i}`).join("\n");
  const lines = changeLines("x", changesBetween(notebook(cell("a", "old")), notebook(cell("a", texts))));
  expect(lines).toEqual([
    "x",
    "  cell 1  was  old",
    "          now  line 0",
    "          now  line 1",
    "          now  line 2",
    "          and 17 more lines",
  ]);
});

it("begins a long line where it differs", () => {
  const long = (value: string) => `${"the same words ".repeat(20)}and ${value} µm at the end`;
  const lines = changeLines("x", changesBetween(notebook(cell("a", long("3.1"))), notebook(cell("a", long("3.4")))));
  expect(lines).toEqual([
    "x",
    "  cell 1  was  … same words the same words and 3.1 µm at the end",
    "          now  … same words the same words and 3.4 µm at the end",
  ]);
});
