import { parse } from "csv-parse/sync";
import { isPreamble, isRowOfBlanks, preambleText } from "./preamble-text.js";
import { refuseSheet } from "./sheet-error.js";

/** One line of a sheet cut into cells, blanks around them taken off. */
export interface CellRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/** A sheet cut into its preamble lines and its table. */
export interface SheetCells {
  readonly preamble: readonly { readonly line: number; readonly text: string }[];
  readonly table: readonly CellRow[];
  readonly separator: string;
}

export const longestLine = 20_000;
const separators = ["\t", ";", ","] as const;

/**
 * Cuts the text of a sheet into preamble and cells. The separator is that of the heading line: tab, else semicolon,
 * else comma. Lines that are empty or hold only blank cells carry no reading and are passed over.
 */
export function cutCells(text: string, name: string): SheetCells {
  if (text.includes("\0")) {
    refuseSheet("not-text", { name }, "holds bytes that are no text; save the sheet as CSV (UTF-8) and read that file");
  }
  const lines = text.replace(/^\uFEFF/, "").split(/\r\n|\n|\r/);
  lines.forEach((line, i) => {
    if (line.length <= longestLine) return;
    refuseSheet(
      "line-too-long",
      { name, line: i + 1 },
      `${line.length} characters in one line; a sheet has one reading a row, save it as CSV with line ends`,
    );
  });
  const first = lines.findIndex((line) => line.trim() !== "" && !isPreamble(line) && !isRowOfBlanks(line));
  const preamble = lines
    .slice(0, first < 0 ? lines.length : first)
    .map((line, i) => ({ line: i + 1, text: preambleText(line, name, i + 1) }))
    .filter(({ text: said }) => said !== "");
  if (first < 0) {
    const what = preamble.length > 0 ? "only # lines and no heading" : "nothing";
    refuseSheet(
      "empty-sheet",
      { name },
      `holds ${what}; write the heading place,x/mm,y/mm,z/um,pass and a row for each reading`,
    );
  }
  const separator = separators.find((s) => lines[first]!.includes(s)) ?? ",";
  const table = lines.slice(first);
  const rows = table.some((line) => line.includes('"'))
    ? cutQuoted(table.join("\n"), separator, first, name)
    : table.map((line, i): CellRow => ({ line: first + i + 1, cells: trimmed(line.split(separator)) }));
  return { preamble, separator, table: rows.filter(({ cells }) => cells.some((cell) => cell !== "")) };
}

function trimmed(cells: readonly string[]): readonly string[] {
  return cells.map((cell) => cell.trim());
}

/** A table with quotation marks; without one a separator is a separator, and nothing needs to be told apart. */
function cutQuoted(text: string, separator: string, before: number, name: string): readonly CellRow[] {
  let records: { record: string[]; info: { lines: number } }[];
  try {
    records = parse(text, {
      delimiter: separator,
      relax_column_count: true,
      info: true,
      record_delimiter: "\n",
    }) as unknown[] as { record: string[]; info: { lines: number } }[];
  } catch (error) {
    const at = (error as { lines?: number }).lines;
    refuseSheet(
      "quotation-mark",
      { name, ...(at === undefined ? {} : { line: at + before }) },
      "a quotation mark opens or closes in the middle of a cell, or never closes; put quotation marks around the whole cell, and double one that belongs to the text",
    );
  }
  return records.map(({ record, info }) => ({ line: info.lines + before, cells: trimmed(record) }));
}
