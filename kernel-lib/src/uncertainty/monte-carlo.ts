import type { SampleSummary } from "../numerics/index.js";
import { type Difference, display, type Kind, type MimeBundle, Quantity, type UnitSystem } from "../quantity/index.js";
import type { BudgetRow } from "./budget-rows.js";
import type { Measured } from "./measured.js";
import { hasNoSpread, spreadOf, type Validation, validate } from "./monte-carlo-check.js";
import type { Histogram } from "./monte-carlo-histogram.js";
import { monteCarloSentence } from "./monte-carlo-sentence.js";

/** A result with its first-order figures, as a simulation is held against. */
export interface FirstOrder<K extends Kind> extends Measured<K> {
  readonly measurand: string;
  rows(system?: UnitSystem): readonly BudgetRow[];
}

/** How a simulation went. */
export interface SimulationFacts {
  readonly seed: number;
  /** significant digits of u that were to be stable */
  readonly digits: number;
  /** false: as many trials as allowed did not make the figures stable; undefined: their number was given */
  readonly settled: boolean | undefined;
}

/**
 * A measured value by the Monte Carlo method: the laws of the inputs propagated through the model itself.
 *
 * 95 % intervals: `symmetric` leaves as much out below as above, `shortest` is the shortest there is. No u is given where
 * an input has none (Student's t with ν ≤ 2); the quantiles hold all the same.
 *
 * @see JCGM 101:2008, clauses 7 and 8
 */
export class MonteCarlo<K extends Kind> {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly kind: K;
  readonly measurand: string;
  readonly seed: number;
  readonly trials: number;
  readonly digits: number;
  readonly settled: boolean | undefined;
  /** 95 %, as much below as above */
  readonly symmetric: readonly [Quantity<K>, Quantity<K>];
  /** 95 %, the shortest */
  readonly shortest: readonly [Quantity<K>, Quantity<K>];
  readonly histogram: Histogram;
  /** the first-order interval held against the simulated one */
  readonly validation: Validation;
  private readonly summary: SampleSummary;

  /** @internal made by `simulate` of a budget */
  constructor(
    /** the budget with its first-order figures */
    readonly firstOrder: FirstOrder<K>,
    histogram: Histogram,
    summary: SampleSummary,
    { seed, digits, settled }: SimulationFacts,
  ) {
    this.kind = firstOrder.kind;
    this.measurand = firstOrder.measurand;
    this.seed = seed;
    this.digits = digits;
    this.settled = settled;
    this.summary = summary;
    this.trials = summary.count;
    this.symmetric = this.ends(summary.symmetric);
    this.shortest = this.ends(summary.shortest);
    this.histogram = histogram;
    this.validation = validate(firstOrder, this.facts(), digits);
    Object.freeze(this);
  }

  /** Mean of the simulated values. */
  get value(): Quantity<K> {
    return Quantity.fromSi(this.kind, this.summary.mean);
  }

  /** Their standard deviation; undefined where an input's law has none. */
  get standardUncertainty(): Quantity<Difference<K>> | undefined {
    return hasNoSpread(this.firstOrder.terms) ? undefined : this.difference(this.summary.standardDeviation);
  }

  /** What digits are taken from: u, or a quarter of the interval where there is none. */
  get spread(): Quantity<Difference<K>> {
    return this.difference(spreadOf(this.firstOrder.terms, this.facts()));
  }

  /** Value, u, both intervals, trials and seed, and whether the first-order figures hold, in one line to quote. */
  sentence(system?: UnitSystem): string {
    return monteCarloSentence(this, system);
  }

  toString(): string {
    return this.sentence();
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private facts() {
    const { mean, standardDeviation, symmetric } = this.summary;
    return { trials: this.trials, mean, standardDeviation, symmetric, histogram: this.histogram };
  }

  private ends([low, high]: readonly [number, number]): readonly [Quantity<K>, Quantity<K>] {
    return [Quantity.fromSi(this.kind, low), Quantity.fromSi(this.kind, high)];
  }

  private difference(si: number): Quantity<Difference<K>> {
    const kind = this.kind === "temperature" ? "temperature difference" : this.kind;
    return Quantity.fromSi(kind as Difference<K> & Kind, si) as Quantity<Difference<K>>;
  }
}
