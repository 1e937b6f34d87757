import type { CellRow } from "./cells.js";
import type { ColumnMap } from "./column-map.js";
import { columnsOfRows, type SheetColumns } from "./columns.js";
import { readHeadings } from "./headings.js";
import { RowReader } from "./row-reader.js";
import { isDatum, type SheetRow, type SheetUnits } from "./sheet.js";
import { refuseSheet, shown } from "./sheet-error.js";

/** Reads the table of a long sheet, one reading a row. Without a column `order` the rows stand in the order of
 * reading, unless the preamble says `# order: unknown`. */
export function readLongTable(
  table: readonly CellRow[],
  name: string,
  map: ColumnMap | undefined,
  orderKnown: boolean,
): { units: SheetUnits; columns: SheetColumns } {
  const headings = readHeadings(table[0]!, name, map);
  const reader = new RowReader(headings, name);
  const rows = table.slice(1).map((row) => {
    if (row.cells[0]?.startsWith("#")) {
      refuseSheet(
        "late-preamble",
        { name, line: row.line },
        `${shown(row.cells.join(","))} stands below the heading; move the line above it`,
      );
    }
    return reader.read(row);
  });
  if (rows.length === 0) {
    refuseSheet(
      "empty-sheet",
      { name, line: table[0]!.line },
      "no reading follows the heading; write a row for each reading",
    );
  }
  const lines = table.slice(1).map((row) => row.line);
  needOneReadingACell(rows, lines, name, headings.at.order !== undefined);
  needOneSpotAPlace(rows, lines, name);
  return { units: headings.units, columns: columnsOfRows(rows, headings.at.order === undefined && orderKnown) };
}

/** A place may be read again in a pass only where the order tells the readings apart; a datum is read again and again. */
function needOneReadingACell(
  rows: readonly SheetRow[],
  lines: readonly number[],
  name: string,
  ordered: boolean,
): void {
  const seen = new Map<string, number>();
  rows.forEach((row, i) => {
    const order = ordered || isDatum(row.place) ? row.order : undefined;
    if (order === undefined && isDatum(row.place)) return;
    const cell = JSON.stringify([row.place, row.pass, order]);
    const first = seen.get(cell);
    seen.set(cell, i);
    if (first === undefined) return;
    const inOrder = ordered && order !== undefined ? `, order ${order}` : "";
    refuseSheet(
      "two-readings",
      { name, line: lines[i]! },
      `${shown(row.place)}, pass ${row.pass}${inOrder} was read in line ${lines[first]} already; number the pass, or add a column order with a number for each reading`,
    );
  });
}

function needOneSpotAPlace(rows: readonly SheetRow[], lines: readonly number[], name: string): void {
  const spots = new Map<string, number>();
  rows.forEach((row, i) => {
    if (row.x === undefined) return;
    const first = spots.get(row.place) ?? i;
    spots.set(row.place, first);
    const { x, y } = rows[first]!;
    if (x === row.x && y === row.y) return;
    refuseSheet(
      "two-spots",
      { name, line: lines[i]! },
      `${shown(row.place)} stands at x ${row.x}, y ${row.y}, and in line ${lines[first]} at x ${x}, y ${y}; correct one, or give the second place a name of its own`,
    );
  });
}
