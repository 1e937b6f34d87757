import { MeasurementError } from "../measurement-error.js";
import { ByteCells, notPlain } from "./byte-cells.js";
import { textOf } from "./byte-words.js";
import { cutCells, longestLine, type SheetCells } from "./cells.js";
import { ColumnBuilder } from "./column-builder.js";
import type { ColumnMap } from "./column-map.js";
import type { SheetColumns } from "./columns.js";
import { isGridCorner } from "./grid-sheet.js";
import { type Headings, readHeadings } from "./headings.js";
import { isPreamble, isRowOfBlanks } from "./preamble-text.js";
import { isRepeated } from "./repeated-cells.js";
import type { SheetUnits } from "./sheet.js";

/** A long sheet read from its bytes. */
export interface ScannedSheet {
  readonly preamble: SheetCells["preamble"];
  readonly units: SheetUnits;
  readonly columns: SheetColumns;
}

/**
 * Reads a plain long sheet straight from its bytes, which end in a line end: no quotation marks in the table, numbers
 * as digits, every check passed. Undefined where anything is out of the ordinary: the careful way then reads the same
 * sheet, or says what is wrong with it and where.
 */
export function scanSheet(bytes: Uint8Array, name: string, map: ColumnMap | undefined): ScannedSheet | undefined {
  const head = headOf(bytes, name, map);
  if (!head) return undefined;
  const { preamble, headings, separator } = head;
  const said = preamble.find(({ text }) => /^order\s*:/i.test(text))?.text;
  if (said !== undefined && !/^order\s*:\s*(as written|unknown)$/.test(said)) return undefined;
  const builder = new ColumnBuilder(bytes, head.end, headings);
  const cells = new ByteCells(bytes, separator);
  let at = head.end;
  while (at < bytes.length) {
    const blank = cells.endLine(at);
    const next = blank === notPlain ? builder.readRow(cells, at) : blank;
    if (next === notPlain || next - at > longestLine) return undefined;
    at = next;
  }
  const columns = builder.columns(said === undefined || said.endsWith("as written"));
  if (columns.count === 0 || isRepeated(columns)) return undefined;
  return { preamble, units: headings.units, columns };
}

interface Head {
  readonly preamble: SheetCells["preamble"];
  readonly headings: Headings;
  /** the byte between cells */
  readonly separator: number;
  /** where the first row begins */
  readonly end: number;
}

/** the lines down to the heading of a long sheet, read as the careful way does */
function headOf(bytes: Uint8Array, name: string, map: ColumnMap | undefined): Head | undefined {
  let start = 0;
  for (;;) {
    const end = lineEnd(bytes, start);
    if (end === undefined || end - start > longestLine) return undefined;
    const line = textOf(bytes, start, end).replace(/^\uFEFF/, "");
    start = end;
    if (line.trim() === "" || isPreamble(line) || isRowOfBlanks(line)) continue;
    if (line.includes('"')) return undefined;
    break;
  }
  try {
    const text = textOf(bytes, 0, start);
    if (text.includes("\uFFFD")) return undefined;
    const { preamble, table, separator } = cutCells(text, name);
    const heading = table[0]!;
    if (table.length !== 1 || isGridCorner(heading.cells[0])) return undefined;
    return { preamble, headings: readHeadings(heading, name, map), separator: separator.charCodeAt(0), end: start };
  } catch (error) {
    if (error instanceof MeasurementError) return undefined;
    throw error;
  }
}

/** the place behind the line end that follows */
function lineEnd(bytes: Uint8Array, from: number): number | undefined {
  for (let i = from; i < bytes.length; i++) {
    if (bytes[i] === 10) return i + 1;
    if (bytes[i] === 13) return bytes[i + 1] === 10 ? i + 2 : i + 1;
  }
  return undefined;
}
