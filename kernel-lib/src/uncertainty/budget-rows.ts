import type { Kind, UnitSystem } from "../quantity/index.js";
import { inUnit, type Unit } from "../quantity/kinds.js";
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
        standardUncertainty: smallText(input.estimate.kind, input.uncertaintySi, own, system),
        distribution: input.distribution,
        evaluation: input.evaluation,
        sensitivity: spaced(
          powersWritten(printNumber((sensitivity * sizeOf(own)) / sizeOf(unit), 3)),
          per(unit.symbol, own.symbol),
        ),
        sensitivityDoubt: (errorBounds.get(input) ?? 0) / Math.abs(sensitivity),
        contribution: smallText(result.kind, part, unit, system, (part / total) ** 2),
        share: (part / total) ** 2,
        degreesOfFreedom: input.degreesOfFreedom,
        source: input.source,
        input,
      };
    });
}

/** a number below this reads better in a smaller unit, or is nothing beside the others */
const least = 0.001;

/** Two digits in the unit given, in a smaller one where that takes no power of ten; "< 0.001 µm" where it makes up nothing of the variance. */
function smallText(kind: Kind, si: number, unit: Unit, system: UnitSystem, share = 1): string {
  const size = si / sizeOf(unit);
  const isSmall = size > 0 && size < least;
  if (isSmall && share < 0.0005) return `< ${withUnit(String(least), unit)}`;
  const suited = isSmall ? unitFor(kind, si, system) : unit;
  return withUnit(powersWritten(printSignificantTwo(si / sizeOf(suited))), suited);
}

/** "4.1e−5" as it is written by hand: 4.1 × 10⁻⁵ */
function powersWritten(text: string): string {
  const raised = (digits: string) =>
    Array.from(digits, (digit) => "⁰¹²³⁴⁵⁶⁷⁸⁹"["0123456789".indexOf(digit)] ?? "⁻").join("");
  return text.replace(/e\+?(−?\d+)$/, (_, power: string) => ` × 10${raised(power)}`);
}

function spaced(text: string, symbol: string): string {
  return symbol === "" ? text : `${text} ${symbol}`;
}

function per(result: string, input: string): string {
  if (result === input) return "";
  if (input === "") return result;
  return `${result || "1"}/${input.includes("/") ? `(${input})` : input}`;
}
