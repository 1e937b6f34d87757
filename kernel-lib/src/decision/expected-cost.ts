import { display, type MimeBundle } from "../quantity/index.js";
import { costLines } from "./cost-lines.js";
import type { Option } from "./option.js";
import { secondLook } from "./second-look.js";
import type { Simulation } from "./simulation.js";
import { purseOf, type Stakes, sumText } from "./stakes.js";
import { type DrawnMean, type WorthOfLooking, worthOfLooking } from "./worth-of-looking.js";

/** What one option costs on the average. */
export interface CostRow {
  readonly option: Option;
  /** hours and outlay of doing it, in the reader's unit */
  readonly doing: number;
  /** chance that it does not keep the tolerance */
  readonly chanceToMiss: number;
  /** doing it, and the cost of a miss times its chance; the standard error is that of the draws */
  readonly expected: DrawnMean;
}

/** Options by what they cost on the average in the reader's own money or hours, and what one more survey would be worth before deciding. */
export class ExpectedCost {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** currency, or "h" */
  readonly unit: string;
  /** the least first */
  readonly rows: readonly CostRow[];
  /** options that are in no sum, and why */
  readonly leftOut: readonly string[];
  /** what one more survey saves on the average before its own cost, as simulated */
  readonly worth: DrawnMean;
  /** what knowing all would save: no survey can be worth more */
  readonly worthOfCertainty: DrawnMean;
  /** share of the draws in which one more survey changes the choice */
  readonly changes: number;
  /** what one more survey costs */
  readonly measuringAgain: number;
  readonly whatWouldChangeIt: readonly string[];

  /** @internal made by `decision.options` */
  constructor(simulation: Simulation, stakes: Stakes, options: readonly Option[]) {
    const purse = purseOf(stakes);
    const { counted, leftOut } = countedOf(options);
    const missed = purse.costOf("ifMissed", stakes.ifMissed);
    const toleranceUm = simulation.toleranceUm;
    const signals = secondLook(simulation, counted);
    const doing = counted.map((option) => purse.costOf(option.name, option.effort));
    const choices = counted.map(({ drawnUm = [], key }, i) => {
      const shown = signals.get(key);
      return {
        costs: drawnUm.map((f) => doing[i]! + (f <= toleranceUm ? 0 : missed)),
        ...(shown ? { signals: shown } : {}),
      };
    });
    const nothing: DrawnMean = { mean: 0, standardError: 0 };
    const found: WorthOfLooking =
      choices.length > 0
        ? worthOfLooking(choices)
        : { best: 0, expected: [], look: nothing, certainty: nothing, changes: 0 };
    this.unit = purse.unit;
    this.rows = counted
      .map((option, i) => ({
        option,
        doing: doing[i]!,
        chanceToMiss: 1 - option.prediction!.chanceToMeet,
        expected: found.expected[i]!,
      }))
      .toSorted((a, b) => a.expected.mean - b.expected.mean);
    this.leftOut = leftOut;
    this.worth = found.look;
    this.worthOfCertainty = found.certainty;
    this.changes = found.changes;
    this.measuringAgain = purse.costOf("measuringAgain", stakes.measuringAgain);
    this.whatWouldChangeIt =
      this.rows.length === 0 ? [] : [this.sentence(), ...costLines(this.rows, stakes, purse, toleranceUm)];
    Object.freeze(this);
  }

  /** Whether one more survey is worth its cost; "not told" where the draws do not say. */
  get measureAgain(): "worth it" | "not worth it" | "not told" {
    const [low, high] = this.worthInterval;
    if (low > this.measuringAgain) return "worth it";
    if (high < this.measuringAgain) return "not worth it";
    return "not told";
  }

  /** 95 % interval of the worth by the number of draws, not below nothing and not above that of certainty */
  get worthInterval(): readonly [number, number] {
    const { mean, standardError } = this.worth;
    const most = this.worthOfCertainty.mean + 1.96 * this.worthOfCertainty.standardError;
    const inside = (value: number) => Math.min(Math.max(value, 0), Math.max(most, 0));
    return [inside(mean - 1.96 * standardError), inside(mean + 1.96 * standardError)];
  }

  toString(): string {
    const [first] = this.rows;
    if (first === undefined) return `no option gives its hours: nothing can be added up; ${this.leftOut.join("; ")}`;
    return `least on the average: ${first.option.name}, ${sumText(first.expected.mean, this.unit)}; ${this.sentence()}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private sentence(): string {
    const [low, high] = this.worthInterval;
    const worth = `one more survey of the same places before deciding is worth ${sumText(Math.max(0, this.worth.mean), this.unit)} on the average (95 % interval of the simulation ${sumText(low, this.unit)} to ${sumText(high, this.unit)}) and costs ${sumText(this.measuringAgain, this.unit)}`;
    const words = {
      "worth it": "measure again first",
      "not worth it": "decide now",
      "not told": "the draws do not tell which, take more draws or decide as you like",
    }[this.measureAgain];
    return `${worth}: ${words}; it would change the choice ${(100 * this.changes).toFixed(0)} times in 100, and knowing everything would be worth ${sumText(this.worthOfCertainty.mean, this.unit)}`;
  }
}

function countedOf(options: readonly Option[]): {
  readonly counted: readonly Option[];
  readonly leftOut: readonly string[];
} {
  const why = ({ key, drawnUm, effort }: Option): string => {
    if (key === "tram") return "changes no map";
    if (drawnUm === undefined) return "can't be judged";
    return effort.hours === undefined ? "its hours are not given" : "";
  };
  return {
    counted: options.filter((option) => why(option) === ""),
    leftOut: options.flatMap((option) => (why(option) === "" ? [] : [`${option.name}: ${why(option)}`])),
  };
}
