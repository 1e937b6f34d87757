import { MeasurementError } from "../src/measurement-error.js";
import { parseDecimal } from "../src/quantity/parse.js";
import type { Gauge } from "../src/survey/gauge.js";
import { isGridCorner } from "../src/survey/grid-sheet.js";
import { type Facing, facingOf } from "../src/survey/plan-outline.js";
import { readFrame } from "../src/survey/preamble-frame.js";
import { mergeGauge } from "../src/survey/preamble-gauge.js";
import { PreambleLines } from "../src/survey/preamble-lines.js";
import { readOutlineLines, type SaidOutline } from "../src/survey/preamble-outline.js";
import { isDatum, type SheetUnits } from "../src/survey/sheet.js";
import type { SheetText } from "../src/survey/sheet-text.js";
import type { Frame } from "../src/survey/surface.js";
import { gridPlaces } from "./sheet-grid.js";
import { longPlaces } from "./sheet-long.js";
import { type OrderSaid, typingOrder } from "./sheet-order.js";
import { rowPlaces } from "./sheet-rows.js";

/** One reading that the sheet asks for, written or not. */
export interface Spot {
  /** tells it from every other one, also after rows were moved: place, pass, which time it is read in that pass, and what
   * is said of it instead of the pass where the sheet is none of a survey */
  readonly key: string;
  readonly place: string;
  readonly pass: number;
  /** row of the table, and the column that takes the reading */
  readonly row: number;
  readonly column: number;
  readonly xMm: number | undefined;
  readonly yMm: number | undefined;
  /** x and y as the sheet writes them, with their unit */
  readonly where: string;
  /** number in the sheet's own order */
  readonly order: number | undefined;
}

/** Columns beside the reading that are filled in with it. */
export interface SideColumns {
  readonly time?: number;
  readonly temperature?: number;
  readonly note?: number;
}

/** A sheet as the page shows it: every reading in the order in which it is typed. */
export interface SheetModel {
  readonly text: SheetText;
  readonly kind: "long" | "grid" | "rows";
  readonly units: SheetUnits;
  readonly side: SideColumns;
  readonly spots: readonly Spot[];
  readonly passes: readonly number[];
  /** whose order it is: a column's, that of the rows, or ours, as the sheet names none */
  readonly orderSaid: OrderSaid;
  /** what divides the decimals on this sheet */
  readonly mark: "." | ",";
  readonly frame: Frame | undefined;
  readonly facing: Facing | undefined;
  readonly gauge: Gauge | undefined;
  readonly outline: SaidOutline;
  /** why the sheet cannot be read as a survey yet, one sentence each */
  readonly open: readonly string[];
}

/** what the readers of long sheets and grids find */
export interface FoundPlaces {
  readonly units: SheetUnits;
  readonly side: SideColumns;
  readonly spots: readonly Spot[];
  readonly hasOrder: boolean;
  /** cells that hold numbers, to see which decimal mark is used */
  readonly numbers: Iterable<string>;
}

/**
 * Reads the table of a sheet, filled in or not. What the lines above the heading do not say yet is no reason
 * to refuse it: they are filled in on the page.
 *
 * @throws MeasurementError where the heading is none that this page knows, or a row of a survey names no place and pass
 */
export function modelOf(text: SheetText): SheetModel {
  const rows = rowPlaces(text);
  const kind = rows ? "rows" : isGridCorner(text.heading[0]) ? "grid" : "long";
  const open: string[] = [];
  const attempt = <T>(read: () => T): T | undefined => {
    try {
      return read();
    } catch (error) {
      if (!(error instanceof MeasurementError)) throw error;
      open.push(error.message);
      return undefined;
    }
  };
  const said = attempt(() => new PreambleLines(text.preamble, text.name));
  const orderLine = said?.take("order")?.value;
  const found = rows ?? (kind === "grid" ? gridPlaces(text, said?.takeText("z")) : longPlaces(text));
  const frame = said && !rows ? attempt(() => readFrame(said, undefined)) : undefined;
  const facing = frame && facingOf(frame);
  const saysGauge = said && (!rows || said.keysFrom("gauge").length > 0);
  const gauge = saysGauge ? attempt(() => mergeGauge(said, undefined)) : undefined;
  const orderSaid = found.hasOrder ? "column" : kind === "grid" || orderLine === "unknown" ? "ours" : "rows";
  return {
    text,
    kind,
    units: found.units,
    side: found.side,
    spots: typingOrder(found.spots, orderSaid, facing),
    passes: [...new Set(found.spots.map(({ pass }) => pass))].sort((a, b) => a - b),
    orderSaid,
    mark: markOf(found.numbers),
    frame,
    facing,
    gauge,
    outline: readOutlineLines(text.head),
    open,
  };
}

/** "pass 2", "run 3"; nothing where the sheet is read once */
export function groupOf({ key, pass }: Pick<Spot, "key" | "pass">): string {
  return (JSON.parse(key) as readonly [string, number, number, string?])[3] ?? `pass ${pass}`;
}

/** the reading as it stands on the sheet */
export function cellOf({ text }: SheetModel, spot: Spot, column = spot.column): string {
  return text.row(spot.row)[column] ?? "";
}

/** number in a cell; undefined where it is blank or no number */
export function numberIn(cell: string): number | undefined {
  return cell === "" ? undefined : parseDecimal(cell);
}

export { isDatum };

function markOf(numbers: Iterable<string>): "." | "," {
  for (const cell of numbers) {
    const mark = /[.,]/.exec(cell)?.[0];
    if (mark !== undefined && parseDecimal(cell) !== undefined) return mark as "." | ",";
  }
  return ".";
}
