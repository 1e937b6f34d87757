import { normalCdf } from "../numerics/index.js";
import { display, type Kind, type MimeBundle, type Quantity, type UnitSystem } from "../quantity/index.js";
import type { Measured } from "../uncertainty/index.js";
import { type Acceptance, type AcceptanceRule, acceptance } from "./acceptance.js";
import { riskText } from "./risk-text.js";
import type { Tolerance } from "./tolerance.js";
import { checkTrueValue, type TrueValueLaw, trueValueText } from "./true-value.js";

/** How likely this one decision is wrong. */
export class SpecificRisk<K extends Kind> {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `specificRisk` */
  constructor(
    readonly acceptance: Acceptance<K>,
    readonly truth: TrueValueLaw<K>,
    /** chance that the true value lies within the tolerance, from the law and the measurement together */
    readonly probability: number,
  ) {
    Object.freeze(this);
  }

  /** the consumer's where the value is accepted, the producer's where it is not */
  get whose(): "consumer's" | "producer's" {
    return this.acceptance.isAccepted ? "consumer's" : "producer's";
  }

  /** chance that the decision is wrong, 0 to 1 */
  get risk(): number {
    return this.acceptance.isAccepted ? 1 - this.probability : this.probability;
  }

  /** The risk, the decision it is of, and the law of the true value it rests on. */
  sentence(system?: UnitSystem): string {
    return `specific ${this.whose} risk ${riskText(this.risk)}; ${this.acceptance.sentence(system)}; ${trueValueText(this.truth, system)}`;
  }

  toString(): string {
    return this.sentence();
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Specific risk: how likely this very decision is wrong, from the measurement and what was known before it. A value that
 * is accepted may be out of tolerance (consumer's risk), one that is not may be within it (producer's risk).
 *
 * @param truth law of the true value before the measurement, printed with the risk
 * @param rule how the decision is taken
 * @throws MeasurementError `true-value`, and as `acceptance` does
 * @see JCGM 106:2012, 7.2 and 9.3
 * @example
 * const y = Measured.from(input.normal({ label: "flatness", estimate: um(18), standardUncertainty: um(3) }));
 * const truth = { mean: um(12), standardDeviation: um(4), source: "invented" };
 * conformity.specificRisk(y, { upper: um(20) }, truth, "simple acceptance").risk.toFixed(4) // => "0.0415"
 */
export function specificRisk<K extends Kind>(
  measured: Measured<K>,
  tolerance: Tolerance<K>,
  truth: TrueValueLaw<K>,
  rule: AcceptanceRule,
  options: { readonly level?: number } = {},
): SpecificRisk<K> {
  const decided = acceptance(measured, tolerance, rule, options);
  checkTrueValue("specificRisk", measured.kind, truth);
  const y = measured.value.si;
  const u = (measured.standardUncertainty as Quantity<Kind>).si;
  const u0 = (truth.standardDeviation as Quantity<Kind>).si;
  // the two laws weighted by their variances, written so that u = 0 is allowed
  const weight = u0 ** 2 / (u0 ** 2 + u ** 2);
  const mean = truth.mean.si + weight * (y - truth.mean.si);
  const spread = u * Math.sqrt(weight);
  const { lower, upper } = tolerance;
  const below = (limit: number) => (spread > 0 ? normalCdf((limit - mean) / spread) : mean <= limit ? 1 : 0);
  const tooLow = lower === undefined ? 0 : spread > 0 ? below(lower.si) : mean < lower.si ? 1 : 0;
  return new SpecificRisk(decided, truth, (upper === undefined ? 1 : below(upper.si)) - tooLow);
}
