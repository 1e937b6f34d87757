import { MeasurementError } from "../measurement-error.js";
import { normalQuantile, tQuantile } from "../numerics/index.js";
import {
  type Difference,
  display,
  type Kind,
  type MimeBundle,
  Quantity,
  type UnitNames,
  type UnitSystem,
} from "../quantity/index.js";
import { caveatsOf } from "./caveat.js";
import { effectiveDegreesOfFreedom } from "./effective-degrees-of-freedom.js";
import type { AnyInput, Input } from "./input.js";
import { report } from "./report.js";
import { concise } from "./statement.js";

/** How far a result moves with one input, SI of the result per SI of the input. */
export interface Term {
  readonly input: AnyInput;
  readonly sensitivity: number;
}

/** A result of any kind, as budgets and tables handle it. */
export interface AnyMeasured {
  readonly value: Pick<Quantity<Kind>, "kind" | "si">;
  readonly terms: readonly Term[];
}

/**
 * A measured value: it keeps its sensitivities to the input objects, so that in a later budget it is expanded by the
 * chain rule and stays correlated with every other result that shares an input.
 *
 * Printed as value ± U, where U = k u, k from Student's t for 95 % with the effective degrees of freedom truncated to a
 * whole number; u to two digits, the value to the same decimal place.
 *
 * @see JCGM 100:2008, clauses 5 to 7 and annex G
 * @example
 * `${Measured.of(um(23), [{ input: input.normal({ label: "noise", estimate: um(0), standardUncertainty: um(2) }), sensitivity: 1 }])}` // => "23.0 µm ± 3.9 µm (k = 2.0)"
 */
export class Measured<K extends Kind> {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly kind: K;
  /** inputs that matter, each once */
  readonly terms: readonly Term[];

  protected constructor(
    readonly value: Quantity<K>,
    terms: readonly Term[],
  ) {
    this.kind = value.kind;
    const sums = new Map<AnyInput, number>();
    for (const { input, sensitivity } of terms) sums.set(input, (sums.get(input) ?? 0) + sensitivity);
    this.terms = [...sums].map(([input, sensitivity]) => ({ input, sensitivity })).filter((t) => t.sensitivity !== 0);
  }

  /** A value with its sensitivities; terms of the same input are added. */
  static of<K extends Kind>(value: Quantity<K>, terms: readonly Term[]): Measured<K> {
    return new Measured(value, terms);
  }

  /** The input itself as a result. */
  static from<K extends Kind>(input: Input<K>): Measured<K> {
    return new Measured(input.estimate, [{ input, sensitivity: 1 }]);
  }

  /** The number in the unit named. */
  in(unit: UnitNames[K]): number {
    return this.value.in(unit);
  }

  /** What speaks against the figure and is no part of its U, with what to do: open findings of the surveys it rests on. */
  get caveats(): readonly string[] {
    return caveatsOf(this.terms);
  }

  /** u of the result, inputs independent of each other. */
  get standardUncertainty(): Quantity<Difference<K>> {
    return this.difference(Math.hypot(...this.terms.map(contribution)));
  }

  /** Welch–Satterthwaite; inputs that share one estimate of spread count as one line. Not truncated. */
  get effectiveDegreesOfFreedom(): number {
    const lines = new Map<object, { label: string; contribution: number; degreesOfFreedom: number }>();
    for (const term of this.terms) {
      const { group, label, degreesOfFreedom } = term.input;
      const before = lines.get(group);
      lines.set(group, {
        label,
        contribution: Math.hypot(before?.contribution ?? 0, contribution(term)),
        degreesOfFreedom: Math.min(before?.degreesOfFreedom ?? degreesOfFreedom, degreesOfFreedom),
      });
    }
    return lines.size === 0 ? Number.POSITIVE_INFINITY : effectiveDegreesOfFreedom([...lines.values()]);
  }

  /** k for a level of confidence: Student's t with the effective degrees of freedom truncated (JCGM 100, G.4.1).
   * @throws MeasurementError `level` */
  coverageFactor(level = 0.95): number {
    if (!(level > 0 && level < 1)) {
      throw new MeasurementError(
        "level",
        `coverageFactor: level ${level}; give a level of confidence between 0 and 1, such as 0.95`,
      );
    }
    const nu = this.effectiveDegreesOfFreedom;
    const p = 0.5 + level / 2;
    return nu === Number.POSITIVE_INFINITY ? normalQuantile(p) : tQuantile(p, nu >= 1 ? Math.trunc(nu) : nu);
  }

