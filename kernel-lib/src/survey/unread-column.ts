import { cutCells } from "./cells.js";
import { lengthUnit } from "./headings.js";

/** A column of readings in which nothing stands yet. */
export interface UnreadColumn {
  /** as it is written: reading/um */
  readonly heading: string;
  /** cells to fill in */
  readonly cells: number;
}

/** columns that take what a gauge shows, in any sheet but that of a warm-up, whose columns are named freely */
const readingColumns = ["reading", "deviation", "position", "value", "z"];

/**
 * The column of readings of a sheet that is wholly blank; undefined where one reading stands, or where no column is one of readings.
 *
 * @throws MeasurementError where the text can't be cut into cells
 * @example
 * unreadColumn("place,repeat,value/um\nA1,1,\nA2,1,", "trial.csv") // => { heading: "value/um", cells: 2 }
 */
export function unreadColumn(text: string, name: string): UnreadColumn | undefined {
  const { heading, rows, blank } = readingCells(text, name);
  return heading !== undefined && rows > 0 && blank === rows ? { heading, cells: rows } : undefined;
}

/** @internal rows of a sheet, and how many have nothing in the columns of readings */
export function readingCells(
  text: string,
  name: string,
): { readonly heading: string | undefined; readonly rows: number; readonly blank: number } {
  const [heading, ...rows] = cutCells(text, name).table;
  const columns = heading!.cells.map((written, at) => {
    const [word = "", unit] = written.split("/", 2).map((part) => part.trim());
    return { written, at, word: word.toLowerCase(), isLength: unit !== undefined && lengthUnit(unit) !== undefined };
  });
  const named = columns.filter(({ word }) => readingColumns.includes(word));
  const found = named.length > 0 ? named : columns.filter(({ isLength }) => isLength);
  const blank = rows.filter(({ cells }) => found.every(({ at }) => (cells[at] ?? "") === ""));
  return { heading: found[0]?.written, rows: rows.length, blank: blank.length };
}
