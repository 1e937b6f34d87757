import { toSi, type Unit, units } from "../quantity/kinds.js";
import { parseDecimal } from "../quantity/parse.js";
import { type CellRow, cutCells } from "../survey/cells.js";
import { lengthUnit } from "../survey/headings.js";
import { PreambleLines } from "../survey/preamble-lines.js";
import { clockSeconds } from "../survey/row-reader.js";
import { micrometres } from "../survey/sheet.js";
import { refuseSheet, shown } from "../survey/sheet-error.js";

/** A column that a sheet may have: a word, a length or a temperature over its unit, a time. */
export type ColumnKind = "word" | "length" | "temperature" | "time";

interface Found {
  readonly at: number;
  readonly heading: string;
  /** µm in one unit, for lengths */
  readonly um: number;
  /** of a temperature or a time */
  readonly unit: string;
}

/** A sheet of an axis cut up: preamble, rows, and cells looked up by the name of their column. */
export class AxisSheet {
  readonly lines: PreambleLines;
  readonly rows: readonly CellRow[];
  private readonly found = new Map<string, Found>();

  constructor(
    text: string,
    readonly name: string,
    private readonly kinds: { readonly [column: string]: ColumnKind },
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
    if (value !== undefined) return toSi((units.temperature as { [name: string]: Unit })[unit]!, value) - 273.15;
    return refuseSheet(
      "not-a-number",
      { name: this.name, line: row.line, column: heading },
      `${shown(cell)} is not a number; type digits only, the unit stands in the heading`,
    );
  }

  private readHeading(heading: string, at: number, line: number): void {
    const [word = "", given] = heading.split("/").map((part) => part.trim());
    const column = word.toLowerCase();
    const kind = Object.hasOwn(this.kinds, column) ? this.kinds[column] : undefined;
    const spot = { name: this.name, line, column: String(at + 1) };
    if (kind === undefined) {
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
    this.found.set(column, { at, heading, unit, um: kind === "length" ? micrometres[lengthUnit(unit)!] : 1 });
  }
}

function unitOf(kind: ColumnKind, given: string | undefined): string | undefined {
  if (kind === "word") return given === undefined ? "" : undefined;
  if (kind === "length") return given === undefined ? undefined : lengthUnit(given);
  if (kind === "time") return given === undefined ? "clock" : ["s", "min", "h"].find((unit) => unit === given);
  const spelled = given === "°C" ? "degC" : given === "°F" ? "degF" : given;
  return ["degC", "degF", "K"].find((unit) => unit === spelled);
}

function wanted(kind: ColumnKind, column: string): string {
  if (kind === "word") return `write ${column} alone`;
  const allowed =
    kind === "length" ? Object.keys(micrometres) : kind === "time" ? ["s", "min", "h"] : ["degC", "degF", "K"];
  return `write ${column}/ and one of ${allowed.join(", ")}`;
}
