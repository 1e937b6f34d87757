import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { fromDataFrame, parseSurvey, readSurvey } from "../../kernel-lib/src/survey/index.js";
import { refusal } from "../refusal.js";

const require = createRequire(import.meta.url);
const book = require("xlsx") as {
  utils: {
    book_new(): object;
    aoa_to_sheet(rows: unknown[][]): { [cell: string]: object };
    book_append_sheet(book: object, sheet: object, name: string): void;
  };
  write(book: object, options: object): Buffer;
};
const folder = mkdtempSync(join(tmpdir(), "dialbook-xlsx-"));
afterAll(() => rmSync(folder, { recursive: true }));

const preamble = [
  "relative to: travel",
  "front: y-",
  "+x: right",
  "+y: back",
  "gauge resolution: 1 um",
  "gauge maximum permissible error: 4 um",
  "note: a comma, and more",
];
const rows: unknown[][] = [
  ...preamble.map((line) => [`# ${line}`]),
  ["place", "x/mm", "y/mm", "z/um", "pass", "time", "note"],
  ["A1", 0, 0, 3, 1, "19:05", 'a "note", too'],
  ["B1", 50.5, 0, null, 1, "19:06", null],
  ["A1", 0, 0, -2.5, 2, "19:07:30", null],
  ["B1", 50.5, 0, 0, 2, "19:08", "ä"],
];
const write = (name: string, pages: { [name: string]: { [cell: string]: object } }): string => {
  const made = book.utils.book_new();
  for (const [page, sheet] of Object.entries(pages)) book.utils.book_append_sheet(made, sheet, page);
  writeFileSync(join(folder, name), book.write(made, { type: "buffer", bookType: "xlsx" }));
  return join(folder, name);
};
const csv = rows
  .map((cells) => cells.map((c) => (c === null ? "" : `"${String(c).replaceAll('"', '""')}"`)).join(","))
  .join("\n");

it("a sheet of a workbook reads as the same sheet does as text", () => {
  const survey = readSurvey(write("sheet.xlsx", { readings: book.utils.aoa_to_sheet(rows) }));
  expect(survey.toCsv()).toBe(parseSurvey(csv).toCsv());
  expect(survey.blanks).toEqual([{ place: "B1", pass: 1 }]);
  expect(survey.readings().map(({ z }) => z.in("um"))).toEqual([3, -2.5, 0]);
});

it("a time of day typed into the workbook is read as one", () => {
  const page = book.utils.aoa_to_sheet(rows);
  page.F9 = { t: "n", v: (19 * 60 + 5) / 1440, z: "hh:mm" };
  expect(readSurvey(write("clock.xlsx", { one: page })).toCsv()).toBe(parseSurvey(csv).toCsv());
  page.F9 = { t: "n", v: 46_000.5, z: "yyyy-mm-dd" };
  expect(refusal(() => readSurvey(write("date.xlsx", { one: page }))).message).toBe(
    'date.xlsx, sheet "one" cell F9: is a date; type it as a text, or a time of day as 19:05',
  );
});

it("a formula is refused by its place", () => {
  const page = book.utils.aoa_to_sheet(rows);
  page.D11 = { t: "n", v: 4, f: "D9+1" };
  expect(refusal(() => readSurvey(write("formula.xlsx", { readings: page })))).toEqual({
    code: "formula",
    message:
      'formula.xlsx, sheet "readings" cell D11: holds the formula "=D9+1"; put the number that was read in its place (paste as values)',
  });
});

it("a workbook of several sheets needs the name of one; other files are told apart", () => {
  const page = () => book.utils.aoa_to_sheet(rows);
  const path = write("two.xlsx", { before: page(), after: page() });
  expect(refusal(() => readSurvey(path)).message).toBe(
    'two.xlsx: the workbook has the sheets "before", "after"; say which one: { sheet: "before" }',
  );
  expect(readSurvey(path, { sheet: "after" }).places).toHaveLength(2);
  expect(refusal(() => readSurvey(path, { sheet: "during" })).message).toBe(
    'two.xlsx: the workbook has no sheet "during"; it has "before", "after"',
  );
  expect(refusal(() => readSurvey(write("book.csv", { one: page() }))).message).toBe(
    "book.csv: is a workbook, not a text; give it the ending .xlsx, or save the sheet as CSV (UTF-8)",
  );
  writeFileSync(join(folder, "text.xlsx"), csv);
  expect(refusal(() => readSurvey(join(folder, "text.xlsx"))).code).toBe("not-a-workbook");
  writeFileSync(join(folder, "photo.csv"), Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 16]));
  expect(refusal(() => readSurvey(join(folder, "photo.csv"))).message).toBe(
    "photo.csv: holds bytes that are no UTF-8 text; save the sheet as CSV (UTF-8) and read that file",
  );
});

