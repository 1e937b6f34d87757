import { describe, expect, it } from "vitest";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { lineToWrite } from "../../kernel-lib/src/survey/column-map.js";
import type { SheetColumns } from "../../kernel-lib/src/survey/columns.js";
import { columnsOfRows, orderAt, rowAt, rowsWhere, wordAt } from "../../kernel-lib/src/survey/columns.js";
import { short } from "../../kernel-lib/src/survey/gauge-study-notes.js";
import { isRepeated } from "../../kernel-lib/src/survey/repeated-cells.js";

describe("rows put side by side", () => {
  const rows = [
    { place: "A1", pass: 2, x: 1, y: 2, z: 3, order: 9, time: 4, temperature: 20, approach: "+x", note: "n" },
    { place: "datum", pass: 1 },
    { place: "A1", pass: 1, x: 1, y: 2, approach: "-x" },
  ];
  it("and taken apart again are the same rows", () => {
    const columns = columnsOfRows(rows, false);
    expect(rows.map((_, i) => rowAt(columns, i))).toEqual(rows);
    expect(columns.labels).toEqual(["A1", "datum"]);
    expect([...Array.from(columns.place)]).toEqual([0, 1, 0]);
    expect([0, 1, 2].map((i) => [orderAt(columns, i), wordAt(columns.approach, i), wordAt(columns.note, i)])).toEqual([
      [9, "+x", "n"],
      [undefined, undefined, undefined],
      [undefined, "-x", undefined],
    ]);
    expect([...rowsWhere(columns, (i) => i !== 1)]).toEqual([0, 2]);
    expect(wordAt(undefined, 0)).toBeUndefined();
  });
  it("say nothing where nothing stands", () => {
    const bare = columnsOfRows([{ place: "A1", pass: 1 }], true);
    expect([bare.order, bare.time, bare.temperature, bare.approach, bare.note]).toEqual([
      "as written",
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    expect(orderAt(bare, 0)).toBe(1);
    expect(rowAt(bare, 0)).toEqual({ place: "A1", pass: 1, order: 1 });
    expect(columnsOfRows([{ place: "A1", pass: 1 }], false).order).toBeUndefined();
  });
});

describe("a cell that is read twice", () => {
  const columns = (
    cells: readonly (readonly [string, number, number?])[],
    order: "as written" | undefined | "column",
  ) => {
    const made = columnsOfRows(
      cells.map(([place, pass, at]) => ({ place, pass, ...(at === undefined ? {} : { order: at }) })),
      order === "as written",
    );
    return (
      order === "column" ? { ...made, order: Float64Array.from(cells, (c) => c[2] ?? Number.NaN) } : made
    ) as SheetColumns;
  };
  it("is one place twice in a pass, a datum never", () => {
    for (const order of ["as written", undefined] as const) {
      expect(
        isRepeated(
          columns(
            [
              ["A", 1],
              ["A", 1],
            ],
            order,
          ),
        ),
      ).toBe(true);
      expect(
        isRepeated(
          columns(
            [
              ["A", 1],
              ["A", 2],
              ["B", 1],
            ],
            order,
          ),
        ),
      ).toBe(false);
      expect(
        isRepeated(
          columns(
            [
              ["A", 1],
              ["B", 2],
              ["A", 1],
            ],
            order,
          ),
        ),
      ).toBe(true);
      expect(
        isRepeated(
          columns(
            [
              ["A", 1],
              ["B", 1],
              ["A", 2],
              ["A", 2],
            ],
            order,
          ),
        ),
      ).toBe(true);
      expect(
        isRepeated(
          columns(
            [
              ["datum", 1],
              ["datum", 1],
              ["A", 1],
            ],
            order,
          ),
        ),
      ).toBe(false);
    }
  });
  it("is told apart by a column order, blank ones not", () => {
    const repeated = (...cells: [string, number, number?][]) => isRepeated(columns(cells, "column"));
    expect(repeated(["A", 1, 1], ["A", 1, 2], ["A", 1, 3])).toBe(false);
    expect(repeated(["A", 1, 2], ["A", 1, 1])).toBe(false);
    expect(repeated(["A", 1, 2], ["B", 1, 2])).toBe(false);
    expect(repeated(["A", 1, 2], ["A", 2, 2])).toBe(false);
    expect(repeated(["A", 1, 2], ["B", 1, 1], ["A", 1, 2])).toBe(true);
    expect(repeated(["A", 1], ["A", 1])).toBe(true);
    expect(repeated(["A", 1], ["A", 1, 4])).toBe(false);
    expect(repeated(["A", 1, 4], ["A", 1])).toBe(false);
    expect(repeated(["A", 1, 4], ["A", 1], ["A", 1, 3], ["A", 1])).toBe(true);
    expect(repeated(["datum", 1], ["datum", 1])).toBe(false);
    expect(repeated(["datum", 1, 3], ["datum", 1, 3])).toBe(true);
    expect(repeated(["B", 1, 5], ["A", 1, 4], ["A", 1, 5], ["B", 1, 4])).toBe(false);
  });
  it("is found where passes and places are far too many for a table of cells", () => {
    // 1500 places, each in a pass of its own: 2.25 million cells
    const far = Array.from({ length: 1500 }, (_, i): [string, number] => [`P${i}`, i + 1]);
    expect(isRepeated(columns(far, undefined))).toBe(false);
    expect(isRepeated(columns([...far, ["P7", 8]], undefined))).toBe(true);
    expect(isRepeated(columns([...far, ["datum", 8], ["datum", 8]], undefined))).toBe(false);
  });
});

it("a length in a sentence has three digits, in mm from a thousand µm on", () => {
  expect([um(999.4), um(1000), mm(-2.5), um(-7.12345), um(0)].map(short)).toEqual([
    "999 µm",
    "1 mm",
    "−2.5 mm",
    "−7.12 µm",
    "0 µm",
  ]);
});

it("the line that reads a foreign sheet names its first four columns", () => {
  expect(lineToWrite(["a".repeat(25), 'b"'])).toBe(
    `{ columns: { place: "${"a".repeat(20)}", x: { heading: "b\\"", unit: "mm" }, y: { heading: "Y", unit: "mm" }, z: { heading: "Z", unit: "um" }, pass: 1 } }`,
  );
  expect(lineToWrite([])).toContain('place: "Point", x: { heading: "X", unit: "mm" }, y: { heading: "Y"');
});
