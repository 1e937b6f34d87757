import type { Difference, Kind, Quantity, UnitNames, UnitSystem } from "../quantity/index.js";
import { type BudgetRow, budgetRows } from "./budget-rows.js";
import { Evaluation, needQuantity, type Shifted } from "./evaluation.js";
import type { Arguments, Given } from "./given.js";
import type { AnyInput } from "./input.js";
import { contribution, Measured, type Term } from "./measured.js";
import type { MonteCarlo } from "./monte-carlo.js";
import { type SecondOrder, secondOrder } from "./second-order.js";
import { sensitivities } from "./sensitivities.js";
import { type Beyond, budgetSentence, coverageNote } from "./sentence.js";
import { type SimulationOptions, simulate } from "./simulate.js";
import { statement } from "./statement.js";
import { type ProgressMaker, trialProgress } from "./trial-progress.js";
import type { TrialModel } from "./trials.js";

export interface BudgetSpec<I extends { readonly [name: string]: Given }, R extends Kind> {
  /** what is measured, as it will stand in the sentence */
  readonly measurand: string;
  readonly inputs: I;
  /** a plain function of quantities under the names of the inputs */
  readonly model: (inputs: Arguments<I>) => Quantity<R>;
}

/**
 * A measured value with its budget: the table, the share of each input, and a sentence that can be quoted.
 *
 * 95 % means: of intervals value ± U made this way, 95 in 100 hold the true value, provided that the model is right, the
 * inputs are as stated, and together come near a normal (or t) law. `coverageNote` says where that is doubtful.
 */
export class Budget<K extends Kind> extends Measured<K> {
  /** attached by the display folder when the package loads */
  declare readonly [trialProgress]?: ProgressMaker;
  /** @internal every independent input, also those whose sensitivity is zero */
  readonly bases: readonly AnyInput[];
  private readonly errorBounds: ReadonlyMap<AnyInput, number>;
  private beyondFirst: SecondOrder | undefined;

  /** @internal made by `budget` */
  constructor(
    readonly measurand: string,
    value: Quantity<K>,
    terms: readonly Term[],
    errorBounds: readonly number[],
    /** @internal the model on plain numbers: SI shifts of `bases` from their estimates in, SI value out */
    readonly evaluate: Shifted,
    /** @internal the model over many trials */
    readonly overTrials: TrialModel,
  ) {
    super(value, terms);
    this.bases = terms.map(({ input }) => input);
    this.errorBounds = new Map(terms.map(({ input }, k) => [input, errorBounds[k]!]));
  }

  /** One row an input, largest share first. */
  rows(system?: UnitSystem): readonly BudgetRow[] {
    return budgetRows(this, this.errorBounds, system);
  }

  /**
   * The same by the Monte Carlo method: the laws of the inputs propagated through the model itself, for models that bend,
   * inputs known from few readings, and results that are not normal. Earlier results among the inputs move with their own
   * inputs, by their sensitivities.
   *
   * Trials are made until mean, u and the ends of the interval are stable to two digits of u, or as many as are asked
   * for. A longer simulation shows how far it is, and stops when the cell is interrupted.
   *
   * @throws MeasurementError `seed`, `trials`; whatever the model itself refuses
   * @see JCGM 101:2008
   * @example
   * budget({
   *   measurand: "gap",
   *   inputs: { scale: input.rectangular({ label: "scale", estimate: um(20), halfWidth: um(3) }) },
   *   model: ({ scale }) => scale,
   * }).simulate({ seed: 1, trials: 10000 }).symmetric[1].in("um").toFixed(1) // => "22.8"
   */
  simulate(options: SimulationOptions): MonteCarlo<K> {
    return simulate(this, options, this[trialProgress]);
  }

  /** u with the second-order terms of the model; equal to `standardUncertainty` when the model is straight. */
  get secondOrderUncertainty(): Quantity<Difference<K>> {
    return this.difference(this.secondOrderSi());
  }

  override text(unit?: UnitNames[K] | UnitSystem): string {
    if (this.terms.length > 0 || this.secondOrderSi() === 0) return super.text(unit);
    return `${this.value.text(unit)} (first order sees no uncertainty where the model is flat; second order: u = ${(this.secondOrderUncertainty as Quantity<Kind>).text(unit === "inch" ? "inch" : "metric")})`;
  }

