import { MeasurementError } from "../measurement-error.js";
import { type Length, mm } from "../quantity/index.js";

/** Head and hole of a hexagon socket head cap screw. */
export interface CapScrew {
  readonly thread: string;
  /** greatest head height, k */
  readonly headHeight: Length;
  /** greatest diameter of a plain head, d_k */
  readonly headDiameter: Length;
  /** clearance hole, medium series */
  readonly clearanceHole: Length;
  readonly counterboreDiameter: Length;
}

/** greatest head height k and diameter d_k of a plain head: ISO 4762; clearance hole: ISO 273 medium; counterbore:
 * common handbook value for that head. In mm. */
const table: { readonly [thread: string]: readonly [k: number, dk: number, hole: number, counterbore: number] } = {
  M5: [5, 8.5, 5.5, 10],
  M6: [6, 10, 6.6, 11],
  M8: [8, 13, 9, 15],
  M10: [10, 16, 11, 18],
};

/**
 * Hexagon socket head cap screw by its thread: greatest head height and diameter, clearance hole, counterbore.
 *
 * @throws MeasurementError `unknown-thread`
 * @see ISO 4762 (head), ISO 273 (hole)
 * @example
 * facing.capScrew("M10").headHeight.text() // => "10 mm"
 */
export function capScrew(thread: string): CapScrew {
  const row = Object.hasOwn(table, thread) ? table[thread] : undefined;
  if (!row) {
    throw new MeasurementError(
      "unknown-thread",
      `capScrew: "${thread}" is not in the table of ISO 4762 heads; use ${Object.keys(table).join(", ")}, or give headHeight from your own screw`,
    );
  }
  const [headHeight, headDiameter, clearanceHole, counterboreDiameter] = row.map(mm) as [
    Length,
    Length,
    Length,
    Length,
  ];
  return { thread, headHeight, headDiameter, clearanceHole, counterboreDiameter };
}
