import { boundedMinimum, type Minimum } from "./bounded-minimum.js";
import type { Dense } from "./dense.js";
import {
  type CovarianceSize,
  type Likelihood,
  type LikelihoodParts,
  likelihoodValue,
  logLikelihood,
} from "./gaussian-likelihood.js";
import type { Targets } from "./kriging-system.js";
import { leastSquaresPlane } from "./least-squares-plane.js";
import { cholesky } from "./symmetric.js";

export type SizeBounds = { readonly [K in keyof CovarianceSize]: readonly [least: number, greatest: number] };

export interface FitOptions {
  readonly fitNoise?: boolean;
  readonly isotropic?: boolean;
  readonly start?: Partial<CovarianceSize>;
  readonly bounds?: Partial<SizeBounds>;
}

export interface CovarianceFit {
  readonly size: CovarianceSize;
  readonly logLikelihood: number;
  readonly evaluations: number;
  readonly doubt: readonly (readonly [CovarianceSize, CovarianceSize])[];
}

/** the search runs over logarithms of these: variance, length (x and y), noise where it is fitted */
interface Search {
  readonly sizeOf: (logs: readonly number[]) => CovarianceSize;
  readonly slopesOf: (gradient: Likelihood["gradient"]) => readonly number[];
  readonly bounds: readonly { readonly low: number; readonly high: number }[];
  readonly starts: readonly (readonly number[])[];
}

/** Sizes of the covariance with the greatest likelihood, and how far they may be off. */
export function fitCovariance(parts: LikelihoodParts, options: FitOptions): CovarianceFit | undefined {
  const search = searchOf(parts, options);
  let evaluations = 0;
  const f = (logs: readonly number[]) => {
    evaluations++;
    const found = logLikelihood(parts, search.sizeOf(logs));
    return found && { value: -found.value, gradient: search.slopesOf(found.gradient).map((g) => -g) };
  };
  let best: Minimum | undefined;
  for (const start of promising(search, parts)) {
    const found = boundedMinimum(f, start, search.bounds, { tolerance: 1e-3 });
    if (found !== undefined && !(best !== undefined && best.value <= found.value)) best = found;
  }
  if (best === undefined) return undefined;
  const at = best.at;
  const doubt = options.start === undefined ? directionsOfDoubt(f, at, search) : [];
  return {
    size: search.sizeOf(at),
    logLikelihood: -best.value,
    evaluations,
    doubt: doubt.map((step) => {
      const moved = (sign: number) => search.sizeOf(clamped(at, step, sign, search.bounds));
      return [moved(-1), moved(1)] as const;
    }),
  };
}

/** Covariances of the places with targets: a row a place, a column a target. */
export function crossCovariance(
  { x, y, family }: LikelihoodParts,
  { variance, lengthX, lengthY }: CovarianceSize,
  memory: Float64Array,
  dense: Dense,
  { at, ld, targets }: { readonly at: number; readonly ld: number; readonly targets: Targets },
): void {
  const { from, count } = targets;
  const px = targets.x.subarray(from, from + count).map((v) => v / lengthX);
  const py = targets.y.subarray(from, from + count).map((v) => v / lengthY);
  const room = new Float64Array(count);
  for (let i = 0; i < x.length; i++) {
    const row = at + i * ld;
    const cx = x[i]! / lengthX;
    const cy = y[i]! / lengthY;
    for (let j = 0; j < count; j++) {
      const dx = cx - px[j]!;
      const dy = cy - py[j]!;
      memory[row + j] = dx * dx + dy * dy;
    }
    family.correlate(memory, dense, row, count, room);
    for (let j = row; j < row + count; j++) memory[j] = variance * memory[j]!;
  }
}

type Cost = (logs: readonly number[]) => { readonly value: number; readonly gradient: readonly number[] } | undefined;

/** the two best of several starts; a single one as it is */
function promising({ starts, sizeOf }: Search, parts: LikelihoodParts): readonly (readonly number[])[] {
  if (starts.length === 1) return starts;
  const tried = starts.flatMap((start) => {
    const value = likelihoodValue(parts, sizeOf(start));
    return value === undefined ? [] : [{ start, value }];
  });
  return tried
    .sort((a, b) => b.value - a.value)
    .slice(0, 2)
    .map(({ start }) => start);
}

