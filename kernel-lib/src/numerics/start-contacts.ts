import { MeasurementError } from "../measurement-error.js";
import { solveSquare } from "./solve-square.js";

/** Four contacts by index, with the side on which each holds the slab. */
export interface Plan {
  readonly index: readonly number[];
  readonly side: readonly number[];
}

/**
 * Four points in general position: three far apart, and the one farthest from the plane through them; sides such that
 * no share is negative.
 *
 * @throws MeasurementError `on-a-line`
 */
export function startContacts(x: Float64Array, y: Float64Array, z: Float64Array): Plan {
  const corners = threeApart(x, y);
  if (corners === undefined) refuseLine(x.length);
  const plan = corners.map((i) => [x[i]!, y[i]!, 1]);
  const heights = corners.map((i) => z[i]!);
  const [a, b, c] = solveSquare(plan, heights) as [number, number, number];
  const off = (i: number) => (corners.includes(i) ? -1 : Math.abs(z[i]! - a * x[i]! - b * y[i]! - c));
  const fourth = farthest(x.length, off);
  const across = [0, 1, 2].map((row) => plan.map((p) => p[row]!));
  const shares = solveSquare(across, [x[fourth]!, y[fourth]!, 1]);
  const side = [...shares.map((s) => (s < 0 ? -1 : 1)), -1];
  const above = z[fourth]! > a * x[fourth]! + b * y[fourth]! + c;
  return { index: [...corners, fourth], side: above ? side.map((s) => -s) : side };
}

/** @throws MeasurementError `on-a-line` */
export function refuseLine(count: number): never {
  throw new MeasurementError(
    "on-a-line",
    `minimumZonePlane: the ${count} points lie on one line seen from above; measure at least one place beside it`,
  );
}

/** Three points that span an area; undefined where all lie on one line (`least`: in parts of −1 … 1). */
export function threeApart(x: Float64Array, y: Float64Array, least = 1e-9): readonly number[] | undefined {
  const first = farthest(x.length, (i) => -x[i]! - 1e-3 * y[i]!);
  const second = farthest(x.length, (i) => Math.hypot(x[i]! - x[first]!, y[i]! - y[first]!));
  const [ux, uy] = [x[second]! - x[first]!, y[second]! - y[first]!];
  const aside = (i: number) => Math.abs(ux * (y[i]! - y[first]!) - uy * (x[i]! - x[first]!));
  const third = farthest(x.length, aside);
  return aside(third) > least ? [first, second, third] : undefined;
}

function farthest(count: number, measure: (i: number) => number): number {
  let best = 0;
  let most = measure(0);
  for (let i = 1; i < count; i++) {
    const value = measure(i);
    if (!(value > most)) continue;
    most = value;
    best = i;
  }
  return best;
}
