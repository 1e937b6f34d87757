import { describe, expect, it } from "vitest";
import type { Notebook, Output } from "../../kernel-lib/src/kernel/notebook.js";
import { repeatText } from "../../kernel-lib/src/kernel/repeat-text.js";
import { compareRuns } from "../../kernel-lib/src/kernel/same-numbers.js";
import { versionChanges } from "../../kernel-lib/src/kernel/versions-here.js";
import { code } from "./report-chapter-sample.js";

const book = (...outputs: (readonly Output[])[]): Notebook => ({
  cells: outputs.map((list, i) => code(`cell(${i})`, list, i + 1)),
  metadata: {},
  nbformat: 4,
  nbformat_minor: 5,
});
const says = (text: string): Output => ({
  output_type: "execute_result",
  execution_count: 1,
  metadata: {},
  data: { "text/plain": text, "text/html": `<p>${Math.random()}</p>` },
});
const draws = (z: unknown): Output => ({
  output_type: "display_data",
  metadata: {},
  data: { "application/vnd.plotly.v1+json": { data: [{ z }], layout: { title: { text: "the table<br>as found" } } } },
});
const flat = "flatness 31.4 µm ± 4.8 µm (k = 2.0)\nbow −12.5 µm";

describe("two runs of a notebook", () => {
  it("are the same where every printed number, word and figure is", () => {
    const run = () => book([says(flat)], [draws([1, 2, null]), { output_type: "stream", name: "stdout", text: "7\n" }]);
    expect(compareRuns(run(), run())).toEqual({ cells: 2, numbers: 5, figures: 1, differences: [] });
  });

  it.each([
    ["a last digit", "flatness 31.5 µm ± 4.8 µm (k = 2.0)\nbow −12.5 µm", "number"],
    ["a sign", "flatness 31.4 µm ± 4.8 µm (k = 2.0)\nbow 12.5 µm", "number"],
    ["a digit more", "flatness 31.40 µm ± 4.8 µm (k = 2.0)\nbow −12.5 µm", "number"],
    ["a power of ten", "flatness 31.4e-3 µm ± 4.8 µm (k = 2.0)\nbow −12.5 µm", "number"],
    ["a line less", "flatness 31.4 µm ± 4.8 µm (k = 2.0)", "number"],
    ["a unit", "flatness 31.4 mm ± 4.8 µm (k = 2.0)\nbow −12.5 µm", "words"],
    ["a verdict", "flatness 31.4 µm ± 4.8 µm (k = 2.0)\nhollow −12.5 µm", "words"],
  ])("differ by %s", (_name, other, kind) => {
    const { differences } = compareRuns(book([says(flat)]), book([says(other)]));
    expect(differences.map((d) => [d.cell, d.kind])).toEqual([[1, kind]]);
  });

  it("agree in a figure to 1e-9 of a number's size, and no further", () => {
    const heights = (by: number) => book([draws([1000 * (1 + by), 0.5, null])]);
    expect(compareRuns(heights(0), heights(5e-10)).differences).toEqual([]);
    expect(compareRuns(heights(0), heights(5e-9)).differences).toEqual([
      { cell: 1, kind: "figure", was: 'figure "the table"', now: 'figure "the table"' },
    ]);
    for (const z of [[1000, 0.5], [1000, 0.5, 0], [1000, "0.5", null], undefined]) {
      expect(compareRuns(heights(0), book([draws(z)])).differences).toHaveLength(1);
    }
    expect(compareRuns(heights(0), book([])).differences).toHaveLength(1);
  });

  it("differ where a cell stopped, was not run or is not there", () => {
    const failed = book([{ output_type: "error", ename: "Error", evalue: "no", traceback: [] }]);
    expect(compareRuns(book([says("1")]), failed).differences).toEqual([
      { cell: 1, kind: "stopped", was: "ran", now: "stopped" },
    ]);
    const notRun: Notebook = { ...book(), cells: [code("cell(0)", [], null)] };
    expect(compareRuns(book([says("1")]), notRun).differences[0]?.now).toBe("not run");
    expect(compareRuns(book([says("1")]), book()).differences[0]?.now).toBe("no such cell");
  });

  it("may have other versions, but no other data", () => {
    const table = (node: string, sum: string) =>
      book([
        says(`computed with\nwhat  version or state  checksum\nNode  ${node}  –\na.csv  open sheet  SHA-256 ${sum}…`),
      ]);
    expect(compareRuns(table("20.20.2", "ab12"), table("24.1.0", "ab12")).differences).toEqual([]);
    expect(compareRuns(table("20.20.2", "ab12"), table("20.20.2", "ab13")).differences).toHaveLength(1);
  });
});

describe("what a repeated run is told as", () => {
  const compared = (other: string) => [
    {
      title: "The table",
      comparison: compareRuns(book([says(flat)], [draws([1])]), book([says(other)], [draws([1])])),
    },
  ];

  it("says same numbers in one line", () => {
    expect(repeatText(compared(flat), [])).toEqual({
      same: true,
      text: "versions: all the same\nsame numbers: 4 numbers in 2 cells and 1 figure compared, all as packed",
    });
  });

  it("shows each difference, and which versions are others", () => {
    const versions = versionChanges({ Node: "20.20.2", tslab: "1" }, { Node: "24.1.0", tslab: "1", tar: "7" });
    expect(repeatText(compared(flat.replace("31.4", "31.5")), versions)).toEqual({
      same: false,
      text: [
        "The table",
        "  cell 1  was  flatness 31.4 µm ± 4.8 µm (k = 2.0)",
        "          now  flatness 31.5 µm ± 4.8 µm (k = 2.0)",
        "other versions:",
        "  Node: 20.20.2 there, 24.1.0 here",
        "  tar: not used there, 7 here",
        "other numbers: 4 numbers in 2 cells and 1 figure compared, 1 differ",
      ].join("\n"),
    });
    expect(repeatText(compared(flat.replace("bow", "hollow")), []).text).toContain("same numbers, other words: ");
  });

  it("counts what is too much to show", () => {
    const many = (n: number) => book([says(Array.from({ length: 20 }, (_, i) => `height ${i + n}`).join("\n"))]);
    const { text } = repeatText([{ title: "T", comparison: compareRuns(many(0), many(1)) }], []);
    expect(text).toContain("          and 8 more\n");
  });
});
