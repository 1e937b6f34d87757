import type { CellRow } from "./cells.js";
import { type ColumnMap, foreignHeadings, lineToWrite } from "./column-map.js";
import {
  type LengthUnit,
  micrometres,
  type SheetUnits,
  type TemperatureUnit,
  type TimeUnit,
  type Writable,
} from "./sheet.js";
import { refuseSheet, shown } from "./sheet-error.js";

export const columnNames = [
  "place",
  "x",
  "y",
  "z",
  "pass",
  "order",
  "time",
  "temperature",
  "approach",
  "note",
] as const;
export type ColumnName = (typeof columnNames)[number];

/** Which column holds what, and in which unit. */
export interface Headings {
  /** column number from 0, by name; a column that the sheet does not have is missing */
  readonly at: { readonly [C in ColumnName]?: number };
  readonly units: SheetUnits;
  /** how many cells a row has */
  readonly width: number;
  /** the heading as it stands, for messages */
  readonly written: readonly string[];
  /** every row belongs to this pass where the column map says so */
  readonly onlyPass?: number;
}

const needed: readonly ColumnName[] = ["place", "x", "y", "z", "pass"];
const temperatureUnits: readonly TemperatureUnit[] = ["degC", "degF", "K"];
const timeUnits: readonly TimeUnit[] = ["s", "min", "h"];
/** other spellings of a unit in a heading */
const spellings: { readonly [written: string]: string } = {
  µm: "um",
  μm: "um",
  inch: "in",
  "°C": "degC",
  "°F": "degF",
};

/** Reads the heading of a long sheet, or matches a foreign one with the column map given. */
export function readHeadings(row: CellRow, name: string, map: ColumnMap | undefined): Headings {
  const written = trimRight(row.cells);
  const meant = map ? foreignHeadings(written, row.line, name, map) : written;
  const at: { [C in ColumnName]?: number } = {};
  const units: Writable<SheetUnits> = { x: "mm", y: "mm", z: "um", time: "clock", temperature: "degC" };
  meant.forEach((heading, i) => {
    if (heading === undefined) return;
    const spot = { name, line: row.line, column: String(i + 1) };
    const { column, unit } = headingOf(heading, spot, written);
    if (at[column] !== undefined) {
      refuseSheet(
        "heading-twice",
        spot,
        `the heading ${shown(heading)} names ${column}, as column ${at[column]! + 1} does already; leave one of the two`,
      );
    }
    at[column] = i;
    if (column === "x" || column === "y" || column === "z") units[column] = unit as LengthUnit;
    if (column === "time" && unit !== undefined) units.time = unit as TimeUnit;
    if (column === "temperature") units.temperature = unit as TemperatureUnit;
  });
  const onlyPass = map?.pass === 1 ? 1 : undefined;
  const missing = needed.filter((c) => at[c] === undefined && !(c === "pass" && onlyPass));
  if (missing.length > 0) {
    refuseSheet(
      "heading",
      { name, line: row.line },
      `the heading ${shown(written.join(","))} has no column ${missing.join(", ")}; write the heading place,x/mm,y/mm,z/um,pass, or say which column is which: ${lineToWrite(written)}`,
    );
  }
  return {
    at,
    units,
    width: written.length,
    written,
    ...(onlyPass ? { onlyPass } : {}),
  };
}

/** A heading of our own, quantity over unit: "x/mm", "temperature/degC", "place". */
function headingOf(
  heading: string,
  spot: { name: string; line: number; column: string },
  written: readonly string[],
): { column: ColumnName; unit?: string } {
  const [quantity = "", given, ...rest] = heading.split("/").map((part) => part.trim());
  const column = columnNames.find((c) => c === quantity.toLowerCase());
  if (column === undefined || rest.length > 0) {
    return refuseSheet(
      "heading",
      spot,
      `the heading ${shown(heading)} is not known; use ${columnNames.join(", ")}, or say which column is which: ${lineToWrite(written)}`,
    );
  }
  const unit = given === undefined ? undefined : (spellings[given] ?? given);
  const allowed = unitsOf(column);
  if (allowed.length === 0 && unit === undefined) return { column };
  if (unit === undefined && column === "time") return { column };
  if (unit !== undefined && allowed.includes(unit)) return { column, unit };
  const use = allowed.length > 0 ? `write ${column}/ and one of ${allowed.join(", ")}` : `write ${column} alone`;
  return refuseSheet(
    "heading-unit",
    spot,
    `the heading ${shown(heading)} has ${given === undefined ? "no unit" : `the unit ${shown(given)}`}; ${use}`,
  );
}

function unitsOf(column: ColumnName): readonly string[] {
  if (column === "x" || column === "y" || column === "z") return Object.keys(micrometres);
  if (column === "temperature") return temperatureUnits;
  return column === "time" ? timeUnits : [];
}

/** The unit of length that a heading of a grid names. */
export function lengthUnit(given: string): LengthUnit | undefined {
  const unit = spellings[given] ?? given;
  return Object.hasOwn(micrometres, unit) ? (unit as LengthUnit) : undefined;
}

function trimRight(cells: readonly string[]): string[] {
  const last = cells.findLastIndex((cell) => cell !== "");
  return cells.slice(0, last + 1);
}
