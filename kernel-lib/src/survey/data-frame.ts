import { MeasurementError } from "../measurement-error.js";
import { orderAt, rowAt } from "./columns.js";
import { columnNames } from "./headings.js";
import { optionalPackage } from "./optional-package.js";
import { type ParseOptions, parseSheet, sourceOfText } from "./parse-sheet.js";
import type { Sheet } from "./sheet.js";
import { headingOf, preambleLines, sheetCell, usedColumns } from "./write-sheet.js";

/** What is used of a danfojs `DataFrame`; a frame made by that package is one. */
export interface DataFrameLike {
  readonly columns: readonly string[];
  readonly values: readonly unknown[];
  readonly shape: readonly number[];
}

/** The rows of a sheet as a frame: one column a heading of the sheet, `order` among them where it is known. */
export function frameOfSheet(sheet: Sheet): DataFrameLike {
  const { columns } = sheet;
  const known = columns.order !== undefined;
  const used = columnNames.filter((column) => usedColumns(sheet).includes(column) || (column === "order" && known));
  const rows = Array.from({ length: columns.count }, (_, i) => {
    const row = rowAt(columns, i);
    return used.map((column) => {
      if (column === "order") return orderAt(columns, i) ?? null;
      const value = row[column];
      if (value === undefined) return null;
      return column === "time" ? sheetCell(row, column, sheet) : value;
    });
  });
  const { DataFrame } = optionalPackage(["danfojs-node"], "a data frame") as {
    readonly DataFrame: new (rows: unknown[][], options: { columns: string[] }) => DataFrameLike;
  };
  return new DataFrame(rows, { columns: used.map((column) => headingOf(column, sheet)) });
}

/** The sheet that the rows of a frame make: what its headings do not say comes from another sheet, or from the options. */
export function sheetOfFrame(frame: DataFrameLike, options: ParseOptions, like: Sheet | undefined): Sheet {
  const name = options.name ?? like?.name ?? "data frame";
  if (!(Array.isArray(frame?.columns) && Array.isArray(frame.values) && frame.columns.length > 0)) {
    throw new MeasurementError(
      "data-frame",
      `${name}: is no data frame with named columns; give one made by danfojs-node`,
    );
  }
  const lines = like ? preambleLines(like.preamble) : [];
  if (!frame.columns.some((column) => String(column).startsWith("order"))) lines.push("# order: unknown");
  lines.push(frame.columns.map((column) => quoted(column)).join(","));
  for (const row of frame.values) lines.push((Array.isArray(row) ? row : [row]).map(quoted).join(","));
  return parseSheet(sourceOfText(lines.join("\n")), { ...options, name });
}

/** a missing value is a blank cell, and blank is not zero */
function quoted(value: unknown): string {
  if (value === null || value === undefined || (typeof value === "number" && Number.isNaN(value))) return "";
  const text = String(value);
  return /[",\r\n#;\t]/.test(text) ? `"${text.replaceAll('"', '""').replaceAll(/[\r\n]+/g, " ")}"` : text;
}
