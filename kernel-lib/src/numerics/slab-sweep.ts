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
  const found: Swept & { readonly outside: number[]; readonly upper: number[]; readonly lower: number[] } = {
    outside: [],
    upper: [],
    lower: [],
  };
  const stretch = Math.max(64, Math.ceil(z.length / 250));
  for (let start = 0; start < z.length; start += stretch) {
    const end = Math.min(start + stretch, z.length);
    let highest = far;
    let lowest = -far;
    let above = -1;
    let below = -1;
    for (let i = nextBeyond(x, y, z, bounds, start, end); i < end; i = nextBeyond(x, y, z, bounds, i + 1, end)) {
      needFinite(x, y, z, i);
      const r = z[i]! - mz - slopeX * (x[i]! - mx) - slopeY * (y[i]! - my) - offset;
      if (r >= near) found.upper.push(i);
      if (r <= -near) found.lower.push(i);
      if (r > highest) {
        highest = r;
        above = i;
      }
      if (r < lowest) {
        lowest = r;
        below = i;
      }
    }
    if (above >= 0) found.outside.push(above);
    if (below >= 0) found.outside.push(below);
  }
  return found;
}

/** The next point that touches the slab, stands outside or is no number; nearly every point is passed over here. */
function nextBeyond(
  x: Float64Array,
  y: Float64Array,
  z: Float64Array,
  { slopeX, slopeY, offset, touching, middle }: Bounds,
  from: number,
  end: number,
): number {
  const [mx, my, mz] = middle;
  const top = offset + touching;
  const floor = offset - touching;
  let i = from;
  while (i < end) {
    const r = z[i]! - mz - slopeX * (x[i]! - mx) - slopeY * (y[i]! - my);
    if (!(r < top && r > floor)) break;
    i++;
  }
  return i;
}

/** @throws MeasurementError `not-finite` */
export function needFinite(x: Float64Array, y: Float64Array, z: Float64Array, i: number): void {
  if (Number.isFinite(x[i]! + y[i]! + z[i]!)) return;
  throw new MeasurementError(
    "not-finite",
    `minimumZonePlane: point ${i + 1} of ${z.length} is (${x[i]}, ${y[i]}, ${z[i]}); leave out a point that was not measured`,
  );
}
