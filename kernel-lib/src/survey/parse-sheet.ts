import { cutCells } from "./cells.js";
import type { ColumnMap } from "./column-map.js";
import type { Gauge } from "./gauge.js";
import { isGridCorner, readGridTable } from "./grid-sheet.js";
import { readLongTable } from "./long-sheet.js";
import { readPreamble } from "./preamble.js";
import { PreambleLines } from "./preamble-lines.js";
import type { Removal, Sheet, SheetRow } from "./sheet.js";
import { refuseSheet } from "./sheet-error.js";
import type { Frame } from "./surface.js";

/** What a reader may state in code. What the sheet says too must agree with it. */
export interface ParseOptions {
  /** name for titles and messages; the title of the sheet, or "pasted sheet", where it is left out */
  readonly name?: string;
  readonly gauge?: Gauge;
  /** for a foreign sheet, which cannot say how the map lies */
  readonly frame?: Frame;
  /** for a foreign sheet: which column is which */
  readonly columns?: ColumnMap;
}

/** Reads the text of a sheet, long or grid, and checks every cell. */
export function parseSheet(text: string, options: ParseOptions): Sheet {
  const name = options.name ?? "pasted sheet";
  const { preamble: lines, table } = cutCells(text, name);
  const said = new PreambleLines(lines, name);
  const orderKnown = readOrderKnown(said);
  const isGrid = isGridCorner(table[0]!.cells[0]);
  const { units, rows } = isGrid
    ? readGridTable(table, name, said)
    : readLongTable(table, name, options.columns, orderKnown);
  const preamble = readPreamble(said, options);
  for (const removal of preamble.removed) needRemovable(rows, removal, name);
  if (!rows.some((row) => row.z !== undefined)) {
    refuseSheet(
      "no-reading",
      { name },
      `all ${rows.length} cell(s) for z are blank; write the readings in, or take this sheet as the one to fill in`,
    );
  }
  return { name: options.name ?? preamble.title ?? name, preamble, units, rows };
}

/** Refuses to set aside a reading that the sheet does not have. */
export function needRemovable(rows: readonly SheetRow[], { place, pass }: Removal, name: string): void {
  if (rows.some((row) => row.place === place && row.pass === pass && row.z !== undefined)) return;
  refuseSheet(
    "no-such-reading",
    { name },
    `${place}, pass ${pass} is to be removed and has no reading; give a place and pass that was probed`,
  );
}

function readOrderKnown(lines: PreambleLines): boolean {
  const found = lines.take("order");
  if (!found || found.value === "as written") return true;
  if (found.value === "unknown") return false;
  return refuseSheet(
    "order",
    { name: lines.name, line: found.line },
    `"# order: ${found.value}" is not known; write "as written" or "unknown"`,
  );
}
