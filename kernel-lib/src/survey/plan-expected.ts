import { leastSquaresPlane, randomStream, simultaneousFactor } from "../numerics/index.js";
import { type Length, um } from "../quantity/index.js";
import { type Gauge, stepOf } from "./gauge.js";
import { meanUncertainty } from "./repeatability.js";

/** What a survey can be expected to tell before it is taken. */
export interface ExpectedUncertainty {
  /** scatter of one reading that was reckoned with */
  readonly repeatability: Length;
  readonly repeatabilitySource: string;
  /** standard uncertainty of the height of one place, random part */
  readonly place: Length;
  /** what one place among all must stand out by to be believed, 95 % for the whole map */
  readonly limit: Length;
  /** U (k = 2) of the flatness: scatter of the peak to valley and the error of the gauge; drift not in it */
  readonly flatness: Length;
  /** by how much scatter alone makes the flatness look larger */
  readonly bias: Length;
}

export interface ExpectedTerms {
  readonly gauge: Gauge;
  readonly repeatability: Length | undefined;
  readonly passes: number;
  /** flatness of the bowl that the simulation lays under the scatter */
  readonly expectedFlatness: Length;
  readonly seed: number;
}

const draws = 300;

/** Surveys of a bowl, drawn with the scatter expected: how far the flatness read from them would scatter and be off. */
export function expectedUncertainty(
  x: readonly number[],
  y: readonly number[],
  terms: ExpectedTerms,
): ExpectedUncertainty {
  const { gauge, seed } = terms;
  const [s, source] = scatterOf(terms);
  const place = expectedPlace(terms);
  const bowl = bowlOf(x, y, terms.expectedFlatness.in("um"));
  const still = peakToValley(x, y, bowl);
  const random = randomStream(seed);
  const seen = Array.from({ length: draws }, () =>
    peakToValley(
      x,
      y,
      bowl.map((z) => z + place * random.normal()),
    ),
  );
  const mean = seen.reduce((sum, value) => sum + value, 0) / draws;
  const variance = seen.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (draws - 1);
  const ofGauge = gauge.maximumPermissibleError.in("um") ** 2 / 3;
  return {
    repeatability: um(s),
    repeatabilitySource: source,
    place: um(place),
    limit: um(place * simultaneousFactor(x.length)),
    flatness: um(2 * Math.sqrt(variance + ofGauge)),
    bias: um(mean - still),
  };
}

/** standard uncertainty of the height of one place in µm, as a survey of so many passes will find it */
export function expectedPlace(terms: ExpectedTerms): number {
  const [standardDeviation, source] = scatterOf(terms);
  const scatter = { standardDeviation, degreesOfFreedom: Number.POSITIVE_INFINITY, source };
  return meanUncertainty(scatter, terms.passes, stepOf(terms.gauge).in("um")).standardUncertaintyUm;
}

function scatterOf({ gauge, repeatability }: ExpectedTerms): readonly [number, string] {
  if (repeatability) return [repeatability.in("um"), "as stated for the plan"];
  if (gauge.repeatability) return [gauge.repeatability.standardDeviation.in("um"), "as stated for the gauge"];
  return [stepOf(gauge).in("um"), "one step of the gauge, assumed, as none is stated"];
}

function bowlOf(x: readonly number[], y: readonly number[], heightUm: number): number[] {
  const scaled = (values: readonly number[]) => {
    const [low, high] = [Math.min(...values), Math.max(...values)];
    return values.map((value) => (2 * (value - low)) / (high - low) - 1);
  };
  const [u, v] = [scaled(x), scaled(y)];
  return u.map((value, i) => (heightUm * (value * value + v[i]! * v[i]!)) / 2);
}

function peakToValley(x: readonly number[], y: readonly number[], z: readonly number[]): number {
  const { highest, lowest } = leastSquaresPlane(x, y, z);
  return highest - lowest;
}
