/** What is known about an input before it is measured again: a law of probability, in SI, from which a simulation can
 * draw. Every input has one; the names are those of JCGM 101:2008, table 1 and clause 6.4. */

/** A normal law. */
export interface NormalLaw {
  readonly name: "normal";
  readonly location: number;
  readonly standardDeviation: number;
}

/** Student's t shifted and scaled: location + scale × t. Its standard deviation is scale × √(ν / (ν − 2)), none for
 * ν ≤ 2; the budget takes `scale` as u (JCGM 100). Inputs of one `group` share one draw of χ². */
export interface StudentLaw {
  readonly name: "t";
  readonly location: number;
  readonly scale: number;
  readonly degreesOfFreedom: number;
}

/** Location ± half-width: flat, a triangle, or a swing to and fro. */
export interface LimitsLaw {
  readonly name: "rectangular" | "triangular" | "arcsine";
  readonly location: number;
  readonly halfWidth: number;
}

/** Flat over location ± top half-width, falling in straight lines to nothing at ± half-width. */
export interface TrapezoidalLaw {
  readonly name: "trapezoidal";
  readonly location: number;
  readonly halfWidth: number;
  readonly topHalfWidth: number;
}

/** Flat between limits that are themselves known to ± `limitDoubt` each, moving together so that the middle stays:
 * half-width uniform in halfWidth ± limitDoubt, then the value uniform in location ± that half-width. */
export interface CurvilinearTrapezoidLaw {
  readonly name: "curvilinear trapezoid";
  readonly location: number;
  readonly halfWidth: number;
  readonly limitDoubt: number;
}

/** A normal law cut off at one limit or two (the other infinite). Location and standard deviation are those of the
 * uncut law; the mean and the u of the input are those of the cut one. */
export interface TruncatedNormalLaw {
  readonly name: "truncated normal";
  readonly location: number;
  readonly standardDeviation: number;
  readonly lower: number;
  readonly upper: number;
}

export type Law = NormalLaw | StudentLaw | LimitsLaw | TrapezoidalLaw | CurvilinearTrapezoidLaw | TruncatedNormalLaw;

/** the name of a law, as it stands in a budget table */
export type Distribution = Law["name"];

/** a law that its standard deviation and degrees of freedom describe in full */
export type PlainDistribution = "normal" | "t" | LimitsLaw["name"];

/**
 * The law of that name with the mean and standard uncertainty given, in SI.
 *
 * A normal law whose u has finite degrees of freedom is Student's t (JCGM 101, 6.4.9.7).
 *
 * @example
 * uncertainty.lawOf("rectangular", 0, 1, Infinity).name // => "rectangular"
 */
export function lawOf(
  distribution: PlainDistribution,
  location: number,
  standardUncertainty: number,
  degreesOfFreedom: number,
): Law {
  if (distribution === "normal" || distribution === "t") {
    return Number.isFinite(degreesOfFreedom)
      ? { name: "t", location, scale: standardUncertainty, degreesOfFreedom }
      : { name: "normal", location, standardDeviation: standardUncertainty };
  }
  return { name: distribution, location, halfWidth: halfWidths[distribution] * standardUncertainty };
}

/** half-width over standard deviation (JCGM 100, 4.3.7 and 4.3.9; JCGM 101, 6.4.6) */
const halfWidths = { rectangular: Math.sqrt(3), triangular: Math.sqrt(6), arcsine: Math.SQRT2 };

/**
 * Mean and standard uncertainty of a law, in SI; for Student's t the scale, which the law of propagation takes as u.
 *
 * @see JCGM 101:2008, 6.4.2 to 6.4.9; the cut normal law: Johnson, Kotz and Balakrishnan, Continuous Univariate
 * Distributions 1, 1994, 10.1
 * @example
 * uncertainty.momentsOf({ name: "trapezoidal", location: 0, halfWidth: 3, topHalfWidth: 1 }).standardUncertainty.toFixed(4) // => "1.2910"
 */
export function momentsOf(law: Law): { readonly mean: number; readonly standardUncertainty: number } {
  switch (law.name) {
    case "normal":
      return { mean: law.location, standardUncertainty: law.standardDeviation };
    case "t":
      return { mean: law.location, standardUncertainty: law.scale };
    case "trapezoidal":
      return {
        mean: law.location,
        standardUncertainty: Math.sqrt((law.halfWidth ** 2 + law.topHalfWidth ** 2) / 6),
      };
    case "curvilinear trapezoid":
      return {
        mean: law.location,
        standardUncertainty: Math.sqrt(law.halfWidth ** 2 / 3 + law.limitDoubt ** 2 / 9),
      };
    case "truncated normal":
      return truncatedMoments(law);
    default:
      return { mean: law.location, standardUncertainty: law.halfWidth / halfWidths[law.name] };
  }
}

/** By Simpson's rule on the density itself: sums of positive terms, where the closed form cancels in a narrow window. */
function truncatedMoments({ location, standardDeviation, lower, upper }: TruncatedNormalLaw) {
  const from = Math.max((lower - location) / standardDeviation, -9);
  const to = Math.min((upper - location) / standardDeviation, 9);
  const panels = 2000;
  const step = (to - from) / panels;
  const sum = (weight: (z: number) => number) => {
    let total = 0;
    for (let i = 0; i <= panels; i++) {
      const z = from + i * step;
      total += (i === 0 || i === panels ? 1 : 2 + 2 * (i % 2)) * weight(z) * Math.exp((-z * z) / 2);
    }
    return total;
  };
  const whole = sum(() => 1);
  const mean = sum((z) => z) / whole;
  const variance = sum((z) => (z - mean) ** 2) / whole;
  return {
    mean: location + standardDeviation * mean,
    standardUncertainty: standardDeviation * Math.sqrt(variance),
  };
}
