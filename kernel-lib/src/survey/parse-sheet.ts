import { cutCells } from "./cells.js";
import type { ColumnMap } from "./column-map.js";
import type { SheetColumns } from "./columns.js";
import type { Gauge } from "./gauge.js";
import { isGridCorner, readGridTable } from "./grid-sheet.js";
import { readLongTable } from "./long-sheet.js";
import { readPreamble } from "./preamble.js";
import { PreambleLines } from "./preamble-lines.js";
import { scanSheet } from "./scan-sheet.js";
import type { Removal, Sheet, SheetUnits } from "./sheet.js";
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

/** The text of a sheet as its bytes, UTF-8, a line end added behind the last; the text itself is made when asked for. */
export interface SheetSource {
  readonly bytes: Uint8Array | undefined;
  readonly text: () => string;
}

interface Table {
  readonly said: PreambleLines;
  readonly units: SheetUnits;
  readonly columns: SheetColumns;
}

/** A sheet given as text. */
export function sourceOfText(text: string): SheetSource {
  return { bytes: new TextEncoder().encode(`${text}\n`), text: () => text };
}

/** Reads a sheet, long or grid, and checks every cell: straight from the bytes where it is plain, else cell by cell. */
export function parseSheet(source: SheetSource, options: ParseOptions): Sheet {
  const name = options.name ?? "pasted sheet";
  const scanned = source.bytes && scanSheet(source.bytes, name, options.columns);
  if (!scanned) return parseCarefully(source.text(), options);
  const said = new PreambleLines(scanned.preamble, name);
  readOrderKnown(said);
  return complete({ ...scanned, said }, options);
}

/** The same cell by cell: says what is wrong and where. */
export function parseCarefully(text: string, options: ParseOptions): Sheet {
  const name = options.name ?? "pasted sheet";
  const { preamble, table } = cutCells(text, name);
  const said = new PreambleLines(preamble, name);
  const orderKnown = readOrderKnown(said);
  const read = isGridCorner(table[0]!.cells[0])
    ? readGridTable(table, name, said)
    : readLongTable(table, name, options.columns, orderKnown);
  return complete({ ...read, said }, options);
}

function complete({ said, units, columns }: Table, options: ParseOptions): Sheet {
  const preamble = readPreamble(said, options);
  for (const removal of preamble.removed) needRemovable(columns, removal, said.name);
  for (const { place } of preamble.looked) needPlace(columns, place, said.name);
  return { name: options.name ?? preamble.title ?? said.name, preamble, units, columns };
}

/** Refuses to set aside a reading that the sheet does not have. */
export function needRemovable(columns: SheetColumns, { place, pass }: Removal, name: string): void {
  const number = columns.labels.indexOf(place);
  for (let i = 0; i < columns.count; i++) {
    if (columns.place[i] === number && columns.pass[i] === pass && !Number.isNaN(columns.z[i])) return;
  }
  refuseSheet(
    "no-such-reading",
    { name },
    `${place}, pass ${pass} is to be removed and has no reading; give a place and pass that was probed`,
  );
}

/** @throws MeasurementError `no-such-place` */
export function needPlace(columns: SheetColumns, place: string, name: string): void {
  if (columns.labels.includes(place)) return;
  refuseSheet(
    "no-such-place",
    { name },
    `${place} was looked at and is no place of the sheet; give a place as it stands there`,
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
