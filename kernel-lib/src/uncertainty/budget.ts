import { MeasurementError } from "../measurement-error.js";
import { type Difference, type Kind, Quantity, type UnitNames } from "../quantity/index.js";
import { type BudgetRow, budgetRows } from "./budget-rows.js";
import { type AnyInput, Input } from "./input.js";
import { type AnyMeasured, contribution, Measured, type Term } from "./measured.js";
import { secondOrderVariance, sensitivities } from "./sensitivities.js";
import { budgetSentence, coverageNote } from "./sentence.js";

/** What may go into a budget: an input, an earlier result, or a quantity taken as exact. */
export type Given = Quantity<Kind> | AnyInput | AnyMeasured;

/** the kind of what was given */
export type KindOf<G> =
  G extends Quantity<infer K>
    ? K
    : G extends { readonly estimate: Quantity<infer K> }
      ? K
      : G extends { readonly value: Quantity<infer K> }
        ? K
        : never;

/** what the model is called with: a quantity of the right kind under each name */
export type Arguments<I> = { readonly [P in keyof I]: Quantity<KindOf<I[P]>> };

export interface BudgetSpec<I extends { readonly [name: string]: Given }, R extends Kind> {
  /** what is measured, as it will stand in the sentence */
  readonly measurand: string;
  readonly inputs: I;
  /** a plain function of quantities under the names of the inputs */
  readonly model: (inputs: Arguments<I>) => Quantity<R>;
}

type Shifted = (shifts: ArrayLike<number>) => number;

/**
 * A measured value with its budget: the table, the share of each input, and a sentence that can be quoted.
 *
 * 95 % means: of intervals value ± U made this way, 95 in 100 hold the true value, provided that the model is right, the
 * inputs are as stated, and together come near a normal (or t) law. `coverageNote` says where that is doubtful.
 */
export class Budget<K extends Kind> extends Measured<K> {
  private secondOrder: number | undefined;

  /** @internal made by `budget` */
  constructor(
    readonly measurand: string,
    value: Quantity<K>,
    terms: readonly Term[],
    private readonly errorBounds: ReadonlyMap<AnyInput, number>,
    private readonly model: Shifted,
  ) {
    super(value, terms);
  }

  /** One row an input, largest share first. */
  rows(): readonly BudgetRow[] {
    return budgetRows(this, this.errorBounds);
  }

  /** u with the second-order terms of the model; equal to `standardUncertainty` when the model is straight. */
  get secondOrderUncertainty(): Quantity<Difference<K>> {
    return this.difference(this.secondOrderSi());
  }

  override text(unit?: UnitNames[K]): string {
    if (this.terms.length > 0 || this.secondOrderSi() === 0) return super.text(unit);
    return `${this.value.text(unit)} (first order sees no uncertainty where the model is flat; second order: u = ${this.secondOrderUncertainty})`;
  }

  /** Value, U, k, what the 95 % means and where it is doubtful, in one line to quote. */
  sentence(): string {
    return budgetSentence(this, { measurand: this.measurand, secondOrderSi: this.secondOrderSi() });
  }

  /** Why the interval may not cover 95 %; empty when nothing speaks against it. */
  coverageNote(): string {
    return coverageNote(this, this.secondOrderSi());
  }

  private secondOrderSi(): number {
    const steps = [...this.errorBounds.keys()].map((input) => input.uncertaintySi);
    const first = this.terms.reduce((sum, term) => sum + contribution(term) ** 2, 0);
    this.secondOrder ??= Math.sqrt(Math.max(first + secondOrderVariance(this.model, steps), 0));
    return this.secondOrder;
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
  const names = Object.entries(spec.inputs).map(([name, given]) => ({ name, ...opened(name, given) }));
  const bases = [...new Set(names.flatMap(({ terms }) => terms.map((term) => term.input)))];
  const place = new Map(bases.map((input, k) => [input, k]));
  const call = (shifts: ArrayLike<number>): Quantity<R> => {
    const moved: { [name: string]: Quantity<Kind> } = {};
    for (const { name, value, terms } of names) {
      const si = terms.reduce((sum, term) => sum + term.sensitivity * shifts[place.get(term.input)!]!, value.si);
      moved[name] = Quantity.fromSi(value.kind, si);
    }
    return spec.model(moved as Arguments<I>);
  };
  const steps = bases.map((input) => input.uncertaintySi);
  const value = call(new Float64Array(bases.length));
  if (!(value instanceof Quantity)) {
    throw new MeasurementError(
      "budget",
      `budget "${spec.measurand}": the model gives ${String(value)}, not a quantity; end it with a value that has a unit`,
    );
  }
  const model: Shifted = (shifts) => call(shifts).si;
  const found = sensitivities(model, steps);
  const terms = bases.map((input, k) => ({ input, sensitivity: found.sensitivities[k]! }));
  const bounds = new Map(bases.map((input, k) => [input, found.errorBounds[k]!]));
  return new Budget(spec.measurand, value, terms, bounds, model);
}

/** a given thing as a value and its sensitivities */
function opened(name: string, given: Given): AnyMeasured {
  if (given instanceof Quantity) return { value: given, terms: [] };
  if (given instanceof Input) return { value: given.estimate, terms: [{ input: given, sensitivity: 1 }] };
  if (given instanceof Measured) return { value: given.value, terms: given.terms };
  throw new MeasurementError(
    "budget",
    `budget: ${String(given)} was given for "${name}"; give an input, a measured value or a quantity with its unit`,
  );
}
