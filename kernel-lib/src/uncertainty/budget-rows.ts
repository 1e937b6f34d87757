import type { Kind, UnitSystem } from "../quantity/index.js";
import { inUnit } from "../quantity/kinds.js";
import { printNumber, printSignificantTwo, unitFor, withUnit } from "../quantity/print.js";
import type { AnyInput } from "./input.js";
import { contribution, type Measured } from "./measured.js";
import { decimalsFor, printRounded, sizeOf } from "./report.js";

/** One line of a budget table: texts with their units, and the numbers behind them. */
export interface BudgetRow {
  readonly label: string;
  /** "11.50 µm/(m·K)" */
  readonly value: string;
  readonly standardUncertainty: string;
  readonly distribution: string;
  readonly evaluation: "A" | "B";
  /** "2000 µm/(µm/(m·K))": result per input */
  readonly sensitivity: string;
  /** the differences that gave the sensitivity agree to this, relative */
  readonly sensitivityDoubt: number;
  /** |sensitivity| × u, in the unit of the result */
  readonly contribution: string;
  /** share of the variance, 0 to 1 */
  readonly share: number;
  readonly degreesOfFreedom: number;
  readonly source: string;
  readonly input: AnyInput;
}

/**
 * The rows of a result, largest share first.
 *
 * @example
 * uncertainty.budgetRows(Measured.from(input.rectangular({ label: "scale", estimate: um(5), halfWidth: um(3) }))).at(0)?.contribution // => "1.7 µm"
 */
export function budgetRows<K extends Kind>(
  result: Measured<K>,
  errorBounds: ReadonlyMap<AnyInput, number> = new Map(),
  system: UnitSystem = "metric",
): readonly BudgetRow[] {
  const total = Math.hypot(...result.terms.map(contribution));
  const unit = unitFor(result.kind, result.value.si, system);
  return [...result.terms]
    .sort((a, b) => contribution(b) - contribution(a))
    .map((term) => {
      const { input, sensitivity } = term;
      const own = unitFor(input.estimate.kind, input.estimate.si, system);
      const u = input.uncertaintySi / sizeOf(own);
      const part = contribution(term);
      return {
        label: input.label,
        value: withUnit(printRounded(inUnit(own, input.estimate.si), decimalsFor(u)), own),
        standardUncertainty: withUnit(printSignificantTwo(u), own),
        distribution: input.distribution,
        evaluation: input.evaluation,
        sensitivity: spaced(printNumber((sensitivity * sizeOf(own)) / sizeOf(unit), 3), per(unit.symbol, own.symbol)),
        sensitivityDoubt: (errorBounds.get(input) ?? 0) / Math.abs(sensitivity),
        contribution: withUnit(printSignificantTwo(part / sizeOf(unit)), unit),
        share: (part / total) ** 2,
        degreesOfFreedom: input.degreesOfFreedom,
        source: input.source,
        input,
      };
    });
}

function spaced(text: string, symbol: string): string {
  return symbol === "" ? text : `${text} ${symbol}`;
}

function per(result: string, input: string): string {
  if (result === input) return "";
  if (input === "") return result;
  return `${result || "1"}/${input.includes("/") ? `(${input})` : input}`;
}
