import type { CovarianceFamily } from "./covariance-family.js";
import { type Dense, withDense } from "./dense.js";
import { precisionInto } from "./precision.js";
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
  const [px, py] = [x.map((v) => v / lengthX), y.map((v) => v / lengthY)];
  const room = new Float64Array(x.length);
  for (let i = 0; i < x.length; i++) {
    const row = at + i * ld;
    const cx = px[i]!;
    const cy = py[i]!;
    for (let j = 0; j <= i; j++) {
      const dx = cx - px[j]!;
      const dy = cy - py[j]!;
      memory[row + j] = dx * dx + dy * dy;
    }
    family.correlate(memory, dense, row, i + 1, room, slope === undefined ? undefined : slope + i * ld);
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

/** The likelihood of a covariance with its slopes; nothing where it is not positive definite. */
export function logLikelihood(parts: LikelihoodParts, size: CovarianceSize): Likelihood | undefined {
  const { trend } = parts;
  const n = parts.z.length;
  return withDense(4 * n * n + n, n, (memory, dense) => {
    const [a, slope, b, spare] = [0, n * n, 2 * n * n, 3 * n * n];
    const value = valueIn(memory, dense, parts, size, { a, rhs: 4 * n * n, slope });
    if (value === undefined) return undefined;
    precisionInto(memory, dense, trend, n, { l: a, out: b, spare });
    return { value, gradient: gradientOf(parts, size, memory, b, slope) };
  });
}

/** The likelihood alone, a third of the work. */
export function likelihoodValue(parts: LikelihoodParts, size: CovarianceSize): number | undefined {
  const n = parts.z.length;
  return withDense(n * n + n, n, (memory, dense) => valueIn(memory, dense, parts, size, { a: 0, rhs: n * n }));
}

/** leaves the factor of the rotated covariance at `a` */
function valueIn(
  memory: Float64Array,
  dense: Dense,
  parts: LikelihoodParts,
  size: CovarianceSize,
  { a, rhs, slope }: { readonly a: number; readonly rhs: number; readonly slope?: number },
): number | undefined {
  const { z, trend } = parts;
  const n = z.length;
  const free = n - trend.count;
  const y = z.slice();
  trend.rotate(y);
  fillCovariance(parts, size, memory, dense, slope === undefined ? { at: a, ld: n } : { at: a, ld: n, slope });
  trend.rotateMatrix(memory, a, n, n);
  const start = a + trend.count * (n + 1);
  if (dense.factor(start, free, n) < free) return undefined;
  memory.set(y.subarray(trend.count), rhs);
  dense.solveLower(start, free, n, rhs, 1, 1);
  let value = (-free / 2) * Math.log(2 * Math.PI);
  for (let i = 0; i < free; i++) value -= memory[rhs + i]! ** 2 / 2 + Math.log(memory[start + i * (n + 1)]!);
  return value;
}

/** ½ (wᵀ dA w − tr(B dA)), w = B z, for each of the four */
function gradientOf(
  parts: LikelihoodParts,
  { variance, lengthX, lengthY, noise }: CovarianceSize,
  memory: Float64Array,
  b: number,
  slope: number,
): readonly [number, number, number, number] {
  const n = parts.z.length;
  const w = timesLower(memory, b, n, parts.z);
  const [px, py] = [parts.x.map((v) => v / lengthX), parts.y.map((v) => v / lengthY)];
  let ofX = 0;
  let ofY = 0;
  for (let i = 1; i < n; i++) {
    const row = b + i * n;
    const slopes = slope + i * n;
    const cx = px[i]!;
    const cy = py[i]!;
    const own = w[i]!;
    for (let j = 0; j < i; j++) {
      const f = (own * w[j]! - memory[row + j]!) * memory[slopes + j]!;
      const dx = cx - px[j]!;
      const dy = cy - py[j]!;
      ofX += f * dx * dx;
      ofY += f * dy * dy;
    }
  }
  const { ofVariance, ofNoise } = diagonalSlopes(parts, noise, memory, b, w);
  return [ofVariance, variance * ofX, variance * ofY, noise * ofNoise];
}

/** slopes along ln variance and noise: B A B = B leaves what is not of the process itself to be taken off, wᵀ A w = zᵀ w and tr(B A) = n − t */
function diagonalSlopes(
  { z, trend, nugget, modes }: LikelihoodParts,
  noise: number,
  memory: Float64Array,
  b: number,
  w: Float64Array,
): { readonly ofVariance: number; readonly ofNoise: number } {
  const n = z.length;
  let whole = trend.count - n;
  let ofNoise = 0;
  for (let i = 0; i < n; i++) {
    const own = w[i]! * w[i]! - memory[b + i * (n + 1)]!;
    whole += z[i]! * w[i]! - own * (nugget[i]! + noise);
    ofNoise += own / 2;
  }
  for (const mode of modes) {
    const weighed = timesLower(memory, b, n, mode);
    let [along, own] = [0, 0];
    for (let i = 0; i < n; i++) {
      along += mode[i]! * w[i]!;
      own += mode[i]! * weighed[i]!;
    }
    whole -= along * along - own;
  }
  return { ofVariance: whole / 2, ofNoise };
}

/** a symmetric matrix, of which the lower triangle is kept, times a vector */
function timesLower(memory: Float64Array, at: number, n: number, v: Float64Array): Float64Array {
  const product = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const row = at + i * n;
    const own = v[i]!;
    let s = memory[row + i]! * own;
    for (let j = 0; j < i; j++) {
      const value = memory[row + j]!;
      s += value * v[j]!;
      product[j] = product[j]! + value * own;
    }
    product[i] = product[i]! + s;
  }
  return product;
}
