import { MeasurementError } from "../measurement-error.js";
import { type Length, mm } from "../quantity/index.js";

/** A T-slot by what holds in it, each at the limit that is less favourable. */
export interface TSlot {
  /** narrow part at the top */
  readonly throat: Length;
  /** wide part below, greatest */
  readonly recessWidth: Length;
  /** iron over the wide part, least: what the nut pulls against */
  readonly lip: Length;
  /** from the top of the table to the floor of the slot, least */
  readonly depth: Length;
}

/** throat; recess width min, max; recess depth min, max; overall depth min, max, in mm: BS 2485 */
const table: { readonly [screw: string]: readonly [number, number, number, number, number, number, number] } = {
  M4: [5, 10, 11, 3.5, 4.5, 8, 10],
  M5: [6, 11, 12.5, 5, 6, 11, 13],
  M6: [8, 14.5, 16, 7, 8, 15, 18],
  M8: [10, 16, 18, 7, 8, 17, 21],
  M10: [12, 19, 21, 8, 9, 20, 25],
  M12: [14, 23, 25, 9, 11, 23, 28],
  M16: [18, 30, 32, 12, 14, 30, 36],
};

/**
 * T-slot by the screw it is made for, at the less favourable end of its limits: widest recess, thinnest lip, least depth.
 *
 * An old table is seldom to a standard: measure the slot and give its four sizes yourself.
 *
 * @throws MeasurementError `unknown-slot`
 * @see BS 2485
 * @example
 * facing.tSlot("M10").lip.text() // => "11 mm"
 */
export function tSlot(screw: string): TSlot {
  const row = Object.hasOwn(table, screw) ? table[screw] : undefined;
  if (!row) {
    throw new MeasurementError(
      "unknown-slot",
      `facing.tSlot: no slot for "${screw}" is in the table of BS 2485; use ${Object.keys(table).join(", ")}, or give throat, recessWidth, lip and depth as measured`,
    );
  }
  const [throat, , recessWidth, , recessDepth, depth] = row;
  return { throat: mm(throat), recessWidth: mm(recessWidth), lip: mm(depth - recessDepth), depth: mm(depth) };
}
