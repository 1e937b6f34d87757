import { normalCdf } from "../numerics/index.js";
import type { Kind, Quantity } from "../quantity/index.js";
import type { Measured } from "../uncertainty/index.js";
import { checkTolerance, type Tolerance } from "./tolerance.js";

/**
 * Conformance probability: how likely the true value lies within the tolerance, given this measurement alone.
 *
 * The true value is taken as normal about the measured one with its standard uncertainty; nothing is known beforehand.
 *
 * @throws MeasurementError `tolerance`
 * @see JCGM 106:2012, clause 7
 * @example
 * conformity.conformanceProbability(
 *   Measured.from(input.normal({ label: "V", estimate: plain(-5.47), standardUncertainty: plain(0.05) })),
 *   { upper: plain(-5.4) },
 * ).toFixed(4) // => "0.9192"
 */
export function conformanceProbability<K extends Kind>(measured: Measured<K>, tolerance: Tolerance<K>): number {
  checkTolerance("conformanceProbability", measured, tolerance);
  const u = (measured.standardUncertainty as Quantity<Kind>).si;
  const y = measured.value.si;
  const below = (limit: Quantity<K>) => (u > 0 ? normalCdf((limit.si - y) / u) : y <= limit.si ? 1 : 0);
  const { upper, lower } = tolerance;
  // a value exactly at the lower limit conforms, even when it is known without doubt
  const tooLow = lower === undefined ? 0 : u > 0 ? below(lower) : y < lower.si ? 1 : 0;
  return (upper === undefined ? 1 : below(upper)) - tooLow;
}
