import { MeasurementError } from "../measurement-error.js";

/** The thinnest strip, bounded by two parallel lines, that holds all points; distances along z. */
export interface MinimumZoneLine {
  /** mid line z = slope · t + offset */
  readonly slope: number;
  readonly offset: number;
  readonly zone: number;
  /** points that touch the upper and the lower line, by index; one side's point lies between two of the other */
  readonly upper: readonly number[];
  readonly lower: readonly number[];
}

/**
 * Minimum zone line, exact: the width over the slope is convex and bends at the slopes of the convex hull's sides, so the
 * least of it stands at one of them.
 *
 * @param t places along the line
 * @param z heights, in any unit
 * @throws MeasurementError `too-few-places`, `not-finite`, `same-place`
 * @see ISO 12780-1 (minimum zone reference line)
 * @example
 * numerics.minimumZoneLine([0, 1, 2, 3], [0, 1, 1, 0]).zone // => 1
 */
export function minimumZoneLine(t: ArrayLike<number>, z: ArrayLike<number>): MinimumZoneLine {
  check(t, z);
  const order = inOrder(t);
  const work = new Strip(t, order);
  const { slope, zone, high } = work.thinnest(Float64Array.from(z));
  const off = (i: number) => z[i]! - z[0]! - slope * (t[i]! - t[0]!);
  const near = 1e-9 * Math.max(zone, 1e-300);
  return {
    slope,
    offset: z[0]! - slope * t[0]! + high - zone / 2,
    zone,
    upper: order.filter((i) => off(i) >= high - near),
    lower: order.filter((i) => off(i) <= high - zone + near),
  };
}

/** Width of the minimum zone of many sets of heights at the same places. */
export function minimumZoneLineWidths(t: ArrayLike<number>): (heights: Float64Array) => number {
  const work = new Strip(t, inOrder(t));
  return (heights) => work.thinnest(heights).zone;
}

function inOrder(t: ArrayLike<number>): number[] {
  return Array.from(t, (_, i) => i).sort((i, j) => t[i]! - t[j]!);
}

/** The search for the thinnest strip at given places; the hulls are kept from set to set. */
class Strip {
  private readonly top: Int32Array;
  private readonly floor: Int32Array;

  constructor(
    private readonly t: ArrayLike<number>,
    private readonly order: readonly number[],
  ) {
    this.top = new Int32Array(order.length);
    this.floor = new Int32Array(order.length);
  }

  /** slope, width, and the height of its upper line above the first point */
  thinnest(z: Float64Array): { readonly slope: number; readonly zone: number; readonly high: number } {
    const { top, floor } = this;
    const tops = this.chain(z, 1, top);
    const floors = this.chain(z, -1, floor);
    let best = { slope: 0, zone: Number.POSITIVE_INFINITY, high: 0 };
    for (const [hull, count] of [
      [top, tops],
      [floor, floors],
    ] as const) {
      for (let k = 1; k < count; k++) {
        const slope = slopeOf(this.t, z, hull[k - 1]!, hull[k]!);
        const high = this.extreme(z, top, tops, slope, 1);
        const zone = high + this.extreme(z, floor, floors, slope, -1);
        if (zone < best.zone) best = { slope, zone, high };
      }
    }
    return best;
  }

  private extreme(z: Float64Array, hull: Int32Array, count: number, slope: number, side: number): number {
    let most = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < count; k++) {
      const i = hull[k]!;
      const off = side * (z[i]! - z[0]! - slope * (this.t[i]! - this.t[0]!));
      if (off > most) most = off;
    }
    return most;
  }

  /** the upper (side 1) or lower side of the convex hull, from left to right; returns how many points it has */
  private chain(z: Float64Array, side: number, hull: Int32Array): number {
    const { t, order } = this;
    let count = 0;
    for (let k = 0; k < order.length; k++) {
      const i = order[k]!;
      if (count > 0 && t[hull[count - 1]!] === t[i]) {
        if (side * z[i]! <= side * z[hull[count - 1]!]!) continue;
        count--;
      }
      while (
        count > 1 &&
        side * (slopeOf(t, z, hull[count - 2]!, hull[count - 1]!) - slopeOf(t, z, hull[count - 1]!, i)) <= 0
      ) {
        count--;
      }
      hull[count++] = i;
    }
    return count;
  }
}

function slopeOf(t: ArrayLike<number>, z: ArrayLike<number>, i: number, j: number): number {
  return (z[j]! - z[i]!) / (t[j]! - t[i]!);
}

function check(t: ArrayLike<number>, z: ArrayLike<number>): void {
  if (!(z.length >= 3 && t.length === z.length)) {
    throw new MeasurementError(
      "too-few-places",
      `minimumZoneLine: ${t.length} places and ${z.length} heights; give at least three points, each with both`,
    );
  }
  for (let i = 0; i < z.length; i++) {
    if (Number.isFinite(t[i]! + z[i]!)) continue;
    throw new MeasurementError(
      "not-finite",
      `minimumZoneLine: point ${i + 1} of ${z.length} is (${t[i]}, ${z[i]}); leave out a point that was not measured`,
    );
  }
  if (Array.from(t).some((v) => v !== t[0])) return;
  throw new MeasurementError(
    "same-place",
    `minimumZoneLine: all ${t.length} points are at ${t[0]}; a line needs two places`,
  );
}
