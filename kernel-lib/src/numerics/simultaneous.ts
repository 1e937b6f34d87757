import { MeasurementError } from "../measurement-error.js";
import { tQuantile } from "./distributions.js";

/**
 * How many standard uncertainties one of many places must stand out, either way, before chance alone explains it in
 * fewer than 1 − `level` of whole surveys (Šidák's limit for independent places).
 *
 * @param count how many places are looked at
 * @param degreesOfFreedom of the standard uncertainty
 * @throws MeasurementError `count`, `probability`
 * @example
 * numerics.simultaneousFactor(90).toFixed(2) // => "3.45"
 */
export function simultaneousFactor(count: number, degreesOfFreedom = Number.POSITIVE_INFINITY, level = 0.95): number {
  if (!(count >= 1 && Number.isFinite(count))) {
    throw new MeasurementError("count", `simultaneousFactor: ${count} places; give a whole number from 1`);
  }
  // −expm1(log …): 1 − level^(1/count) without losing digits for many places
  const each = -Math.expm1(Math.log(level) / count);
  return tQuantile(1 - each / 2, degreesOfFreedom);
}
