import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cutCells } from "../../kernel-lib/src/survey/cells.js";
import { SheetText } from "../../kernel-lib/src/survey/sheet-text.js";
import { refusal } from "../refusal.js";

const text =
  '\uFEFF# title: one; two\r\n# vice:\r\n"# note: a, b,",,\r\n\r\nplace;x/mm;y/mm;z/um;pass;note\r\nA1; 0;0;;1;"left; ""far"""\r\nA2;10;0;4 ;1;\r\n;;;;;\r\nA3;20;0;;1;"two\nlines"';

describe("the text of a sheet", () => {
  it("comes back byte for byte", () => {
    for (const file of ["blank-sheet.csv", "table-before.csv", "corner-check-grid.csv", "positioning-x.csv"]) {
      const said = readFileSync(`data/${file}`, "utf8");
      expect(SheetText.of(said, file).text).toBe(said);
    }
    expect(SheetText.of(text, "x.csv").text).toBe(text);
  });

  it("gives the cells that the reader of sheets gives", () => {
    const sheet = SheetText.of(text, "x.csv");
    const { table, preamble } = cutCells(text, "x.csv");
    expect(sheet.heading).toEqual(table[0]!.cells);
    expect(sheet.preamble).toEqual(preamble);
    for (let i = 0; i < sheet.rows; i++) expect(sheet.row(i)).toEqual(table[i + 1]!.cells);
    expect(sheet.line(0)).toBe(6);
    expect(sheet.line(2)).toBe(9);
  });

  it("changes one cell and keeps every other byte", () => {
    const sheet = SheetText.of(text, "x.csv");
    expect(sheet.edited([{ row: 1, column: 3, to: "-2.5" }]).text).toBe(text.replace("4 ;1;", "-2.5;1;"));
    expect(sheet.edited([{ row: 0, column: 3, to: "7" }]).text).toBe(text.replace("0;0;;1", "0;0;7;1"));
    expect(sheet.edited([{ row: 2, column: 5, to: 'a; "b"' }]).text).toBe(text.replace('"two\nlines"', '"a; ""b"""'));
    expect(sheet.edited([{ row: 0, column: 3, to: "7" }]).edited([{ row: 0, column: 3, to: "" }]).text).toBe(text);
  });

  it("changes what a line above the heading says, and adds one that is missing above the heading", () => {
    const sheet = SheetText.of(text, "x.csv");
    expect(sheet.edited([{ head: "Vice", to: " off\n " }]).text).toBe(text.replace("# vice:", "# vice: off"));
    expect(sheet.edited([{ head: "title", to: "" }]).text).toBe(text.replace("# title: one; two", "# title:"));
    expect(sheet.edited([{ head: "vice", to: "off," }]).text).toBe(text.replace("# vice:", '"# vice: off,"'));
    expect(sheet.edited([{ head: "note", to: "c" }]).text).toBe(text.replace('"# note: a, b,",,', '"# note: c",,'));
    const more = sheet.edited([{ head: "feet", to: "tight" }, { note: "x" }, { row: 0, column: 3, to: "1" }]);
    expect(more.text).toBe(
      text.replace("place;x", "# feet: tight\r\n# note: x\r\nplace;x").replace("0;0;;1", "0;0;1;1"),
    );
    expect(more.row(0)[3]).toBe("1");
    expect(sheet.head.map(({ key, value }) => [key, value])).toEqual([
      ["title", "one; two"],
      ["vice", ""],
      ["note", "a, b,"],
    ]);
  });

  it("writes any text into a cell so that the reader reads that text back", () => {
    const cell = fc.string({ maxLength: 12 }).map((s) => s.replace(/[\0\r\n]/g, " ").trim());
    fc.assert(
      fc.property(cell, fc.constantFrom(",", ";", "\t"), fc.integer({ min: 0, max: 2 }), (to, mark, column) => {
        const sheet = SheetText.of(`place${mark}z${mark}note\nA1${mark}1${mark}n\nA2${mark}2${mark}n\n`, "x.csv");
        const made = sheet.edited([{ row: 0, column, to }]).text;
        const cells = ["A1", "1", "n"].map((was, i) => (i === column ? to : was));
        expect(cutCells(made, "x.csv").table[1]!.cells).toEqual(cells);
        expect(made.endsWith(`A2${mark}2${mark}n\n`)).toBe(true);
      }),
      { seed: 20261129, numRuns: 300 },
    );
  });

  it("refuses what is no sheet, and a cell that is not there", () => {
    expect(refusal(() => SheetText.of("# title: x\n", "x.csv"))).toEqual({
      code: "empty-sheet",
      message: "x.csv: holds no heading; write place,x/mm,y/mm,z/um,pass and a row for each reading",
    });
    expect(refusal(() => SheetText.of("a\0b", "x.csv"))).toEqual({
      code: "not-text",
      message: "x.csv: holds bytes that are no text; save the sheet as CSV (UTF-8) and open that file",
    });
    const sheet = SheetText.of("place,x/mm\nA1\n", "x.csv");
    expect(refusal(() => sheet.edited([{ row: 0, column: 1, to: "4" }]))).toEqual({
      code: "row-width",
      message:
        'x.csv line 2: has no cell 2 to write "4" in; fill the row up to the width of the heading, blank cells included',
    });
    expect(refusal(() => sheet.edited([{ row: 1, column: 0, to: "4" }]))).toEqual({
      code: "no-such-row",
      message: "x.csv: row 2 is asked for and the sheet has 1; open the sheet again",
    });
  });
});
