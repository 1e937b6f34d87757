import { boundedMinimum, type Minimum } from "./bounded-minimum.js";
import type { CovarianceFamily } from "./covariance-family.js";
import type { Dense } from "./dense.js";
import { type CovarianceSize, type LikelihoodParts, likelihoodValue, logLikelihood } from "./gaussian-likelihood.js";
import type { Places, Targets } from "./kriging-parts.js";
import { type FitOptions, type Search, searchOf } from "./size-search.js";
import { cholesky } from "./symmetric.js";

export interface CovarianceFit {
  readonly size: CovarianceSize;
  readonly logLikelihood: number;
  readonly evaluations: number;
  readonly doubt: readonly (readonly [CovarianceSize, CovarianceSize])[];
}

/**
 * Sizes of the covariance with the greatest likelihood, and how far they may be off.
 * @param fewer some of the points, on which the search goes most of its way
 */
export function fitCovariance(
  parts: LikelihoodParts,
  options: FitOptions,
  fewer?: LikelihoodParts,
): CovarianceFit | undefined {
  const search = searchOf(parts, options);
  let evaluations = 0;
  const cost = costOf(parts, search, () => evaluations++);
  let best: Minimum | undefined;
  for (const { at, inverse } of beginnings(search, parts, fewer)) {
    const found = boundedMinimum(cost, at, search.bounds, { tolerance, ...(inverse && { inverse }) });
    if (found !== undefined && !(best !== undefined && best.value <= found.value)) best = found;
  }
  if (best === undefined) return undefined;
  const { at } = best;
  const doubt = options.start === undefined ? directionsOfDoubt(cost, at, search) : [];
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

/** slopes of the likelihood that count as none */
const tolerance = 1e-3;

type Cost = (logs: readonly number[]) => { readonly value: number; readonly gradient: readonly number[] } | undefined;

/** what the search makes least: the likelihood with its sign turned */
function costOf(parts: LikelihoodParts, { sizeOf, slopesOf }: Search, count: () => void): Cost {
  return (logs) => {
    count();
    const found = logLikelihood(parts, sizeOf(logs));
    return found && { value: -found.value, gradient: slopesOf(found.gradient).map((g) => -g) };
  };
}

interface Beginning {
  readonly at: readonly number[];
  readonly inverse?: Minimum["inverse"];
}

/** where the search on all points begins: the starts, or what they lead to on fewer of the points where that is likelier */
function beginnings(search: Search, parts: LikelihoodParts, fewer: LikelihoodParts | undefined): readonly Beginning[] {
  const starts = promising(search, fewer ?? parts);
  if (fewer === undefined) return starts.map((at) => ({ at }));
  const cost = costOf(fewer, search, () => {});
  const share = fewer.z.length / parts.z.length;
  const found: Beginning[] = [];
  for (const start of starts) {
    const near = boundedMinimum(cost, start, search.bounds, { tolerance })?.at ?? start;
    if (found.some(({ at }) => isClose(at, near))) continue;
    const at = isLikelier(parts, search.sizeOf(near), search.sizeOf(start)) ? near : start;
    found.push({ at, inverse: inverseOf(scaled(directionsOfDoubt(cost, near, search), share, search)) });
  }
  return found;
}

/** more points over the same places say more of their noise, and hardly more of the variance and the lengths */
function scaled(directions: readonly (readonly number[])[], share: number, { names }: Search) {
  return directions.map((d) => d.map((v, i) => (names[i] === "noise" ? v * Math.sqrt(share) : v)));
}

function inverseOf(directions: readonly (readonly number[])[]): Minimum["inverse"] {
  return directions.map((_, i) => directions.map((__, j) => directions.reduce((s, d) => s + d[i]! * d[j]!, 0)));
}

function isLikelier(parts: LikelihoodParts, one: CovarianceSize, other: CovarianceSize): boolean {
  const value = likelihoodValue(parts, one);
  if (value === undefined) return false;
  const against = likelihoodValue(parts, other);
  return against === undefined || value > against;
}

/** within a tenth: the same peak */
function isClose(a: readonly number[], b: readonly number[]): boolean {
  return a.every((v, i) => Math.abs(v - b[i]!) < 0.1);
}

/** Covariances of the places with targets: a row a place, a column a target. */
export function crossCovariance(
  family: CovarianceFamily,
  { variance, lengthX, lengthY }: CovarianceSize,
  memory: Float64Array,
  dense: Dense,
  { at, ld, places, targets }: { at: number; ld: number; places: Places; targets: Targets },
): void {
  const { x, y } = places;
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
