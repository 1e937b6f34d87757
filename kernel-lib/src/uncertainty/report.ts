import type { Kind, UnitNames, UnitSystem } from "../quantity/index.js";
import { inUnit } from "../quantity/kinds.js";
import { decimalsFor, printRounded, sizeOf, unitFor, withUnit } from "../quantity/print.js";

export { decimalsFor, printRounded, sizeOf };

/** A value and its uncertainty as printed, in one unit. */
export interface Report {
  /** "23.0 µm" */
  readonly value: string;
  /** "4.1 µm" */
  readonly uncertainty: string;
}

/**
 * Value and uncertainty as JCGM 100, 7.2.6 asks: the uncertainty to two digits, the value to the same decimal place.
 *
 * @param kind kind of the value
 * @param value in SI
 * @param uncertainty in SI, of the difference kind
 * @example
 * uncertainty.report("length", 23.04e-6, 4.14e-6).value // => "23.0 µm"
 */
export function report<K extends Kind>(
  kind: K,
  value: number,
  uncertainty: number,
  unit?: UnitNames[K] | UnitSystem,
): Report {
  const found = unitFor(kind, value, unit);
  const spread = uncertainty / sizeOf(found);
  const decimals = decimalsFor(spread);
  return {
    value: withUnit(printRounded(inUnit(found, value), decimals), found),
    uncertainty: withUnit(printRounded(spread, decimals), found),
  };
}
