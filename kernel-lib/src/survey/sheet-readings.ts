import { type Kind, type Length, Quantity, type UnitNames } from "../quantity/index.js";
import { toSi, type Unit, units } from "../quantity/kinds.js";
import { orderAt, rowsWhere, wordAt } from "./columns.js";
import { asideTest } from "./height-table.js";
import type { Blank, Place, Reading } from "./reading.js";
import { isDatum, type Sheet } from "./sheet.js";

/** Readings that are not set aside, of the datums or of the places, as quantities. */
export function readingsOf(sheet: Sheet, ofDatums: boolean): Reading[] {
  return Array.from(readingRows(sheet, ofDatums), (i) => readingAt(sheet, i));
}

/** the rows that hold them */
export function readingRows(sheet: Sheet, ofDatums: boolean): Int32Array {
  const { columns } = sheet;
  const isAside = asideTest(sheet);
  const datum = columns.labels.map(isDatum);
  return rowsWhere(columns, (i) => datum[columns.place[i]!] === ofDatums && !Number.isNaN(columns.z[i]) && !isAside(i));
}

/** Places of the map, probed or blank, in the order of the sheet. */
export function placesOf(sheet: Sheet): Place[] {
  const { columns } = sheet;
  const first = new Map<number, number>();
  for (let i = 0; i < columns.count; i++) if (!first.has(columns.place[i]!)) first.set(columns.place[i]!, i);
  return [...first]
    .filter(([place]) => !isDatum(columns.labels[place]!))
    .map(([place, i]) => ({
      label: columns.labels[place]!,
      x: lengthOf(sheet, "x", columns.x[i]!),
      y: lengthOf(sheet, "y", columns.y[i]!),
    }));
}

/** Cells left blank: planned, not probed. */
export function blanksOf({ columns }: Sheet): Blank[] {
  const rows = rowsWhere(columns, (i) => Number.isNaN(columns.z[i]));
  return Array.from(rows, (i) => ({ place: columns.labels[columns.place[i]!]!, pass: columns.pass[i]! }));
}

export function lengthOf({ units: { x, y, z } }: Sheet, axis: "x" | "y" | "z", value: number): Length {
  return quantity("length", value, { x, y, z }[axis]);
}

function readingAt(sheet: Sheet, i: number): Reading {
  const { columns } = sheet;
  const has = (column: ArrayLike<number> | undefined): column is ArrayLike<number> =>
    column !== undefined && !Number.isNaN(column[i]);
  const order = orderAt(columns, i);
  const approach = wordAt(columns.approach, i);
  const note = wordAt(columns.note, i);
  const { time, temperature } = sheet.units;
  return {
    place: columns.labels[columns.place[i]!]!,
    pass: columns.pass[i]!,
    ...(order === undefined ? {} : { order }),
    ...(approach === undefined ? {} : { approach }),
    ...(note === undefined ? {} : { note }),
    ...(has(columns.x) ? { x: lengthOf(sheet, "x", columns.x[i]!) } : {}),
    ...(has(columns.y) ? { y: lengthOf(sheet, "y", columns.y[i]!) } : {}),
    z: lengthOf(sheet, "z", columns.z[i]!),
    ...(has(columns.time) ? { time: quantity("time", columns.time[i]!, time === "clock" ? "s" : time) } : {}),
    ...(has(columns.temperature) ? { temperature: quantity("temperature", columns.temperature[i]!, temperature) } : {}),
  };
}

function quantity<K extends Kind>(kind: K, value: number, unit: UnitNames[K]): Quantity<K> {
  const row: { readonly [name: string]: Unit } = units[kind];
  return Quantity.fromSi(kind, toSi(row[unit]!, value));
}