it("a survey goes into a data frame and back and loses nothing", () => {
  const survey = parseSurvey(csv);
  const frame = survey.toDataFrame();
  expect(frame.shape).toEqual([4, 8]);
  expect(frame.columns).toEqual(["place", "x/mm", "y/mm", "z/um", "pass", "order", "time", "note"]);
  const back = fromDataFrame(frame, { like: survey });
  const seen = (s: typeof survey) => [s.readings(), s.blanks, s.gauge, s.frame, s.notes, s.surface()];
  expect(seen(back)).toEqual(seen(survey));
  expect(refusal(() => fromDataFrame(frame)).code).toBe("frame");
});

// the reader broke off with a fault of its own on a sheet that is named and not there
it("a workbook whose page is gone is refused with a sentence", () => {
  const path = write("gone.xlsx", { readings: book.utils.aoa_to_sheet(rows) });
  const bytes = readFileSync(path);
  // the relation from the list of sheets to the page is of no known type
  bytes.write("x", bytes.lastIndexOf("http://", bytes.indexOf("worksheets/sheet1")), "latin1");
  writeFileSync(path, bytes);
  expect(refusal(() => readSurvey(path)).message).toBe(
    "gone.xlsx: cannot be opened as an .xlsx workbook; save it again, or save the sheet as CSV (UTF-8)",
  );
});

it("a sheet without a cell and an error of the spreadsheet are refused by their place", () => {
  expect(refusal(() => readSurvey(write("empty.xlsx", { one: book.utils.aoa_to_sheet([]) }))).message).toBe(
    'empty.xlsx, sheet "one": holds nothing; give a sheet with readings',
  );
  const wide = write("wide.xlsx", { one: { ...book.utils.aoa_to_sheet(rows), "!ref": "A1:G100000" as never } });
  const bytes = readFileSync(wide);
  // written so by hand: to write as many blank cells takes minutes
  bytes.write("A1:XFD9999", bytes.indexOf("A1:G100000"), "latin1");
  writeFileSync(wide, bytes);
  expect(refusal(() => readSurvey(wide)).message).toBe(
    'wide.xlsx, sheet "one": reaches to row 9999, column 16384, farther than readings do; clear what stands far out, or give another sheet of the workbook',
  );
  const page = book.utils.aoa_to_sheet(rows);
  page.D11 = { t: "e", v: 7 };
  expect(refusal(() => readSurvey(write("error.xlsx", { one: page }))).message).toBe(
    'error.xlsx, sheet "one" cell D11: shows an error of the spreadsheet; type the reading, or clear the cell',
  );
});

it("cells of every sort are read as what they show, and refused where they show nothing of their own", () => {
  const page = book.utils.aoa_to_sheet(rows);
  page.G9 = { t: "b", v: true };
  page.G11 = { t: "s", v: "two\nlines" };
  page.F11 = { t: "n", v: 0, z: "hh:mm:ss" };
  const survey = readSurvey(write("sorts.xlsx", { one: page }));
  const [first, second] = survey.readings();
  expect([first!.note, second!.note, second!.time!.in("s")]).toEqual(["true", "two lines", 0]);
  const refused = (name: string, cell: object) => {
    const other = book.utils.aoa_to_sheet(rows);
    other.D11 = cell;
    const { code, message } = refusal(() => readSurvey(write(name, { one: other })));
    return `${code}: ${message}`;
  };
  for (const v of [1, 46_000, -0.25]) {
    expect(refused("day.xlsx", { t: "n", v, z: "yyyy-mm-dd" })).toBe(
      'date: day.xlsx, sheet "one" cell D11: is a date; type it as a text, or a time of day as 19:05',
    );
  }
  expect(refused("fault.xlsx", { t: "e", v: 7 })).toMatch(/^cell-error: fault\.xlsx, sheet "one" cell D11: /);
  const late = book.utils.aoa_to_sheet(rows);
  late.F9 = { t: "n", v: (23 * 3600 + 59 * 60 + 9) / 86_400, z: "hh:mm:ss" };
  expect(
    readSurvey(write("late.xlsx", { one: late }))
      .readings()[0]!
      .time!.in("s"),
  ).toBe(86_349);
});
