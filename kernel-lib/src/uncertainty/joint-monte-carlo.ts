import { display, type Kind, type MimeBundle, type UnitSystem } from "../quantity/index.js";
import type { FirstOrder, MonteCarlo } from "./monte-carlo.js";
import { resultOf, type Simulable, type SimulationOptions, simulateAll } from "./simulate.js";
import { type ProgressMaker, trialProgress } from "./trial-progress.js";
import { covarianceOfSamples } from "./trials.js";

/** a budget that lends itself to a simulation */
type Lent<K extends Kind> = FirstOrder<K> & Simulable & { readonly [trialProgress]?: ProgressMaker };

/** the kind of each result */
type Kinds = { readonly [name: string]: Kind };

/** Several results simulated together: what they share is drawn once, so that their covariance is seen. */
export class JointMonteCarlo<B extends Kinds> {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly names: readonly (keyof B & string)[];

  /** @internal made by `simulateTogether` */
  constructor(
    /** each result, under its name */
    readonly of: { readonly [P in keyof B]: MonteCarlo<B[P]> },
    private readonly covariances: readonly (readonly number[])[],
  ) {
    this.names = Object.keys(of);
    Object.freeze(this);
  }

  /** Covariance of two results over the trials, in the product of their SI units. */
  covariance(a: keyof B & string, b: keyof B & string): number {
    return this.covariances[this.names.indexOf(a)]?.[this.names.indexOf(b)] ?? Number.NaN;
  }

  /** Correlation coefficient of two results over the trials, −1 to 1. */
  correlation(a: keyof B & string, b: keyof B & string): number {
    return this.covariance(a, b) / Math.sqrt(this.covariance(a, a) * this.covariance(b, b));
  }

  toString(): string {
    return this.text();
  }

  /** One line a result, then the correlation coefficients. */
  text(system?: UnitSystem): string {
    const pairs = this.names.flatMap((a, i) =>
      this.names.slice(i + 1).map((b) => `r(${a}, ${b}) = ${this.correlation(a, b).toFixed(2).replace("-", "−")}`),
    );
    // results that are called alike are told apart by their names
    const alike = new Set(this.names.map((name) => this.of[name].measurand)).size < this.names.length;
    return [
      ...this.names.map((name) => `${alike ? `${name}, ` : ""}${this.of[name].sentence(system)}`),
      ...(pairs.length > 0 ? [pairs.join(", ")] : []),
    ].join("\n");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Simulates several budgets at once: an input that two of them share takes one value in a trial.
 *
 * @throws MeasurementError as `simulate` of one budget does
 * @see JCGM 102:2011, clause 7; JCGM 101:2008
 * @example
 * const scale = input.normal({ label: "scale", estimate: um(0), standardUncertainty: um(2) });
 * const of = (times) => budget({ measurand: "a reading", inputs: { scale }, model: ({ scale }) => scale.times(times) });
 * uncertainty.simulateTogether({ one: of(1), other: of(-3) }, { seed: 1, trials: 1000 }).correlation("one", "other").toFixed(3) // => "-1.000"
 */
export function simulateTogether<B extends Kinds>(
  budgets: { readonly [P in keyof B]: Lent<B[P]> },
  options: SimulationOptions,
): JointMonteCarlo<B> {
  const names: readonly (keyof B & string)[] = Object.keys(budgets);
  const maker = names.map((name) => budgets[name][trialProgress])[0];
  return simulateAll(
    names.map((name) => budgets[name]),
    options,
    maker,
    (values, facts) => {
      const of = {} as { -readonly [P in keyof B]: MonteCarlo<B[P]> };
      const add = <P extends keyof B & string>(name: P, k: number) => {
        of[name] = resultOf(budgets[name], values[k]!, facts);
      };
      names.forEach(add);
      return new JointMonteCarlo<B>(
        of,
        values.map((a) => values.map((b) => covarianceOfSamples(a, b))),
      );
    },
  );
}
