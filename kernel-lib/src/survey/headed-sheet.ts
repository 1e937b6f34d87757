import { toSi, type Unit, units } from "../quantity/kinds.js";
import { parseDecimal } from "../quantity/parse.js";
import { type CellRow, cutCells } from "./cells.js";
import { type ColumnKind, unitOf, wanted } from "./column-units.js";
import { lengthUnit } from "./headings.js";
import { PreambleLines } from "./preamble-lines.js";
import { clockSeconds } from "./row-reader.js";
import { micrometres } from "./sheet.js";
import { refuseSheet, shown } from "./sheet-error.js";

interface Found {
  readonly at: number;
  readonly kind: ColumnKind;
  readonly heading: string;
  /** µm in one unit, for lengths */
  readonly um: number;
  /** of a temperature or a time */
  readonly unit: string;
}

/** A sheet other than that of a survey, cut up: preamble, rows, and cells looked up by the name of their column. Columns have
 * the names given, and any name beside them whose unit is of a kind that is `free`. */
export class HeadedSheet {
  readonly lines: PreambleLines;
  readonly rows: readonly CellRow[];
  private readonly found = new Map<string, Found>();

  constructor(
    text: string,
    readonly name: string,
    private readonly kinds: { readonly [column: string]: ColumnKind },
    private readonly free: readonly ("length" | "temperature")[] = [],
  ) {
    const { preamble, table } = cutCells(text, name);
    this.lines = new PreambleLines(preamble, name);
    const [heading, ...rows] = table;
    this.rows = rows;
    heading!.cells.forEach((cell, at) => {
      if (cell !== "") this.readHeading(cell, at, heading!.line);
    });
  }

  has(column: string): boolean {
    return this.found.has(column);
  }

  /** columns of a kind in the order of the sheet, as they are called */
  columns(kind: ColumnKind): string[] {
    return [...this.found].flatMap(([column, found]) => (found.kind === kind ? [column] : []));
  }

  /** the heading of a column as it is written */
  heading(column: string): string {
    return this.found.get(column)!.heading;
  }

  /** the unit of a time or a temperature; "clock" for a time of day */
  unit(column: string): string {
    return this.found.get(column)!.unit;
  }

  /** @throws MeasurementError `heading` where a column is missing */
  need(columns: readonly string[], example: string): void {
    const missing = columns.filter((column) => !this.has(column));
    if (missing.length === 0) return;
    refuseSheet(
      "heading",
      { name: this.name },
      `there is no column ${missing.join(", ")}; write the heading ${example}`,
    );
  }

  text(row: CellRow, column: string): string {
    const found = this.found.get(column);
    return found === undefined ? "" : (row.cells[found.at] ?? "");
  }

