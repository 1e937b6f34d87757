import { MeasurementError } from "../measurement-error.js";
import { normalCdf } from "../numerics/index.js";
import { type Difference, display, type Kind, type MimeBundle, Quantity, type UnitSystem } from "../quantity/index.js";
import { printTwoDigits } from "../quantity/print.js";
import { withArticle } from "../words.js";
import { type AcceptanceRule, acceptanceLimits } from "./acceptance.js";
import { riskText } from "./risk-text.js";
import { checkLimits, type Tolerance, toleranceText } from "./tolerance.js";
import { checkTrueValue, type TrueValueLaw, trueValueText } from "./true-value.js";

/** What a way of deciding gets wrong over many pieces. */
export class GlobalRisk<K extends Kind> {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `globalRisk` */
  constructor(
    readonly tolerance: Tolerance<K>,
    readonly truth: TrueValueLaw<K>,
    readonly rule: AcceptanceRule,
    readonly standardUncertainty: Quantity<Difference<K>>,
    /** share of all pieces that are accepted though out of tolerance */
    readonly consumersRisk: number,
    /** share of all pieces that are not accepted though within tolerance */
    readonly producersRisk: number,
    /** share of all pieces that are within tolerance */
    readonly conforming: number,
  ) {
    Object.freeze(this);
  }

  /** Both risks, what they are of, and the law of the true values they rest on. */
  sentence(system?: UnitSystem): string {
    const { tolerance, rule, truth } = this;
    const u = this.standardUncertainty as Quantity<Kind>;
    return `of all pieces ${riskText(this.consumersRisk)} are accepted though out of tolerance (global consumer's risk), ${riskText(this.producersRisk)} are not accepted though within it (global producer's risk); ${toleranceText(tolerance, system)} (${tolerance.source ?? "source not stated"}), ${rule}, measured with u = ${printTwoDigits(u, system)}; ${trueValueText(truth, system)}`;
  }

  toString(): string {
    return this.sentence();
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Global risks: of many pieces whose true values follow the law given, what share is accepted wrongly (consumer's) and
 * what share is turned away wrongly (producer's), when each is measured once with the same u.
 *
 * @param spec tolerance, law of the true values, standard uncertainty of the measurement, rule, and `level` of its guard
 * @throws MeasurementError `tolerance`, `true-value`, `uncertainty`, `rule`, `guard`
 * @see JCGM 106:2012, 9.5, equations 17 to 20; integrals by Boole's rule, checked against Sheppard's orthant
 * @example
 * conformity.globalRisk({
 *   tolerance: { upper: um(20) },
 *   truth: { mean: um(20), standardDeviation: um(4), source: "invented" },
 *   standardUncertainty: um(4),
 *   rule: "simple acceptance",
 * }).consumersRisk.toFixed(4) // => "0.1250"
 */
export function globalRisk<K extends Kind>(spec: {
  readonly tolerance: Tolerance<K>;
  readonly truth: TrueValueLaw<K>;
  readonly standardUncertainty: Quantity<Difference<K>>;
  readonly rule: AcceptanceRule;
  readonly level?: number;
}): GlobalRisk<K> {
  const { tolerance, truth, standardUncertainty, rule, level } = spec;
  const kind = (tolerance.upper ?? tolerance.lower ?? truth.mean).kind;
  checkLimits("globalRisk", kind, tolerance);
  checkTrueValue("globalRisk", kind, truth);
  const spread = truth.standardDeviation as Quantity<Kind>;
  const u = standardUncertainty as Quantity<Kind>;
  if (!(u instanceof Quantity && u.kind === spread.kind && u.si > 0)) {
    throw new MeasurementError(
      "uncertainty",
      `globalRisk: the standard uncertainty is ${String(u)}; give ${withArticle(spread.kind)} above zero`,
    );
  }
  const [acceptLow, acceptHigh] = acceptanceLimits("globalRisk", tolerance, rule, u.si, level);
  const low = tolerance.lower?.si ?? Number.NEGATIVE_INFINITY;
  const high = tolerance.upper?.si ?? Number.POSITIVE_INFINITY;
  const accepted = (x: number) => normalCdf((acceptHigh - x) / u.si) - normalCdf((acceptLow - x) / u.si);
  // the integrand turns within a few u of each acceptance limit and a few standard deviations of the mean
  const turns = [acceptLow, acceptHigh].flatMap((limit) => [-8, -3, 0, 3, 8].map((k) => limit + k * u.si));
  const over = (from: number, to: number, weight: (x: number) => number) =>
    integrate({ mean: truth.mean.si, spread: spread.si, turns }, from, to, weight);
  const consumersRisk = over(Number.NEGATIVE_INFINITY, low, accepted) + over(high, Number.POSITIVE_INFINITY, accepted);
  const producersRisk = over(low, high, (x) => 1 - accepted(x));
  const { mean } = truth;
  const conforming = normalCdf((high - mean.si) / spread.si) - normalCdf((low - mean.si) / spread.si);
  return new GlobalRisk(tolerance, truth, rule, standardUncertainty, consumersRisk, producersRisk, conforming);
}

/** ∫ weight × normal density, in pieces between the turns, 64 panels of Boole's rule a piece */
function integrate(
  { mean, spread, turns }: { mean: number; spread: number; turns: readonly number[] },
  from: number,
  to: number,
  weight: (x: number) => number,
): number {
  const start = Math.max(from, mean - 9 * spread);
  const end = Math.min(to, mean + 9 * spread);
  if (!(end > start)) return 0;
  const bends = [-6, -4, -3, -2, -1, 0, 1, 2, 3, 4, 6].map((k) => mean + k * spread);
  const inner = [...turns, ...bends].filter((x) => x > start && x < end).sort((a, b) => a - b);
  const marks = [start, ...inner, end];
  const density = (x: number) => Math.exp(-0.5 * ((x - mean) / spread) ** 2) / (spread * Math.sqrt(2 * Math.PI));
  const panels = 64;
  let sum = 0;
  for (let piece = 1; piece < marks.length; piece++) {
    const left = marks[piece - 1]!;
    const step = (marks[piece]! - left) / panels;
    for (let i = 0; i <= panels; i++) {
      const x = left + i * step;
      const share = i === 0 || i === panels ? 7 : boole[i % 4]!;
      sum += ((2 * share * step) / 45) * weight(x) * density(x);
    }
  }
  return sum;
}

/** weights of Boole's rule, after the first point */
const boole = [14, 32, 12, 32];
