import type { EllipseBound } from "./chebyshev-sheet.js";
import type { CovarianceSize, LikelihoodParts } from "./gaussian-likelihood.js";
import type { KrigingSystem } from "./kriging-system.js";
import { range } from "./range.js";

/** share of the least standard uncertainty that a place can have */
const allowed = 1e-6;

interface Ellipse {
  /** how much larger a covariance may be than at real places */
  readonly growth: number;
  /** greatest values of the trend's columns */
  readonly trend: readonly number[];
}

/**
 * How large heights and variances of a process with a squared exponential covariance can be where x or y is complex, in units of a
 * millionth of the least standard uncertainty (or variance) that a place can have.
 *
 * For such a covariance |k| ≤ s² e^(η²/2l²) over an imaginary part of η. With h the weights of the trend, L the factor and d the least noise:
 * |variance| ≤ s² + 2 |h| |k| + |h|² tr K + (|k| + |h| tr K)² / d. No variance is below 1 / (1/s² + n/d).
 */
export function processBound(
  parts: LikelihoodParts,
  {
    size,
    system,
    shifted,
  }: {
    readonly size: CovarianceSize;
    readonly system: KrigingSystem;
    readonly shifted: readonly (readonly [Sized, Sized])[];
  },
  places: { readonly x: Float64Array; readonly y: Float64Array },
): EllipseBound {
  const noise = Math.min(...parts.nugget) + size.noise;
  const least = 1 / (1 / size.variance + parts.z.length / noise);
  const ranges = { x: range(places.x), y: range(places.y) };
  return (axis, rho) => {
    const on = (own: CovarianceSize) => ellipse(system, own, ranges, axis, rho);
    const height = heightBound(system, size, on(size));
    const doubts = shifted.map(
      ([less, more]) =>
        ((heightBound(less.system, less.size, on(less.size)) + heightBound(more.system, more.size, on(more.size))) /
          2) **
        2,
    );
    const variance = doubts.reduce((s, v) => s + v, varianceBound(parts, size, noise, on(size)));
    return Math.max(variance / least, height / Math.sqrt(least)) / allowed;
  };
}

export interface Sized {
  readonly size: CovarianceSize;
  readonly system: KrigingSystem;
}

function ellipse(
  system: KrigingSystem,
  { lengthX, lengthY }: CovarianceSize,
  ranges: { readonly x: readonly [number, number]; readonly y: readonly [number, number] },
  axis: "x" | "y",
  rho: number,
): Ellipse {
  const reach = (way: "x" | "y") => {
    const [low, high] = ranges[way];
    const half = ((high - low) / 2) * (way === axis ? (rho + 1 / rho) / 2 : 1);
    return Math.abs((low + high) / 2) + half;
  };
  const [low, high] = ranges[axis];
  const aside = ((high - low) * (rho - 1 / rho)) / 4 / (axis === "x" ? lengthX : lengthY);
  return { growth: Math.exp(aside ** 2 / 2), trend: system.parts.trendAt(reach("x"), reach("y")) };
}

function heightBound(system: KrigingSystem, { variance }: CovarianceSize, { growth, trend }: Ellipse): number {
  const weights = system.weights.reduce((s, w) => s + Math.abs(w), 0);
  return trend.reduce((s, f, k) => s + f * Math.abs(system.coefficients[k]!), weights * variance * growth);
}

function varianceBound(
  parts: LikelihoodParts,
  size: CovarianceSize,
  noise: number,
  { growth, trend }: Ellipse,
): number {
  const n = parts.z.length;
  let trace = n * (size.variance + size.noise);
  for (let i = 0; i < n; i++) trace += parts.modes.reduce((s, mode) => s + mode[i]! ** 2, parts.nugget[i]!);
  const covariance = Math.sqrt(n) * size.variance * growth;
  const weights = trend.reduce((s, f, k) => {
    const unit = trend.map((_, i) => (i === k ? 1 : 0));
    return s + f * Math.hypot(...parts.trend.weights(unit));
  }, 0);
  return size.variance + 2 * weights * covariance + weights ** 2 * trace + (covariance + weights * trace) ** 2 / noise;
}
