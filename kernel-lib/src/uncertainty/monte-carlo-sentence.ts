import type { Kind, Quantity, UnitSystem } from "../quantity/index.js";
import { inUnit } from "../quantity/kinds.js";
import { printNumber, unitFor, withUnit } from "../quantity/print.js";
import { withCaveats } from "./caveat.js";
import type { MonteCarlo } from "./monte-carlo.js";
import { decimalsFor, printRounded, report, sizeOf } from "./report.js";

/** Prints values of a result: all in the unit of its value, to two digits of u. */
export function valuePrinter<K extends Kind>(result: MonteCarlo<K>, system?: UnitSystem): (si: number) => string {
  const unit = unitFor(result.kind, result.firstOrder.value.si, system);
  const decimals = decimalsFor((result.spread as Quantity<Kind>).si / sizeOf(unit));
  return (si) => withUnit(printRounded(inUnit(unit, si), decimals), unit);
}

/** The line that can be quoted. */
export function monteCarloSentence<K extends Kind>(result: MonteCarlo<K>, system?: UnitSystem): string {
  const { measurand, value, standardUncertainty, shortest, symmetric } = result;
  const spread = (result.spread as Quantity<Kind>).si;
  const printer = valuePrinter(result, system);
  const print = (quantity: Quantity<K>) => printer(quantity.si);
  const mean =
    standardUncertainty === undefined
      ? "no mean and no u, as the law of an input has none"
      : `mean ${print(value)}, u = ${report(result.kind, result.firstOrder.value.si, spread, system).uncertainty}`;
  const intervals = `95 % lie within ${print(shortest[0])} to ${print(shortest[1])} (shortest), or ${print(symmetric[0])} to ${print(symmetric[1])} (as many below as above)`;
  const sentence = `${measurand}: ${mean}; ${intervals}; ${trialsText(result)} (JCGM 101); ${validationText(result, system)}`;
  return withCaveats(sentence, result.firstOrder.caveats);
}

function trialsText<K extends Kind>({ trials, seed, settled, digits }: MonteCarlo<K>): string {
  const digitsText = digits === 1 ? "one digit" : "two digits";
  const state =
    settled === undefined
      ? ""
      : settled
        ? `, stable to ${digitsText} of u`
        : `, not yet stable to ${digitsText} of u: ask for more trials, or for one digit`;
  return `${grouped(trials)} trials from seed ${seed}${state}`;
}

/** Whether the first-order interval holds, by how much it is off, and why. */
export function validationText<K extends Kind>(result: MonteCarlo<K>, system?: UnitSystem): string {
  const { toleranceSi, lowDifferenceSi, highDifferenceSi, outcome, reasons } = result.validation;
  const { kind } = result.spread as Quantity<Kind>;
  const print = (si: number) => {
    const unit = unitFor(kind, si, system);
    return withUnit(printNumber(si / sizeOf(unit), 2), unit);
  };
  const ends = `its ends are off by ${print(lowDifferenceSi)} below and ${print(highDifferenceSi)} above`;
  const limit = `${print(toleranceSi)}, half a unit of the last digit of u`;
  switch (outcome) {
    case "agrees":
      return `the first-order interval agrees: ${ends}, less than ${limit}`;
    case "not told":
      return `whether the first-order interval agrees cannot be told with so few trials: ${ends}, and it would agree up to ${limit}`;
    case "differs":
      return `the first-order interval differs: ${ends}, more than ${limit}; ${reasons.join("; ")}; quote the simulated interval`;
  }
}

/** a count in groups of three digits */
export function grouped(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, "\u202f");
}
