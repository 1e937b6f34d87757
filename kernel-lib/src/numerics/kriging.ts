import { MeasurementError } from "../measurement-error.js";
import type { KrigingParts } from "./kriging-parts.js";
import { KrigingSystem } from "./kriging-system.js";
import { TrendSpace } from "./trend-space.js";

/** Places with a height each. */
export interface Points {
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  readonly z: ArrayLike<number>;
}

/** What is known of the mean beforehand: it is zero, an unknown constant, an unknown plane. */
export type Trend = "none" | "constant" | "plane";

export interface KrigingOptions {
  /** covariance of two heights so far apart along x and y */
  readonly covariance: (dx: number, dy: number) => number;
  /** variance of the reading at each place, or of all; 0 where left out */
  readonly nugget?: number | ArrayLike<number>;
  readonly trend?: Trend;
}

/** Heights between places with their variance. */
export interface Kriging {
  /** coefficients of the trend: of 1, x, y */
  readonly trend: readonly number[];
  /** best height at a place and the variance of its error; the noise of a new reading is not in it */
  at(x: number, y: number): { readonly value: number; readonly variance: number };
}

/**
 * Kriging with a covariance that is given: simple (no trend), ordinary (a constant) or universal (a plane).
 *
 * @throws MeasurementError `too-few-points`, `not-finite`, `rank-deficient`, `same-place` (two at one place, without nugget), `not-positive-definite`
 * @see Isaaks and Srivastava, An Introduction to Applied Geostatistics, 1989, chapter 12
 * @example
 * const points = { x: [0, 10, 0, 10], y: [0, 0, 10, 10], z: [1, 2, 3, 4] };
 * numerics.kriging(points, { covariance: (dx, dy) => Math.exp(-0.1 * Math.hypot(dx, dy)) }).at(5, 5).value.toFixed(3) // => "2.500"
 */
export function kriging(points: Points, options: KrigingOptions): Kriging {
  const { x, y, z } = columnsOf(points, "kriging");
  const { covariance, nugget = 0, trend = "constant" } = options;
  if (nugget === 0) needApart(x, y, "kriging");
  const n = x.length;
  const own = (i: number) => (typeof nugget === "number" ? nugget : nugget[i]!);
  const system = new KrigingSystem({
    where: "kriging",
    x,
    y,
    z,
    trend: new TrendSpace(trendColumns(trend, x, y), n, "kriging"),
    fill: (memory, _, at, ld) => {
      for (let i = 0; i < n; i++) {
        for (let j = 0; j <= i; j++) memory[at + i * ld + j] = covariance(x[i]! - x[j]!, y[i]! - y[j]!);
        memory[at + i * ld + i] = memory[at + i * ld + i]! + own(i);
      }
    },
    cross: crossOf(covariance),
    trendAt: (px, py) => trendAt(trend, px, py),
    variance: covariance(0, 0),
  });
  return {
    trend: system.coefficients,
    at(px, py) {
      const { mean, variance } = system.predict(Float64Array.of(px), Float64Array.of(py));
      return { value: mean[0]!, variance: variance[0]! };
    },
  };
}

/** Covariances of places with targets, from those of two heights so far apart. */
export function crossOf(covariance: (dx: number, dy: number) => number): KrigingParts["cross"] {
  return (memory, _, at, ld, places, targets) => {
    for (let i = 0; i < places.x.length; i++) {
      for (let j = 0; j < targets.count; j++) {
        const from = targets.from + j;
        memory[at + i * ld + j] = covariance(targets.x[from]! - places.x[i]!, targets.y[from]! - places.y[i]!);
      }
    }
  };
}

export function trendAt(trend: Trend, x: number, y: number): readonly number[] {
  if (trend === "none") return [];
  return trend === "constant" ? [1] : [1, x, y];
}

export function trendColumns(trend: Trend, x: Float64Array, y: Float64Array): readonly Float64Array[] {
  return [x.map(() => 1), x, y].slice(0, trendAt(trend, 0, 0).length);
}

/** The columns of points, all numbers and enough of them. @throws MeasurementError `too-few-points`, `not-finite` */
export function columnsOf({ x, y, z }: Points, where: string): { x: Float64Array; y: Float64Array; z: Float64Array } {
  if (!(x.length >= 4 && y.length === x.length && z.length === x.length)) {
    throw new MeasurementError(
      "too-few-points",
      `${where}: ${x.length} x, ${y.length} y and ${z.length} z; give at least 4 points, one of each a point`,
    );
  }
  for (let i = 0; i < x.length; i++) {
    if (Number.isFinite(x[i]! + y[i]! + z[i]!)) continue;
    throw new MeasurementError(
      "not-finite",
      `${where}: point ${i + 1} is x ${x[i]}, y ${y[i]}, z ${z[i]}; leave it out if it was not measured`,
    );
  }
  return { x: Float64Array.from(x), y: Float64Array.from(y), z: Float64Array.from(z) };
}

/** Without noise two points at one place contradict or repeat each other. @throws MeasurementError `same-place` */
export function needApart(x: Float64Array, y: Float64Array, where: string): void {
  const seen = new Map<string, number>();
  for (let i = 0; i < x.length; i++) {
    const place = `${x[i]} ${y[i]}`;
    const before = seen.get(place);
    if (before !== undefined) {
      throw new MeasurementError(
        "same-place",
        `${where}: points ${before + 1} and ${i + 1} are both at x ${x[i]}, y ${y[i]}; leave one out, or give the readings a noise greater than zero`,
      );
    }
    seen.set(place, i);
  }
}