  /** Value, U, k, what the 95 % means and where it is doubtful, in one line to quote. */
  sentence(system?: UnitSystem): string {
    return budgetSentence(this, this.beyond(), system);
  }

  /**
   * The statement that JCGM 100, 7.2.4 asks for, at the level of confidence named.
   *
   * @throws MeasurementError `level`
   * @example
   * budget({
   *   measurand: "gap",
   *   inputs: { read: input.t({ label: "reading", estimate: um(20), standardUncertainty: um(1), degreesOfFreedom: 9 }) },
   *   model: ({ read }) => read,
   * }).statement({ level: 0.9545 }) // => "gap = (20.0 ± 2.3) µm, where the number after ± is U = k u, with u = 1.0 µm and k = 2.32 from the t law for 9 degrees of freedom, and defines an interval with a level of confidence of 95.45 %"
   */
  statement(options: { readonly level?: number; readonly unit?: UnitNames[K] | UnitSystem } = {}): string {
    return statement(this, this.measurand, options);
  }

  /** Why the interval may not cover 95 %, and what the reader should know of the inputs; empty when nothing speaks. */
  coverageNote(): string {
    return coverageNote(this, this.beyond());
  }

  private secondOrderSi(): number {
    const first = this.terms.reduce((sum, term) => sum + contribution(term) ** 2, 0);
    return Math.sqrt(Math.max(first + this.second().variance, 0));
  }

  private second(): SecondOrder {
    this.beyondFirst ??= secondOrder(
      this.evaluate,
      this.bases.map((input) => input.uncertaintySi),
    );
    return this.beyondFirst;
  }

  private beyond(): Beyond {
    const { moves } = this.second();
    const idle = this.bases.filter((_, k) => !moves[k]).map(({ label }) => label);
    return { measurand: this.measurand, secondOrderSi: this.secondOrderSi(), idle };
  }
}

/**
 * Error budget of a model: first-order law of propagation, sensitivities found numerically, Welch–Satterthwaite, U at 95 %.
 *
 * Earlier results among the inputs are expanded to their own inputs by the chain rule, so that what they share is
 * counted once and with its sign. Inputs are independent unless they come from `correlated`.
 *
 * @throws MeasurementError `budget` when the model gives no quantity; whatever the model itself refuses
 * @see JCGM 100:2008, clause 5
 * @example
 * budget({
 *   measurand: "growth of the table",
 *   inputs: {
 *     length: mm(500),
 *     alpha: input.rectangular({ label: "expansion", estimate: perKelvin(11e-6), halfWidth: perKelvin(1e-6) }),
 *     warming: input.normal({ label: "warming", estimate: kelvin(4), standardUncertainty: kelvin(0.2) }),
 *   },
 *   model: ({ length, alpha, warming }) => length.times(alpha.times(warming)),
 * }).text("um") // => "22.0 µm ± 3.1 µm (k = 2.0)"
 */
export function budget<I extends { readonly [name: string]: Given }, R extends Kind>(
  spec: BudgetSpec<I, R>,
): Budget<R> {
  const where = `budget "${spec.measurand}"`;
  const evaluation = new Evaluation(where, spec.inputs, spec.model);
  return budgetOfOutput(spec.measurand, evaluation, where, (output) => output);
}

/**
 * @internal the budget of one output of a model
 *
 * @param pick the output as a quantity
 * @param si the same in SI, where there is a quicker way than through the quantity
 */
export function budgetOfOutput<I extends { readonly [name: string]: Given }, O, V, K extends Kind>(
  measurand: string,
  evaluation: Evaluation<I, O, V>,
  where: string,
  pick: (output: O) => Quantity<K>,
  si?: (output: O) => number,
): Budget<K> {
  const { bases } = evaluation;
  const value = needQuantity(where, evaluation.at(new Float64Array(bases.length), pick));
  const siOf = si ?? ((output: O) => needQuantity(where, pick(output), value.kind).si);
  const model: Shifted =
    si === undefined
      ? (shifts) => needQuantity(where, evaluation.at(shifts, pick), value.kind).si
      : (shifts) => evaluation.at(shifts, si);
  const found = sensitivities(
    model,
    bases.map((input) => input.uncertaintySi),
  );
  evaluation.checkAllRead();
  const terms = bases.map((input, k) => ({ input, sensitivity: found.sensitivities[k]! }));
  return new Budget(measurand, value, terms, found.errorBounds, model, evaluation.overTrials(siOf));
}
