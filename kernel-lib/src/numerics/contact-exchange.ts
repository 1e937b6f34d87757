import { MeasurementError } from "../measurement-error.js";
import { solveSquare } from "./solve-square.js";

/** The exchange of contacts behind the minimum zone: the simplex method on the dual programme, whose unknowns are the
 * shares of the contacts. Four contacts (place, side, share) hold the slab at a time. */

export interface Points {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

export interface Basis {
  readonly index: number[];
  /** +1 above, −1 below the mid plane */
  readonly side: number[];
}

/** a point that holds the slab, and its share of the proof */
export interface Contact {
  readonly index: number;
  readonly side: "upper" | "lower";
  readonly share: number;
}

/** Slopes, offset and half-width of the slab that the four contacts hold. */
export function planeOf(points: Points, basis: Basis): readonly [number, number, number, number] {
  const rows = basis.index.map((i, k) => entry(points, i, basis.side[k]!));
  const heights = basis.index.map((i, k) => basis.side[k]! * points.z[i]!);
  return solveSquare(rows, heights) as [number, number, number, number];
}

/** Lets a point in; the contact that would first be left without a share goes out. */
export function exchange(points: Points, basis: Basis, entering: { index: number; side: number }): void {
  const shares = sharesOf(points, basis);
  const change = solveSquare(columns(points, basis), entry(points, entering.index, entering.side));
  let leaving = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 4; k++) {
    if (!(change[k]! > 1e-11)) continue;
    const ratio = Math.max(shares[k]!, 0) / change[k]!;
    const first = leaving < 0 || basis.index[k]! < basis.index[leaving]!;
    if (ratio < least - 1e-14 || (ratio <= least + 1e-14 && first)) {
      least = Math.min(ratio, least);
      leaving = k;
    }
  }
  if (leaving < 0) {
    throw new MeasurementError(
      "no-convergence",
      "minimumZonePlane: no contact can be exchanged; look for places that nearly coincide",
    );
  }
  basis.index[leaving] = entering.index;
  basis.side[leaving] = entering.side;
}

/** The contacts that carry a share, and how far the means of the two sides lie apart. */
export function contactsOf(points: Points, basis: Basis): { shares: readonly Contact[]; gap: number } {
  const share = sharesOf(points, basis);
  let dx = 0;
  let dy = 0;
  basis.index.forEach((i, k) => {
    dx += 2 * share[k]! * basis.side[k]! * points.x[i]!;
    dy += 2 * share[k]! * basis.side[k]! * points.y[i]!;
  });
  const shares = basis.index
    .map((index, k) => ({
      index,
      side: basis.side[k]! > 0 ? ("upper" as const) : ("lower" as const),
      share: share[k]!,
    }))
    .filter((contact) => contact.share > 1e-12);
  return { shares, gap: Math.hypot(dx, dy) };
}

/** Four points in general position: three far apart, and the one farthest from the plane through them. */
export function startBasis(points: Points): Basis {
  const { x, y, z } = points;
  const first = farthest(x.length, (i) => -x[i]! - 1e-3 * y[i]!);
  const second = farthest(x.length, (i) => Math.hypot(x[i]! - x[first]!, y[i]! - y[first]!));
  const [ux, uy] = [x[second]! - x[first]!, y[second]! - y[first]!];
  const aside = (i: number) => Math.abs(ux * (y[i]! - y[first]!) - uy * (x[i]! - x[first]!));
  const third = farthest(x.length, aside);
  if (!(aside(third) > 1e-9)) {
    throw new MeasurementError(
      "on-a-line",
      `minimumZonePlane: the ${x.length} points lie on one line seen from above; measure at least one place beside it`,
    );
  }
  const corners = [first, second, third];
  const plan = corners.map((i) => [x[i]!, y[i]!, 1]);
  const through = solveSquare(
    plan,
    corners.map((i) => z[i]!),
  ) as [number, number, number];
  const off = (i: number) =>
    corners.includes(i) ? -1 : Math.abs(z[i]! - through[0] * x[i]! - through[1] * y[i]! - through[2]);
  const fourth = farthest(x.length, off);
  const shares = solveSquare(
    [0, 1, 2].map((row) => plan.map((p) => p[row]!)),
    [x[fourth]!, y[fourth]!, 1],
  );
  const index = [...corners, fourth];
  const side = [...shares.map((s) => (s < 0 ? -1 : 1)), -1];
  const half = planeOf(points, { index, side })[3];
  return { index, side: half < 0 ? side.map((s) => -s) : side };
}

function sharesOf(points: Points, basis: Basis): readonly number[] {
  return solveSquare(columns(points, basis), [0, 0, 0, 1]);
}

function columns(points: Points, basis: Basis): readonly (readonly number[])[] {
  const entries = basis.index.map((i, k) => entry(points, i, basis.side[k]!));
  return [0, 1, 2, 3].map((row) => entries.map((column) => column[row]!));
}

function entry({ x, y }: Points, index: number, side: number): readonly number[] {
  return [side * x[index]!, side * y[index]!, side, 1];
}

function farthest(count: number, measure: (i: number) => number): number {
  let best = 0;
  for (let i = 1; i < count; i++) if (measure(i) > measure(best)) best = i;
  return best;
}
