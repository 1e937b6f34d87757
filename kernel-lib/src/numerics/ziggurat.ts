import { normalCdf, normalQuantile, tCdf, tQuantile } from "./distributions.js";
import { logGamma } from "./incomplete.js";

/** A curve that falls from 1 at 0, as a ziggurat needs it. */
interface Curve {
  /** not normed: 1 at 0 */
  readonly height: (x: number) => number;
  /** where the curve has a height */
  readonly reach: (height: number) => number;
  /** area under the curve beyond x */
  readonly areaBeyond: (x: number) => number;
  /** a value beyond x from a uniform one between 0 and 1 */
  readonly beyond: (x: number, u: number) => number;
}

/** 256 layers of equal area under one half of a symmetric density, the lowest with the tail beyond its end. */
export interface Ziggurat {
  /** right ends of the layers, that of the lowest stretched to hold the tail's area; 257 of them, the last 0 */
  readonly ends: Float64Array;
  /** the share of each layer that lies wholly below the curve */
  readonly inside: Float64Array;
  /** height of the curve at the ends */
  readonly heights: Float64Array;
  readonly curve: Curve;
}

const layers = 256;

/**
 * Table for drawing from a standard normal law, or from Student's t where degrees of freedom (1 or more) are given.
 *
 * Marsaglia and Tsang, The ziggurat method for generating random variables, J. Stat. Softw. 5 (2000) 8; here the tail is
 * drawn by its quantile, so that one method serves all of these laws.
 */
export function ziggurat(degreesOfFreedom = Number.POSITIVE_INFINITY): Ziggurat {
  const curve = degreesOfFreedom === Number.POSITIVE_INFINITY ? normalCurve : studentCurve(degreesOfFreedom);
  const ends = new Float64Array(layers + 1);
  stack(curve, lowestEnd(curve), ends);
  const heights = ends.map(curve.height);
  return { ends, inside: ends.slice(0, layers).map((end, i) => ends[i + 1]! / end), heights, curve };
}

/** End of the lowest layer at which the last of the layers closes at the top of the curve, by the rule of false position
 * (Illinois), halving as long as the layers pile up beyond the top. */
function lowestEnd(curve: Curve): number {
  const ends = new Float64Array(layers + 1);
  const over = (end: number) => stack(curve, end, ends) - 1;
  let [low, high] = [1, 1e4];
  let [overLow, overHigh] = [Number.POSITIVE_INFINITY, over(high)];
  let side = 0;
  for (let step = 0; step < 200; step++) {
    const end = overLow < 1 ? high - (overHigh * (high - low)) / (overHigh - overLow) : Math.sqrt(low * high);
    if (!(end > low && end < high)) break;
    const height = over(end);
    if (Math.abs(height) < 1e-15) return end;
    if (height > 0) {
      [low, overLow] = [end, height];
      if (side === 1) overHigh /= 2;
      side = 1;
    } else {
      [high, overHigh] = [end, height];
      if (side === -1) overLow /= 2;
      side = -1;
    }
  }
  return high;
}

function stack({ height, reach, areaBeyond }: Curve, end: number, ends: Float64Array): number {
  const area = end * height(end) + areaBeyond(end);
  ends[0] = area / height(end);
  ends[1] = end;
  for (let i = 2; i < layers; i++) {
    const next = area / ends[i - 1]! + height(ends[i - 1]!);
    if (next >= 1) return Number.POSITIVE_INFINITY;
    ends[i] = reach(next);
  }
  return area / ends[layers - 1]! + height(ends[layers - 1]!);
}

const normalCurve: Curve = {
  height: (x) => Math.exp((-x * x) / 2),
  reach: (height) => Math.sqrt(-2 * Math.log(height)),
  areaBeyond: (x) => Math.sqrt(2 * Math.PI) * normalCdf(-x),
  beyond: (x, u) => -normalQuantile(u * normalCdf(-x)),
};

function studentCurve(nu: number): Curve {
  const height = (x: number) => Math.exp(-0.5 * (nu + 1) * Math.log1p((x * x) / nu));
  const densityAtZero = Math.exp(logGamma((nu + 1) / 2) - logGamma(nu / 2)) / Math.sqrt(nu * Math.PI);
  return {
    height,
    reach: (y) => Math.sqrt(nu * Math.expm1((-2 * Math.log(y)) / (nu + 1))),
    areaBeyond: (x) => tCdf(-x, nu) / densityAtZero,
    beyond: (x, u) => -tQuantile(u * tCdf(-x, nu), nu),
  };
}
