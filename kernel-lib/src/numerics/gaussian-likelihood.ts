import type { CovarianceFamily } from "./covariance-family.js";
import { type Dense, withDense } from "./dense.js";
import { precisionInto } from "./kriging-system.js";
import type { TrendSpace } from "./trend-space.js";

/** Variance and lengths of a covariance, and the noise of a reading where it is fitted too. */
export interface CovarianceSize {
  readonly variance: number;
  readonly lengthX: number;
  readonly lengthY: number;
  readonly noise: number;
}

/** What a likelihood needs: places, heights, the law of likeness and what is known of the noise. */
export interface LikelihoodParts {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly family: CovarianceFamily;
  readonly trend: TrendSpace;
  /** known variance of each reading */
  readonly nugget: Float64Array;
  /** known errors that readings share, a column for each independent cause */
  readonly modes: readonly Float64Array[];
}

/** Writes the lower triangle of the covariance of the readings; with `slope`, the slope of the likeness at the same places. */
export function fillCovariance(
  parts: LikelihoodParts,
  size: CovarianceSize,
  memory: Float64Array,
  dense: Dense,
  { at, ld, slope }: { readonly at: number; readonly ld: number; readonly slope?: number },
): void {
  const { x, y, family, nugget, modes } = parts;
  const { variance, lengthX, lengthY, noise } = size;
  for (let i = 0; i < x.length; i++) {
    const row = at + i * ld;
    for (let j = 0; j <= i; j++) {
      const [dx, dy] = [(x[i]! - x[j]!) / lengthX, (y[i]! - y[j]!) / lengthY];
      memory[row + j] = dx * dx + dy * dy;
    }
    family.correlate(memory, dense, row, i + 1, slope === undefined ? undefined : slope + i * ld);
    for (let j = 0; j <= i; j++) memory[row + j] = variance * memory[row + j]!;
    for (const mode of modes) {
      for (let j = 0; j <= i; j++) memory[row + j] = memory[row + j]! + mode[i]! * mode[j]!;
    }
    memory[row + i] = memory[row + i]! + nugget[i]! + noise;
  }
}

export interface Likelihood {
  /** ln of the likelihood of what the trend leaves (REML); of the heights themselves where there is no trend */
  readonly value: number;
  /** with respect to ln variance, ln lengthX, ln lengthY, ln noise */
  readonly gradient: readonly [number, number, number, number];
}

/** The likelihood of a covariance; nothing where it is not positive definite. */
export function logLikelihood(parts: LikelihoodParts, size: CovarianceSize): Likelihood | undefined {
  const { z, trend } = parts;
  const n = z.length;
  const t = trend.count;
  const y = z.slice();
  trend.rotate(y);
  return withDense(4 * n * n + n, n, (memory, dense) => {
    const [a, slope, b, spare, rhs] = [0, n * n, 2 * n * n, 3 * n * n, 4 * n * n];
    fillCovariance(parts, size, memory, dense, { at: a, ld: n, slope });
    trend.rotateMatrix(memory, a, n, n);
    const start = t * n + t;
    if (dense.factor(start, n - t, n) < n - t) return undefined;
    memory.set(y.subarray(t), rhs);
    dense.solveLower(start, n - t, n, rhs, 1, 1);
    let value = (-(n - t) / 2) * Math.log(2 * Math.PI);
    for (let i = 0; i < n - t; i++) value -= memory[rhs + i]! ** 2 / 2 + Math.log(memory[start + i * (n + 1)]!);
    precisionInto(memory, dense, trend, n, { l: a, out: b, spare });
    return { value, gradient: gradientOf(parts, size, memory, b, slope) };
  });
}

/** ½ (wᵀ dA w − tr(B dA)), w = B z, for each of the four */
function gradientOf(
  { x, y, z, family }: LikelihoodParts,
  { variance, lengthX, lengthY, noise }: CovarianceSize,
  memory: Float64Array,
  b: number,
  slope: number,
): readonly [number, number, number, number] {
  const n = z.length;
  const w = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let s = memory[b + i * n + i]! * z[i]!;
    for (let j = 0; j < i; j++) {
      s += memory[b + i * n + j]! * z[j]!;
      w[j] = w[j]! + memory[b + i * n + j]! * z[i]!;
    }
    w[i] = w[i]! + s;
  }
  const correlation = correlationOf(family.name);
  let [ofVariance, ofX, ofY, ofNoise] = [0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const row = b + i * n;
    for (let j = 0; j < i; j++) {
      const f = w[i]! * w[j]! - memory[row + j]!;
      const [dx, dy] = [(x[i]! - x[j]!) / lengthX, (y[i]! - y[j]!) / lengthY];
      const g = memory[slope + i * n + j]!;
      const q = dx * dx + dy * dy;
      ofVariance += f * correlation(g, q);
      ofX += f * g * dx * dx;
      ofY += f * g * dy * dy;
    }
    const own = w[i]! * w[i]! - memory[row + i]!;
    ofVariance += own / 2;
    ofNoise += own / 2;
  }
  return [variance * ofVariance, variance * ofX, variance * ofY, noise * ofNoise];
}

/** the correlation from its slope: saves keeping both */
function correlationOf(name: CovarianceFamily["name"]): (slope: number, q: number) => number {
  if (name === "squared exponential") return (slope) => slope;
  return (slope, q) => {
    const d = Math.sqrt(5 * q);
    return (slope * 0.6 * (1 + d + (d * d) / 3)) / (1 + d);
  };
}