  /** A cell of a length in µm; blank or not a number is refused. */
  lengthUm(row: CellRow, column: string): number {
    const found = this.found.get(column)!;
    const cell = this.text(row, column);
    const value = parseDecimal(cell);
    if (value !== undefined) return value * found.um;
    const spot = { name: this.name, line: row.line, column: found.heading };
    if (/^[+\-−]?[\d.,]+\s*[a-zµμ"″]+$/iu.test(cell)) {
      return refuseSheet(
        "mixed-units",
        spot,
        `${shown(cell)} brings a unit of its own; the unit stands once, in the heading: convert the cell and write digits only`,
      );
    }
    return refuseSheet(
      cell === "" ? "blank" : "not-a-number",
      spot,
      cell === ""
        ? "is blank; every reading is needed, read it again"
        : `${shown(cell)} is not a number; type digits only`,
    );
  }

  /** A cell of a number whose unit stands in the heading. @throws MeasurementError `not-a-number` */
  number(row: CellRow, column: string): number {
    const cell = this.text(row, column);
    return (
      parseDecimal(cell) ??
      refuseSheet(
        "not-a-number",
        { name: this.name, line: row.line, column: this.heading(column) },
        `${shown(cell)} is not a number; type digits only, the unit stands in the heading`,
      )
    );
  }

  /** Minutes of a clock or of a number; undefined where nothing is written. */
  minutes(row: CellRow, column: string): number | undefined {
    const cell = this.text(row, column);
    if (cell === "") return undefined;
    const { unit, heading } = this.found.get(column)!;
    const seconds = unit === "clock" ? clockSeconds(cell) : undefined;
    const value = unit === "clock" ? seconds && seconds / 60 : parseDecimal(cell);
    if (value !== undefined) return value * (unit === "s" ? 1 / 60 : unit === "h" ? 60 : 1);
    const how = unit === "clock" ? "write hours and minutes like 19:05" : "type digits only";
    return refuseSheet(
      "time",
      { name: this.name, line: row.line, column: heading },
      `${shown(cell)} is no time; ${how}`,
    );
  }

  celsius(row: CellRow, column: string): number | undefined {
    const cell = this.text(row, column);
    if (cell === "") return undefined;
    const { unit, heading } = this.found.get(column)!;
    const value = parseDecimal(cell);
    if (value === undefined && /^[+\-−]?[\d.,]+\s*(°|deg)?\s*[CFK]$/i.test(cell)) {
      return refuseSheet(
        "mixed-units",
        { name: this.name, line: row.line, column: heading },
        `${shown(cell)} brings a unit of its own; the unit stands once, in the heading: convert the cell and write digits only`,
      );
    }
    if (value !== undefined) return toSi((units.temperature as { [name: string]: Unit })[unit]!, value) - 273.15;
    return refuseSheet(
      "not-a-number",
      { name: this.name, line: row.line, column: heading },
      `${shown(cell)} is not a number; type digits only, the unit stands in the heading`,
    );
  }

  private freeKind(given: string | undefined): ColumnKind | undefined {
    return given === undefined ? undefined : this.free.find((kind) => unitOf(kind, given) !== undefined);
  }

  /** a heading of its own name without a unit that says what it is: what its cells could be is asked */
  private refuseFree(
    heading: string,
    given: string | undefined,
    at: number,
    spot: { readonly name: string; readonly line: number; readonly column: string },
  ): never {
    const numbers = this.rows.flatMap((row) => parseDecimal(row.cells[at] ?? "") ?? []);
    const unit = given === undefined ? "no unit" : `the unit ${shown(given)}, which is not known`;
    const comma = given === undefined ? "" : ",";
    const run =
      numbers.length > 0 ? `${comma} and its cells run from ${Math.min(...numbers)} to ${Math.max(...numbers)}` : "";
    const word = heading.split("/")[0]!.trim();
    return refuseSheet(
      "heading-unit",
      spot,
      `the heading ${shown(heading)} has ${unit}${run}; are they °C, °F, or a length? write ${word}/degC, ${word}/degF or ${word}/um`,
    );
  }

  private readHeading(heading: string, at: number, line: number): void {
    const [word = "", ...over] = heading.split("/").map((part) => part.trim());
    const given = over.length === 0 ? undefined : over.join("/");
    const column = word.toLowerCase();
    const kind = Object.hasOwn(this.kinds, column) ? this.kinds[column] : this.freeKind(given);
    const spot = { name: this.name, line, column: String(at + 1) };
    if (kind === undefined) {
      if (this.free.length > 0) this.refuseFree(heading, given, at, spot);
      refuseSheet(
        "heading",
        spot,
        `the heading ${shown(heading)} is not known; use ${Object.keys(this.kinds).join(", ")}`,
      );
    }
    const unit = unitOf(kind, given);
    if (unit === undefined) {
      refuseSheet(
        "heading-unit",
        spot,
        `the heading ${shown(heading)} has ${given === undefined ? "no unit" : `the unit ${shown(given)}`}; ${wanted(kind, column)}`,
      );
    }
    if (this.has(column)) {
      refuseSheet(
        "heading-twice",
        spot,
        `the heading ${shown(heading)} names ${column} once more; leave one of the two`,
      );
    }
    this.found.set(column, { at, kind, heading, unit, um: kind === "length" ? micrometres[lengthUnit(unit)!] : 1 });
  }
}
