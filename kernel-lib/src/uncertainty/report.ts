import type { Kind, UnitNames, UnitSystem } from "../quantity/index.js";
import { inUnit, type Unit } from "../quantity/kinds.js";
import { printDecimals, unitFor, withUnit } from "../quantity/print.js";

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

/** how many SI units one unit is: what a difference is divided by */
export function sizeOf(unit: Unit): number {
  return unit.times / unit.per;
}

/** Decimal place of the second significant digit; negative for tens and hundreds. */
export function decimalsFor(spread: number): number {
  if (!(spread > 0 && Number.isFinite(spread))) return 6;
  const exponent = Number(spread.toExponential(1).split("e")[1]);
  return 1 - exponent;
}

export function printRounded(value: number, decimals: number): string {
  if (decimals >= 0) return printDecimals(value, decimals);
  const step = 10 ** -decimals;
  return printDecimals(Math.round(value / step) * step, 0);
}
