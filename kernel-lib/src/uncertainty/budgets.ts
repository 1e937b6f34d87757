import { MeasurementError } from "../measurement-error.js";
import type { Kind, Quantity } from "../quantity/index.js";
import { printDecimals } from "../quantity/print.js";
import { type Budget, budgetOfOutput } from "./budget.js";
import { Evaluation } from "./evaluation.js";
import type { Arguments, Given, KindOf } from "./given.js";
import { correlation, covariance } from "./measured.js";

/** what a model with several outputs ends in: a quantity under each name */
export type Outputs = { readonly [name: string]: Quantity<Kind> };

export interface BudgetsSpec<I extends { readonly [name: string]: Given }, O extends Outputs> {
  readonly inputs: I;
  /** a plain function of quantities under the names of the inputs; ends in a record of quantities */
  readonly model: (inputs: Arguments<I>) => O;
  /** what each output is called in sentences; its name where left out */
  readonly measurands?: { readonly [name: string]: string };
}

/** Budgets of several outputs of one model, and how they hang together. */
export class Budgets<O extends Outputs> {
  /** the names of the outputs, in the order of the model */
  readonly names: readonly (keyof O & string)[];

  /** @internal made by `budgets` */
  constructor(
    /** the budget of each output, under its name */
    readonly of: { readonly [P in keyof O]: Budget<KindOf<O[P]>> },
  ) {
    this.names = Object.keys(of);
    Object.freeze(this);
  }

  /** Covariance of two outputs, in the product of their SI units (m² for two lengths). */
  covariance(a: keyof O, b: keyof O): number {
    return covariance(this.of[a], this.of[b]);
  }

  /** Correlation coefficient of two outputs, −1 to 1; NaN where one of them has no uncertainty. */
  correlation(a: keyof O, b: keyof O): number {
    return correlation(this.of[a], this.of[b]);
  }

  /** Covariance matrix in SI, rows and columns in the order of `names`. */
  covarianceMatrix(): readonly (readonly number[])[] {
    return this.names.map((a) => this.names.map((b) => this.covariance(a, b)));
  }

  /** What speaks against the results and is no part of their U, each once. */
  get caveats(): readonly string[] {
    return [...new Set(this.names.flatMap((name) => this.of[name].caveats))];
  }

  /** One line an output, then the correlation coefficients. */
  toString(): string {
    const lines = this.names.map((name) => `${this.of[name].measurand}: ${this.of[name]}`);
    const pairs = this.names.flatMap((a, i) => this.names.slice(i + 1).map((b) => this.pairText(a, b)));
    return [...lines, `correlation: ${pairs.join(", ")}`, ...this.caveats].join("\n");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private pairText(a: keyof O & string, b: keyof O & string): string {
    const r = this.correlation(a, b);
    const printed = Number.isNaN(r) ? "none (one has no uncertainty)" : printDecimals(r, 3);
    return `r(${a}, ${b}) = ${printed}`;
  }
}

/**
 * Several results of one model at once, each a budget of its own, with their covariances.
 *
 * @param spec inputs as for `budget`; the model ends in a record: `({ V, I }) => ({ R: V.over(I), P: V.times(I) })`
 * @throws MeasurementError as `budget` does; `budget` when the model does not end in a record of two quantities or more
 * @see JCGM 100:2008, 3.1.7 and H.2; JCGM 102:2011
 * @example
 * const ends = {
 *   left: input.normal({ label: "left", estimate: um(4), standardUncertainty: um(1) }),
 *   right: input.normal({ label: "right", estimate: um(10), standardUncertainty: um(2) }),
 * };
 * const line = budgets({ inputs: ends, model: ({ left, right }) => ({ rise: right.minus(left), sum: left.plus(right) }) });
 * line.correlation("rise", "sum").toFixed(3) // => "0.600"
 */
export function budgets<I extends { readonly [name: string]: Given }, O extends Outputs>(
  spec: BudgetsSpec<I, O>,
): Budgets<O> {
  const { inputs, measurands = {} } = spec;
  const evaluation = new Evaluation("budgets", inputs, spec.model);
  const outputs: unknown = evaluation.at(new Float64Array(evaluation.bases.length), (output) => output);
  const names = typeof outputs === "object" && outputs !== null ? Object.keys(outputs) : [];
  if (names.length < 2 || "si" in Object(outputs)) {
    throw new MeasurementError(
      "budget",
      `budgets: the model gives ${String(outputs)}; end it with a record of two quantities or more, or use budget for one`,
    );
  }
  const other = Object.keys(measurands).find((name) => !names.includes(name));
  if (other !== undefined) {
    throw new MeasurementError(
      "budget",
      `budgets: a measurand "${other}" is named, but the model gives ${names.join(", ")}; use those names`,
    );
  }
  const of = {} as { -readonly [P in keyof O]: Budget<KindOf<O[P]>> };
  const add = <P extends keyof O & string>(name: P) => {
    const pick = (output: O) => output[name] as Quantity<KindOf<O[P]>>;
    of[name] = budgetOfOutput(measurands[name] ?? name, evaluation, `budgets "${name}"`, pick);
  };
  names.forEach(add);
  return new Budgets<O>(of);
}
