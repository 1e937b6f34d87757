import type { Kind, Quantity, UnitNames, UnitSystem } from "../quantity/index.js";
import { inUnit } from "../quantity/kinds.js";
import { printNumber, unitFor, withUnit } from "../quantity/print.js";
import type { Measured } from "./measured.js";
import { decimalsFor, printRounded, sizeOf } from "./report.js";

/** A level of confidence as printed: "95 %", "95.45 %". */
export function levelText(level: number): string {
  return `${printNumber(100 * level, 6)} %`;
}

/** JCGM 100, 7.2.4: value ± U, u, k, where k comes from, the level of confidence. */
export function statement<K extends Kind>(
  result: Measured<K>,
  measurand: string,
  {
    level = 0.95,
    unit,
  }: { readonly level?: number | undefined; readonly unit?: UnitNames[K] | UnitSystem | undefined } = {},
): string {
  const found = unitFor(result.kind, result.value.si, unit);
  const U = (result.expandedUncertainty(level) as Quantity<Kind>).si / sizeOf(found);
  const u = (result.standardUncertainty as Quantity<Kind>).si / sizeOf(found);
  if (!(U > 0)) return `${measurand} = ${result.text(unit)}`;
  const decimals = decimalsFor(U);
  const value = printRounded(inUnit(found, result.value.si), decimals);
  const pair = withUnit(`(${value} ± ${printRounded(U, decimals)})`, found);
  const nu = result.effectiveDegreesOfFreedom;
  const law = nu === Number.POSITIVE_INFINITY ? "the normal law" : `the t law for ${Math.trunc(nu)} degrees of freedom`;
  const printedU = withUnit(printRounded(u, decimalsFor(u)), found);
  return `${measurand} = ${pair}, where the number after ± is U = k u, with u = ${printedU} and k = ${result.coverageFactor(level).toFixed(2)} from ${law}, and defines an interval with a level of confidence of ${levelText(level)}`;
}

/**
 * Value and standard uncertainty in short, JCGM 100, 7.2.2: "100.02147(35) g", the digits in brackets being u in the last
 * places of the value.
 */
export function concise<K extends Kind>(result: Measured<K>, unit?: UnitNames[K] | UnitSystem): string {
  const found = unitFor(result.kind, result.value.si, unit);
  const u = (result.standardUncertainty as Quantity<Kind>).si / sizeOf(found);
  if (!(u > 0)) return result.value.text(unit);
  const decimals = decimalsFor(u);
  const value = printRounded(inUnit(found, result.value.si), decimals);
  // a u of one unit or more keeps its own point: 3.4(1.2), not 3.4(12)
  const digits = u >= 1 || decimals <= 0 ? printRounded(u, decimals) : String(Math.round(u * 10 ** decimals));
  return withUnit(`${value}(${digits})`, found);
}
