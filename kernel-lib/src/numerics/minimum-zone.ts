import { MeasurementError } from "../measurement-error.js";
import {
  type Basis,
  type Contact,
  contactsOf,
  exchange,
  type Points,
  planeOf,
  startBasis,
} from "./contact-exchange.js";

/** The thinnest slab, bounded by two parallel planes, that holds all points; distances along z. */
export interface MinimumZone {
  /** mid plane z = slopeX · x + slopeY · y + offset */
  readonly slopeX: number;
  readonly slopeY: number;
  readonly offset: number;
  /** distance of the two planes along z */
  readonly zone: number;
  /** every point that touches the upper and the lower plane, by its index */
  readonly upper: readonly number[];
  readonly lower: readonly number[];
  /** Proof that no thinner slab exists: one point of the plan is a mean both of upper and of lower contacts. */
  readonly certificate: {
    /** contacts with their shares of that mean; the shares of each side sum to one half */
    readonly shares: readonly Contact[];
    /** how far the two means lie apart, in parts of the extent of the points: zero but for rounding */
    readonly gap: number;
    /** how far the worst point stands outside the slab, in parts of the z range: zero but for rounding */
    readonly excess: number;
  };
}

/** below this, in parts of the range of the points, a difference is rounding */
const rounding = 1e-12;

/**
 * Minimum zone plane, exact: the linear programme in slope x, slope y, offset and half-width, solved by exchange of
 * contacts. It ends when no point stands outside the slab and the contacts prove that none thinner exists (a point of
 * the plan lies within both the hull of the upper and the hull of the lower contacts).
 *
 * @param x places, in one unit with y
 * @param z heights, in any unit
 * @throws MeasurementError `too-few-places`, `not-finite`, `on-a-line`, `no-convergence`
 * @see ISO 12781-1 (minimum zone reference plane); the proof is the duality of linear programmes
 * @example
 * numerics.minimumZonePlane([0, 1, 0, 1], [0, 0, 1, 1], [1, -1, -1, 1]).zone // => 2
 */
export function minimumZonePlane(x: ArrayLike<number>, y: ArrayLike<number>, z: ArrayLike<number>): MinimumZone {
  checkPoints(x, y, z);
  const scales = [scaling(x), scaling(y), scaling(z)] as const;
  const points: Points = { x: scales[0].values, y: scales[1].values, z: scales[2].values };
  const basis = startBasis(points);
  let plane = planeOf(points, basis);
  let reached = -1;
  let stalled = 0;
  for (let step = 0; step < 10_000; step++) {
    const worst = worstPoint(points, plane);
    const excess = worst ? worst.excess : 0;
    if (!(excess > rounding * (1 + Math.abs(plane[0]) + Math.abs(plane[1])))) {
      return report(points, basis, plane, excess, scales);
    }
    // a contact without a share is exchanged without gain; the first point outside, not the worst, cannot go in a circle
    stalled = plane[3] > reached + rounding ? 0 : stalled + 1;
    reached = Math.max(reached, plane[3]);
    exchange(points, basis, stalled > 20 ? firstOutside(points, plane) : worst!);
    plane = planeOf(points, basis);
  }
  throw new MeasurementError(
    "no-convergence",
    "minimumZonePlane: the contacts still change after 10000 exchanges; look for places that nearly coincide",
  );
}

type Plane = readonly [a: number, b: number, c: number, half: number];
type Outside = { readonly index: number; readonly side: number; readonly excess: number };

function worstPoint({ x, y, z }: Points, [a, b, c, half]: Plane): Outside | undefined {
  let index = -1;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < z.length; i++) {
    const size = Math.abs(z[i]! - a * x[i]! - b * y[i]! - c);
    if (size > most) {
      most = size;
      index = i;
    }
  }
  return outside({ x, y, z }, [a, b, c, half], index);
}

function firstOutside(points: Points, plane: Plane): Outside {
  for (let i = 0; i < points.z.length; i++) {
    const found = outside(points, plane, i);
    if (found.excess > rounding) return found;
  }
  return worstPoint(points, plane)!;
}

function outside({ x, y, z }: Points, [a, b, c, half]: Plane, index: number): Outside {
  const r = z[index]! - a * x[index]! - b * y[index]! - c;
  return { index, side: r < 0 ? -1 : 1, excess: Math.abs(r) - half };
}

interface Scaling {
  readonly values: Float64Array;
  readonly middle: number;
  readonly half: number;
}

function report(
  points: Points,
  basis: Basis,
  plane: Plane,
  excess: number,
  [sx, sy, sz]: readonly [Scaling, Scaling, Scaling],
): MinimumZone {
  const [a, b, c, half] = plane;
  const slopeX = (a * sz.half) / sx.half;
  const slopeY = (b * sz.half) / sy.half;
  const touching = (side: number) =>
    Array.from(points.z, (_, i) => i).filter((i) => {
      const r = points.z[i]! - a * points.x[i]! - b * points.y[i]! - c;
      return side * r >= half - 1e-9;
    });
  const { shares, gap } = contactsOf(points, basis);
  return {
    slopeX,
    slopeY,
    offset: sz.middle + c * sz.half - slopeX * sx.middle - slopeY * sy.middle,
    zone: 2 * Math.max(half, 0) * sz.half,
    upper: touching(1),
    lower: touching(-1),
    certificate: { shares, gap, excess: Math.max(excess, 0) },
  };
}

/** values moved and scaled to −1 … 1 */
function scaling(values: ArrayLike<number>): Scaling {
  let low = values[0]!;
  let high = values[0]!;
  for (let i = 1; i < values.length; i++) {
    if (values[i]! < low) low = values[i]!;
    if (values[i]! > high) high = values[i]!;
  }
  const middle = low + (high - low) / 2;
  const half = (high - low) / 2 || 1;
  return { values: Float64Array.from(values, (v) => (v - middle) / half), middle, half };
}

function checkPoints(x: ArrayLike<number>, y: ArrayLike<number>, z: ArrayLike<number>): void {
  if (!(z.length >= 4 && x.length === z.length && y.length === z.length)) {
    throw new MeasurementError(
      "too-few-places",
      `minimumZonePlane: ${x.length} x, ${y.length} y and ${z.length} z; give at least four points, each with all three`,
    );
  }
  for (let i = 0; i < z.length; i++) {
    if (Number.isFinite(x[i]! + y[i]! + z[i]!)) continue;
    throw new MeasurementError(
      "not-finite",
      `minimumZonePlane: point ${i + 1} of ${z.length} is (${x[i]}, ${y[i]}, ${z[i]}); leave out a point that was not measured`,
    );
  }
}
