import { MeasurementError } from "../measurement-error.js";

/** A slab of planes z − mz = slopeX (x − mx) + slopeY (y − my) + offset ± half, by two half-widths. */
export interface Bounds {
  readonly middle: readonly [x: number, y: number, z: number];
  readonly slopeX: number;
  readonly slopeY: number;
  readonly offset: number;
  /** half-width beyond which a point stands outside */
  readonly outside: number;
  /** half-width from which a point counts as touching, not above `outside` */
  readonly touching: number;
}

export interface Swept {
  /** of each stretch of points the worst above and the worst below that stand outside */
  readonly outside: readonly number[];
  readonly upper: readonly number[];
  readonly lower: readonly number[];
}

/**
 * One look at all points.
 *
 * @throws MeasurementError `not-finite`
 */
export function sweep(x: Float64Array, y: Float64Array, z: Float64Array, bounds: Bounds): Swept {
  const { slopeX, slopeY, offset, outside: far, touching: near } = bounds;
  const [mx, my, mz] = bounds.middle;
  const [top, floor] = [offset + near, offset - near];
  const outside: number[] = [];
  const upper: number[] = [];
  const lower: number[] = [];
  const stretch = Math.max(64, Math.ceil(z.length / 250));
  for (let start = 0; start < z.length; start += stretch) {
    const end = Math.min(start + stretch, z.length);
    let [highest, lowest] = [offset + far, offset - far];
    let [above, below] = [-1, -1];
    for (let i = start; i < end; i++) {
      const r = z[i]! - mz - slopeX * (x[i]! - mx) - slopeY * (y[i]! - my);
      // nearly every point ends here; one that is no number does not
      if (r < top && r > floor) continue;
      needFinite(x, y, z, i);
      if (r >= top) upper.push(i);
      if (r <= floor) lower.push(i);
      if (r > highest) {
        highest = r;
        above = i;
      }
      if (r < lowest) {
        lowest = r;
        below = i;
      }
    }
    if (above >= 0) outside.push(above);
    if (below >= 0) outside.push(below);
  }
  return { outside, upper, lower };
}

/** @throws MeasurementError `not-finite` */
export function needFinite(x: Float64Array, y: Float64Array, z: Float64Array, i: number): void {
  if (Number.isFinite(x[i]! + y[i]! + z[i]!)) return;
  throw new MeasurementError(
    "not-finite",
    `minimumZonePlane: point ${i + 1} of ${z.length} is (${x[i]}, ${y[i]}, ${z[i]}); leave out a point that was not measured`,
  );
}
