import { parseDecimal } from "../quantity/parse.js";
import { counted } from "../words.js";
import type { CellRow } from "./cells.js";
import type { ColumnName, Headings } from "./headings.js";
import { isDatum, type SheetRow, type Writable } from "./sheet.js";
import { refuseSheet, shown } from "./sheet-error.js";

/** Reads the cells of a long sheet row by row, and remembers whether its decimals have a point or a comma. */
export class RowReader {
  private mark: { readonly sign: "." | ","; readonly line: number } | undefined;

  constructor(
    private readonly headings: Headings,
    private readonly name: string,
  ) {}

  read(row: CellRow): SheetRow {
    this.needWidth(row);
    const place = this.place(row);
    const x = this.number(row, "x");
    const y = this.number(row, "y");
    if ((x === undefined) !== (y === undefined) || (x === undefined && !isDatum(place))) {
      const column = x === undefined ? "x" : "y";
      this.refuse(
        "blank",
        row,
        column,
        `is blank at ${shown(place)}; write where the stylus stood${isDatum(place) ? ", or leave both x and y blank" : ""}`,
      );
    }
    const read: Writable<SheetRow> = { place, pass: this.headings.onlyPass ?? this.whole(row, "pass") };
    if (x !== undefined && y !== undefined) Object.assign(read, { x, y });
    for (const column of ["z", "order", "temperature"] as const) {
      const value = this.number(row, column);
      if (value !== undefined) read[column] = value;
    }
    const time = this.time(row);
    if (time !== undefined) read.time = time;
    for (const column of ["approach", "note"] as const) {
      const value = this.text(row, column);
      if (value !== undefined) read[column] = value;
    }
    return read;
  }

  /** a cell that holds a number, or nothing; NaN, words and units are refused */
  number(row: CellRow, column: ColumnName): number | undefined {
    const cell = this.text(row, column);
    if (cell === undefined) return undefined;
    const value = parseDecimal(cell);
    if (value === undefined) {
      const blank =
        column === "z" ? "leave the cell blank if the place was not probed" : "leave the cell blank if it is not known";
      this.refuse(
        "not-a-number",
        row,
        column,
        `${shown(cell)} is not a number; type digits only${column === "pass" ? "" : `, or ${blank}`}`,
      );
    }
    this.needOneMark(row, column, cell);
    return value + 0;
  }

  private place(row: CellRow): string {
    const place = this.text(row, "place");
    if (place === undefined)
      return this.refuse(
        "blank",
        row,
        "place",
        "is blank; write the name of the place, like C4, or datum for a return",
      );
    if (isPlaceName(place)) return place;
    return this.refuse(
      "place-name",
      row,
      "place",
      `${shown(place)} is not a name for a place; use at most 40 characters, no colon, no line end and no # in front`,
    );
  }

  private whole(row: CellRow, column: ColumnName): number {
    const value = this.number(row, column);
    if (value !== undefined && isPass(value)) return value;
    const given = value === undefined ? "is blank" : `${value} is not a pass`;
    return this.refuse("pass", row, column, `${given}; write 1 for the first pass, 2 for the second`);
  }

  private time(row: CellRow): number | undefined {
    if (this.headings.units.time !== "clock") return this.number(row, "time");
    const cell = this.text(row, "time");
    if (cell === undefined) return undefined;
    const seconds = clockSeconds(cell);
    if (seconds !== undefined) return seconds;
    return this.refuse(
      "time",
      row,
      "time",
      `${shown(cell)} is not a time of day; write hours and minutes, like 19:05, or head the column time/min`,
    );
  }

  private text(row: CellRow, column: ColumnName): string | undefined {
    const at = this.headings.at[column];
    const cell = at === undefined ? "" : row.cells[at]!;
    return cell === "" ? undefined : cell;
  }

  private needWidth(row: CellRow): void {
    const { width } = this.headings;
    const extra = row.cells.slice(width).find((cell) => cell !== "");
    if (row.cells.length >= width && extra === undefined) return;
    const given = `${counted(row.cells.length, "cell")} where the heading has ${width}`;
    const why =
      extra === undefined
        ? "fill the row up, blank cells included"
        : "put a text with a comma into quotation marks, or check for a decimal comma";
    refuseSheet("row-width", { name: this.name, line: row.line }, `${given}; ${why}`);
  }

  private needOneMark(row: CellRow, column: ColumnName, cell: string): void {
    const sign = /[.,]/.exec(cell)?.[0] as "." | "," | undefined;
    if (sign === undefined) return;
    this.mark ??= { sign, line: row.line };
    if (this.mark.sign === sign) return;
    this.refuse(
      "mixed-decimals",
      row,
      column,
      `${shown(cell)} has a decimal ${sign === "," ? "comma" : "point"} and line ${this.mark.line} has a ${sign === "," ? "point" : "comma"}; use one of the two throughout`,
    );
  }

  private refuse(code: string, row: CellRow, column: ColumnName, sentence: string): never {
    const at = this.headings.at[column];
    const heading = at === undefined ? column : this.headings.written[at]!;
    return refuseSheet(code, { name: this.name, line: row.line, column: heading }, sentence);
  }
}

/** seconds of the day of a time such as 19:05 or 19:05:30 */
export function clockSeconds(cell: string): number | undefined {
  const [, h, min, s = "0"] = /^(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(cell) ?? [];
  if (h === undefined || !(Number(h) < 24 && Number(min) < 60 && Number(s) < 60)) return undefined;
  return Number(h) * 3600 + Number(min) * 60 + Number(s);
}

export function isPlaceName(text: string): boolean {
  return text.length <= 40 && !/[:\p{Cc}]/u.test(text) && !text.startsWith("#");
}

export function isPass(value: number): boolean {
  return Number.isInteger(value) && value >= 1 && value <= 999_999;
}
