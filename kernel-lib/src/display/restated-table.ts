import { restated, restatedCell, restatedUnit } from "../figure/restated.js";
import type { UnitSystem } from "../quantity/kinds.js";
import type { PrintedTable } from "./table-text.js";

type PrintedColumn = PrintedTable["columns"][number];

/** A printed table in the units of a system: numbers by the unit of their heading, words by the units they name. */
export function restatedTable(printed: PrintedTable, system: UnitSystem, kept: readonly string[]): PrintedTable {
  if (system === "metric") return printed;
  const say = (text: string) => restated(text, system, kept);
  const cell = (text: string, { unit, cellUnit = unit, asWritten }: PrintedColumn): string => {
    if (asWritten) return text;
    return cellUnit === undefined || !/^[^A-Za-z]*(?: to [^A-Za-z]*)?$/.test(text)
      ? say(text)
      : restatedCell(text, cellUnit, system);
  };
  const line = (row: readonly string[]) => row.map((text, i) => cell(text, printed.columns[i]!));
  return {
    caption: say(printed.caption),
    columns: printed.columns.map((column) => ({
      ...column,
      heading: say(column.heading),
      ...(column.unit === undefined ? {} : { unit: restatedUnit(column.unit, system) }),
      ...(column.cellUnit === undefined ? {} : { cellUnit: restatedUnit(column.cellUnit, system) }),
    })),
    rows: printed.rows.map(line),
    foot: printed.foot.map(line),
    notes: printed.notes.map(say),
  };
}