function searchOf({ x, y, z }: LikelihoodParts, { fitNoise, isotropic, start = {}, bounds = {} }: FitOptions): Search {
  const spread = spreadOf(x, y, z);
  const [rx, ry] = [rangeOf(x), rangeOf(y)];
  const root = Math.sqrt(x.length);
  const limits: SizeBounds = {
    variance: [1e-4 * spread, 1e4 * spread],
    lengthX: [rx / root, 10 * rx],
    lengthY: [ry / root, 10 * ry],
    noise: [1e-8 * spread, 10 * spread],
    ...bounds,
  };
  const names: (keyof CovarianceSize)[] = ["variance", "lengthX"];
  if (!isotropic) names.push("lengthY");
  if (fitNoise) names.push("noise");
  const sizeOf = (logs: readonly number[]): CovarianceSize => {
    const value = (name: keyof CovarianceSize) => Math.exp(logs[names.indexOf(name)]!);
    const lengthX = value("lengthX");
    return {
      variance: value("variance"),
      lengthX,
      lengthY: isotropic ? lengthX : value("lengthY"),
      noise: fitNoise ? value("noise") : 0,
    };
  };
  const slopesOf = ([variance, lx, ly, noise]: Likelihood["gradient"]) => {
    const all = { variance, lengthX: isotropic ? lx + ly : lx, lengthY: ly, noise };
    return names.map((name) => all[name]);
  };
  const shares = Object.keys(start).length > 0 ? [0.3] : [0.2, 0.5, 1.5];
  const starts = shares.flatMap((sx) =>
    (isotropic || shares.length === 1 ? [sx] : shares).map((sy) => {
      const usual: CovarianceSize = { variance: spread, lengthX: sx * rx, lengthY: sy * ry, noise: 0.1 * spread };
      return names.map((name) => Math.log(start[name] ?? usual[name]));
    }),
  );
  return {
    sizeOf,
    slopesOf,
    bounds: names.map((name) => ({ low: Math.log(limits[name][0]), high: Math.log(limits[name][1]) })),
    starts,
  };
}

/** mean square off the plane; 1 where all heights lie on it */
function spreadOf(x: Float64Array, y: Float64Array, z: Float64Array): number {
  const { slopeX, slopeY, offset } = leastSquaresPlane(x, y, z);
  let sum = 0;
  for (let i = 0; i < z.length; i++) sum += (z[i]! - offset - slopeX * x[i]! - slopeY * y[i]!) ** 2;
  return sum > 0 ? sum / z.length : 1;
}

function rangeOf(values: Float64Array): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const v of values) {
    low = Math.min(low, v);
    high = Math.max(high, v);
  }
  return high - low;
}

/**
 * One standard uncertainty of the logarithms along independent directions: from the bend of the likelihood at its top,
 * together with the limits taken as rectangular, so that a size about which the points say nothing stays within them.
 */
function directionsOfDoubt(f: Cost, at: readonly number[], { bounds }: Search): readonly (readonly number[])[] {
  const step = 1e-3;
  const rows = at.map((_, k) => {
    const moved = (sign: number) => f(at.map((v, i) => (i === k ? v + sign * step : v)));
    const [low, high] = [moved(-1), moved(1)];
    return at.map((__, i) => (low && high ? (high.gradient[i]! - low.gradient[i]!) / (2 * step) : 0));
  });
  const wide = bounds.map(({ low, high }) => 12 / (high - low) ** 2);
  const bend = rows.map((row, i) => row.map((v, j) => (v + rows[j]![i]!) / 2 + (i === j ? wide[i]! : 0)));
  const factor = factorOr(
    bend,
    bend.map((row, i) => row.map((v, j) => (i === j ? Math.max(v, wide[i]!) : 0))),
  );
  // columns of L⁻ᵀ: their products sum to the inverse of the bend
  return at.map((_, k) => {
    const column: number[] = at.map((__, i) => (i === k ? 1 : 0));
    for (let i = at.length - 1; i >= 0; i--) {
      let s = column[i]!;
      for (let j = i + 1; j < at.length; j++) s -= factor[j]![i]! * column[j]!;
      column[i] = s / factor[i]![i]!;
    }
    return column;
  });
}

function factorOr(matrix: readonly (readonly number[])[], other: readonly (readonly number[])[]) {
  try {
    return cholesky(matrix);
  } catch {
    return cholesky(other);
  }
}

function clamped(at: readonly number[], step: readonly number[], sign: number, bounds: Search["bounds"]): number[] {
  return at.map((v, i) => Math.min(Math.max(v + sign * step[i]!, bounds[i]!.low), bounds[i]!.high));
}
