import { normalQuantile, tQuantile } from "../numerics/index.js";
import { type Difference, display, type Kind, type MimeBundle, Quantity, type UnitSystem } from "../quantity/index.js";
import { printTwoDigits } from "../quantity/print.js";
import { withCaveats } from "../uncertainty/caveat.js";
import type { Measured } from "../uncertainty/index.js";
import { conformanceProbability } from "./conformance-probability.js";
import { checkTolerance, type Tolerance, toleranceText } from "./tolerance.js";

export type Decision = "conforms" | "does not conform" | "not decided";

/** Outcome of a decision rule, with what it was taken from. */
export class Verdict<K extends Kind> {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly decision: Decision;
  /** guard factor × u: how far inside or outside the limit the value must lie */
  readonly guard: Quantity<Difference<K>>;
  /** how likely the true value is within the tolerance, from this measurement alone */
  readonly probability: number;

  /** @internal made by `verdict` */
  constructor(
    readonly measured: Measured<K>,
    readonly tolerance: Tolerance<K>,
    /** 0.95 unless asked otherwise */
    readonly level: number,
    readonly guardFactor: number,
  ) {
    const u = measured.standardUncertainty as Quantity<Kind>;
    this.guard = Quantity.fromSi(u.kind, guardFactor * u.si) as Quantity<Difference<K>>;
    this.decision = decide(measured.value.si, guardFactor * u.si, tolerance);
    this.probability = conformanceProbability(measured, tolerance);
    Object.freeze(this);
  }

  /** One line: the word first, then value, limit and guard, and what is open in the health check of the survey it rests on. */
  sentence(system?: UnitSystem): string {
    const source = this.tolerance.source ?? "source not stated";
    const sentence = `${this.decision}: ${this.measured.text(system)} against ${toleranceText(this.tolerance, system)} (${source}); ${this.rule(system)}`;
    return withCaveats(sentence, this.measured.caveats);
  }

  toString(): string {
    return this.sentence();
  }

  /** The rule applied, in words, with the guard in figures. */
  rule(system?: UnitSystem): string {
    const percent = Math.round(this.level * 1000) / 10;
    const usual = this.level === 0.95 ? "ISO 14253-1:2017, its default of 95 %" : `ISO 14253-1:2017 at ${percent} %`;
    return `guard ${printTwoDigits(this.guard as Quantity<Kind>, system)} = ${this.guardFactor.toFixed(3)} u on either side of the limit (${usual})${this.remark()}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private remark(): string {
    const nu = this.measured.effectiveDegreesOfFreedom;
    if (!(nu < 15)) return "";
    const factor = tQuantile(this.level, Math.max(nu, 1));
    return `; u rests on few readings (${Math.trunc(nu)} degrees of freedom), with Student's t the factor would be ${factor.toFixed(2)}`;
  }
}

/**
 * Decision rule of ISO 14253-1: conforms when the value stays within the limit with the guard added, does not conform
 * when it stays outside with the guard taken off, else not decided.
 *
 * The guard is 1.6449 u: at most 5 in 100 such decisions at the limit are wrong, for a normal measured value.
 *
 * @param measured the corrected figure with its u; ISO 1101 flatness takes the minimum zone
 * @param tolerance upper limit, lower limit or both, and who says so
 * @param options `level` other than 0.95, where both sides agreed on it
 * @throws MeasurementError `tolerance`, `probability`
 * @see ISO 14253-1:2017 (from memory); JCGM 106:2012, clause 8
 * @example
 * verdict(
 *   Measured.from(input.normal({ label: "flatness", estimate: um(23), standardUncertainty: um(2) })),
 *   { upper: um(20) },
 * ).decision // => "not decided"
 */
export function verdict<K extends Kind>(
  measured: Measured<K>,
  tolerance: Tolerance<K>,
  options: { readonly level?: number } = {},
): Verdict<K> {
  checkTolerance("verdict", measured, tolerance);
  const { level = 0.95 } = options;
  return new Verdict(measured, tolerance, level, normalQuantile(level));
}

function decide<K extends Kind>(value: number, guard: number, { upper, lower }: Tolerance<K>): Decision {
  const high = upper?.si ?? Number.POSITIVE_INFINITY;
  const low = lower?.si ?? Number.NEGATIVE_INFINITY;
  if (value + guard <= high && value - guard >= low) return "conforms";
  if (value - guard > high || value + guard < low) return "does not conform";
  return "not decided";
}
