import { MeasurementError } from "../measurement-error.js";

/** The plane z = slopeX · x + slopeY · y + offset with the least sum of squared vertical distances. */
export interface LeastSquaresPlane {
  /** unit of z per unit of x */
  readonly slopeX: number;
  readonly slopeY: number;
  /** height at x = y = 0 */
  readonly offset: number;
  /** greatest distance above the plane, and (negative) below it, measured along z */
  readonly highest: number;
  readonly lowest: number;
}

const block = 4096;

/**
 * Least-squares plane through points, distances along z, by centred normal equations summed in blocks.
 *
 * @throws MeasurementError `too-few-places`, `not-finite`, `on-a-line`
 * @example
 * numerics.leastSquaresPlane([0, 1, 0, 1], [0, 0, 1, 1], [5, 7, 5, 7]).slopeX // => 2
 */
export function leastSquaresPlane(x: ArrayLike<number>, y: ArrayLike<number>, z: ArrayLike<number>): LeastSquaresPlane {
  if (!(z.length >= 3 && x.length === z.length && y.length === z.length)) {
    throw new MeasurementError(
      "too-few-places",
      `leastSquaresPlane: ${x.length} x, ${y.length} y and ${z.length} z; give at least three points, each with all three`,
    );
  }
  const [xs, ys, zs] = [doubles(x), doubles(y), doubles(z)];
  const s = sums(xs, ys, zs);
  const n = xs.length;
  const [mx, my, mz] = [s[0]! / n, s[1]! / n, s[2]! / n];
  const xx = s[3]! - n * mx * mx;
  const xy = s[4]! - n * mx * my;
  const yy = s[5]! - n * my * my;
  const xz = s[6]! - n * mx * mz;
  const yz = s[7]! - n * my * mz;
  const determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-12 * xx * yy && Number.isFinite(xz + yz + mz))) refuse(xs, ys, zs);
  const slopeX = (xz * yy - yz * xy) / determinant;
  const slopeY = (yz * xx - xz * xy) / determinant;
  const offset = zs[0]! + mz - slopeX * (xs[0]! + mx) - slopeY * (ys[0]! + my);
  const [lowest, highest] = extremes(xs, ys, zs, slopeX, slopeY);
  return { slopeX, slopeY, offset, highest: highest - offset, lowest: lowest - offset };
}

/** sums of the points taken from the first one, so that nothing large cancels: x y z xx xy yy xz yz */
function sums(x: Float64Array, y: Float64Array, z: Float64Array): Float64Array {
  const total = new Float64Array(8);
  const x0 = x[0]!;
  const y0 = y[0]!;
  const z0 = z[0]!;
  for (let start = 0; start < x.length; start += block) {
    const end = Math.min(start + block, x.length);
    let sx = 0;
    let sy = 0;
    let sz = 0;
    let xx = 0;
    let xy = 0;
    let yy = 0;
    let xz = 0;
    let yz = 0;
    let i = start;
    // two points a turn: half as many additions wait for the one before
    for (; i + 1 < end; i += 2) {
      const u = x[i]! - x0;
      const v = y[i]! - y0;
      const w = z[i]! - z0;
      const p = x[i + 1]! - x0;
      const q = y[i + 1]! - y0;
      const r = z[i + 1]! - z0;
      sx += u + p;
      sy += v + q;
      sz += w + r;
      xx += u * u + p * p;
      xy += u * v + p * q;
      yy += v * v + q * q;
      xz += u * w + p * r;
      yz += v * w + q * r;
    }
    if (i < end) {
      const [u, v, w] = [x[i]! - x0, y[i]! - y0, z[i]! - z0];
      sx += u;
      sy += v;
      sz += w;
      xx += u * u;
      xy += u * v;
      yy += v * v;
      xz += u * w;
      yz += v * w;
    }
    [sx, sy, sz, xx, xy, yy, xz, yz].forEach((part, k) => {
      total[k] = total[k]! + part;
    });
  }
  return total;
}

function extremes(x: Float64Array, y: Float64Array, z: Float64Array, a: number, b: number): [number, number] {
  let lowest = z[0]! - a * x[0]! - b * y[0]!;
  let highest = lowest;
  const odd = x.length % 2;
  // a new extreme is rare: one test for four comparisons
  for (let i = odd; i < x.length; i += 2) {
    const r = z[i]! - a * x[i]! - b * y[i]!;
    const s = z[i + 1]! - a * x[i + 1]! - b * y[i + 1]!;
    if (r < lowest || r > highest || s < lowest || s > highest) {
      lowest = Math.min(lowest, r, s);
      highest = Math.max(highest, r, s);
    }
  }
  return [lowest, highest];
}

function doubles(values: ArrayLike<number>): Float64Array {
  return values instanceof Float64Array ? values : Float64Array.from(values);
}

/** the sums cannot be used: says whether a value or the lie of the points is to blame */
function refuse(x: Float64Array, y: Float64Array, z: Float64Array): never {
  for (let i = 0; i < x.length; i++) {
    if (Number.isFinite(x[i]! + y[i]! + z[i]!)) continue;
    throw new MeasurementError(
      "not-finite",
      `leastSquaresPlane: point ${i + 1} of ${x.length} is (${x[i]}, ${y[i]}, ${z[i]}); leave out a point that was not measured`,
    );
  }
  throw new MeasurementError(
    "on-a-line",
    `leastSquaresPlane: the ${x.length} points lie on one line seen from above; measure at least one place beside it`,
  );
}
