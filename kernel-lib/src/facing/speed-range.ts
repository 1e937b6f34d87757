import { MeasurementError } from "../measurement-error.js";
import { type CuttingSpeed, mPerMin } from "../quantity/index.js";
import type { PlateMaterialName } from "./plate-material.js";

/** what the edges of the cutter are made of */
export type EdgeMaterial = "HSS" | "carbide";

/** Cutting speeds that are usual for a material of plate and of edge; made by `facing.speedRange`. */
export interface SpeedRange {
  readonly low: CuttingSpeed;
  readonly high: CuttingSpeed;
  readonly source: string;
}

/** m/min, low and high */
const table: { readonly [name in PlateMaterialName]: { readonly [edge in EdgeMaterial]: readonly [number, number] } } =
  {
    "aluminium 6061-T651": { HSS: [75, 120], carbide: [200, 400] },
    "aluminium 5083-O": { HSS: [75, 120], carbide: [200, 400] },
    "mild steel": { HSS: [20, 30], carbide: [90, 180] },
    "grey iron": { HSS: [18, 28], carbide: [60, 120] },
  };

/**
 * Usual cutting speeds by material of the plate and of the edge.
 *
 * Aluminium with high-speed steel takes cutting fluid, and chips cleared between passes. A small machine may run carbide
 * slower than this; faster than this an edge of high-speed steel is lost.
 *
 * @throws MeasurementError `unknown-material`
 * @see common practice, from memory; the maker of the cutter decides
 * @example
 * facing.speedRange("aluminium 6061-T651", "HSS").high.in("m/min") // => 120
 */
export function speedRange(material: PlateMaterialName, edge: EdgeMaterial): SpeedRange {
  if (!(Object.hasOwn(table, material) && Object.hasOwn(table[material], edge))) {
    throw new MeasurementError(
      "unknown-material",
      `facing.speedRange: "${edge}" in "${material}" is not in the table; use HSS or carbide in ${Object.keys(table).join(", ")}`,
    );
  }
  const [low, high] = table[material][edge];
  return {
    low: mPerMin(low),
    high: mPerMin(high),
    source: "common practice, from memory; the maker of the cutter decides",
  };
}