  /** U = k u at a level of confidence. */
  expandedUncertainty(level = 0.95): Quantity<Difference<K>> {
    return this.difference(this.coverageFactor(level) * this.standardUncertainty.si);
  }

  /** value − U and value + U */
  interval(level = 0.95): readonly [Quantity<K>, Quantity<K>] {
    const half = this.expandedUncertainty(level).si;
    return [Quantity.fromSi(this.kind, this.value.si - half), Quantity.fromSi(this.kind, this.value.si + half)];
  }

  /** Sum; what both share adds up, it does not cancel. */
  plus(other: Measured<Difference<K>>): Measured<K> {
    const value = Quantity.fromSi(this.kind, this.value.si + other.value.si);
    return new Measured(value, [...this.terms, ...other.terms]);
  }

  /** Difference; what both share cancels as far as the sensitivities are equal. */
  minus(other: Measured<K>): Measured<Difference<K>> {
    const value = this.difference(this.value.si - other.value.si);
    return new Measured(value, [...this.terms, ...scaled(other.terms, -1)]);
  }

  /** Product with an exactly known number. */
  times(factor: number): Measured<K> {
    return new Measured(Quantity.fromSi(this.kind, this.value.si * factor), scaled(this.terms, factor));
  }

  /** "23.0 µm ± 4.1 µm (k = 2.1)" in the unit named, or in the one that suits the size. */
  text(unit?: UnitNames[K] | UnitSystem): string {
    const U = this.expandedUncertainty().si;
    if (U === 0) return `${this.value.text(unit)} (taken as exact)`;
    const printed = report(this.kind, this.value.si, U, unit);
    return `${printed.value} ± ${printed.uncertainty} (k = ${this.coverageFactor().toFixed(1)})`;
  }

  /** Value and u in short, "20.0(1.2) µm" or "100.02147(35) g" (JCGM 100, 7.2.2). */
  concise(unit?: UnitNames[K] | UnitSystem): string {
    return concise(this, unit);
  }

  toString(): string {
    return this.text();
  }

  toJSON(): { kind: K; si: number; standardUncertainty: number } {
    return { kind: this.kind, si: this.value.si, standardUncertainty: this.standardUncertainty.si };
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  protected difference(si: number): Quantity<Difference<K>> {
    const kind = this.kind === "temperature" ? "temperature difference" : this.kind;
    return Quantity.fromSi(kind as Difference<K> & Kind, si) as Quantity<Difference<K>>;
  }
}

/**
 * Covariance of two results, in SI: Σ c_a c_b u² over the inputs they share.
 *
 * @example
 * const scale = Measured.from(input.normal({ label: "scale", estimate: plain(1), standardUncertainty: plain(2) }));
 * uncertainty.covariance(scale, scale.times(3)) // => 12
 */
export function covariance(a: AnyMeasured, b: AnyMeasured): number {
  const other = new Map(b.terms.map((term) => [term.input, term.sensitivity]));
  return a.terms.reduce(
    (sum, { input, sensitivity }) => sum + sensitivity * (other.get(input) ?? 0) * input.uncertaintySi ** 2,
    0,
  );
}

/**
 * Correlation coefficient of two results, −1 to 1.
 *
 * @example
 * const scale = Measured.from(input.normal({ label: "scale", estimate: plain(1), standardUncertainty: plain(2) }));
 * uncertainty.correlation(scale, scale.times(-3)) // => -1
 */
export function correlation(a: AnyMeasured, b: AnyMeasured): number {
  return covariance(a, b) / Math.sqrt(covariance(a, a) * covariance(b, b));
}

/** |c| u in SI */
export function contribution({ input, sensitivity }: Term): number {
  return Math.abs(sensitivity) * input.uncertaintySi;
}

function scaled(terms: readonly Term[], factor: number): Term[] {
  return terms.map(({ input, sensitivity }) => ({ input, sensitivity: sensitivity * factor }));
}
