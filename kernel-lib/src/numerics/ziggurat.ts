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
  // the end of the lowest layer at which the last of the layers closes at the top of the curve
  let low = 1;
  let high = 1e4;
  while (high - low > 4 * Number.EPSILON * high) {
    const middle = low < high / 2 ? Math.sqrt(low * high) : (low + high) / 2;
    if (middle <= low || middle >= high) break;
    if (top(curve, middle) > 1) low = middle;
    else high = middle;
  }
  const ends = new Float64Array(layers + 1);
  stack(curve, high, ends);
  const heights = ends.map(curve.height);
  return { ends, inside: ends.slice(0, layers).map((end, i) => ends[i + 1]! / end), heights, curve };
}

/** height that all layers reach together when the lowest ends at `end` */
function top(curve: Curve, end: number): number {
  const ends = new Float64Array(layers + 1);
  return stack(curve, end, ends);
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
