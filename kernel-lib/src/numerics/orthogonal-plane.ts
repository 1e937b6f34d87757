import { MeasurementError } from "../measurement-error.js";

/** The plane z = slopeX · x + slopeY · y + offset with the least sum of squared distances square to it. */
export interface OrthogonalPlane {
  readonly slopeX: number;
  readonly slopeY: number;
  readonly offset: number;
  /** greatest distance above the plane, and (negative) below it, measured square to it */
  readonly highest: number;
  readonly lowest: number;
}

/**
 * Orthogonal (total) least-squares plane: distances square to the plane, x, y and z in one unit.
 *
 * Such a plane turns on edge when the heights range as widely as the places; it is refused then.
 *
 * @throws MeasurementError `too-few-places`, `not-finite`, `on-a-line`, `steep` when z ranges over half of the narrower
 * side of the places or more
 * @see the direction of least spread, an eigenvector of the 3 × 3 matrix of moments
 * @example
 * numerics.orthogonalPlane([0, 10, 0, 10], [0, 0, 10, 10], [0, 1, 0, 1]).slopeX.toFixed(6) // => "0.100000"
 */
export function orthogonalPlane(x: ArrayLike<number>, y: ArrayLike<number>, z: ArrayLike<number>): OrthogonalPlane {
  check(x, y, z);
  const n = z.length;
  const [mx, my, mz] = [meanOf(x), meanOf(y), meanOf(z)];
  const sums = new Float64Array(6);
  for (let i = 0; i < n; i++) {
    const [u, v, w] = [x[i]! - mx, y[i]! - my, z[i]! - mz];
    sums[0]! += u * u;
    sums[1]! += u * v;
    sums[2]! += u * w;
    sums[3]! += v * v;
    sums[4]! += v * w;
    sums[5]! += w * w;
  }
  refuseLine(n, sums[0]!, sums[1]!, sums[3]!);
  refuseSteep(sums, z);
  const [slopeX, slopeY] = slopesOf(sums);
  const offset = mz - slopeX * mx - slopeY * my;
  const across = Math.hypot(1, slopeX, slopeY);
  let highest = Number.NEGATIVE_INFINITY;
  let lowest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const r = (z[i]! - mz - slopeX * (x[i]! - mx) - slopeY * (y[i]! - my)) / across;
    if (r > highest) highest = r;
    if (r < lowest) lowest = r;
  }
  return { slopeX, slopeY, offset, highest, lowest };
}

/**
 * Slopes a, b with M (a, b, −1) = λ (a, b, −1), λ the least eigenvalue of the moments: by turns from the plane of vertical
 * distances, λ = share of the moments that the plane leaves.
 */
function slopesOf([xx, xy, xz, yy, yz, zz]: Float64Array): readonly [number, number] {
  let a = 0;
  let b = 0;
  let least = 0;
  for (let turn = 0; turn < 200; turn++) {
    const [p, q] = [xx! - least, yy! - least];
    const determinant = p * q - xy! * xy!;
    const [na, nb] = [(xz! * q - yz! * xy!) / determinant, (yz! * p - xz! * xy!) / determinant];
    const moved = Math.hypot(na - a, nb - b);
    [a, b] = [na, nb];
    // Rayleigh's quotient of the normal, from residual moments so that nothing large cancels
    const rx = xz! - a * xx! - b * xy!;
    const ry = yz! - a * xy! - b * yy!;
    const rz = zz! - a * xz! - b * yz!;
    least = Math.max((rz - a * rx - b * ry) / (1 + a * a + b * b), 0);
    if (moved <= 1e-16 * (1 + Math.hypot(a, b))) break;
  }
  return [a, b];
}

function refuseLine(n: number, xx: number, xy: number, yy: number): void {
  const larger = (xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy);
  if (xx * yy - xy * xy > 1e-12 * larger * larger) return;
  throw new MeasurementError(
    "on-a-line",
    `orthogonalPlane: the ${n} points lie on one line seen from above; measure at least one place beside it`,
  );
}

function refuseSteep([xx, xy, , yy]: Float64Array, z: ArrayLike<number>): void {
  // side of an evenly filled rectangle with the same lesser spread
  const lesser = (xx! + yy!) / 2 - Math.hypot((xx! - yy!) / 2, xy!);
  const narrow = Math.sqrt((12 * lesser) / z.length);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < z.length; i++) {
    low = Math.min(low, z[i]!);
    high = Math.max(high, z[i]!);
  }
  if (high - low < narrow / 2) return;
  throw new MeasurementError(
    "steep",
    `orthogonalPlane: z ranges over ${(high - low).toPrecision(3)} where the places are about ${narrow.toPrecision(3)} across the narrower way; a plane of least distances square to it may turn on edge, take distances along z, or look for a wrong unit`,
  );
}

function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  // from the first one, so that nothing large is summed
  for (let i = 0; i < values.length; i++) sum += values[i]! - values[0]!;
  return values[0]! + sum / values.length;
}

function check(x: ArrayLike<number>, y: ArrayLike<number>, z: ArrayLike<number>): void {
  if (!(z.length >= 3 && x.length === z.length && y.length === z.length)) {
    throw new MeasurementError(
      "too-few-places",
      `orthogonalPlane: ${x.length} x, ${y.length} y and ${z.length} z; give at least three points, each with all three`,
    );
  }
  for (let i = 0; i < z.length; i++) {
    if (Number.isFinite(x[i]! + y[i]! + z[i]!)) continue;
    throw new MeasurementError(
      "not-finite",
      `orthogonalPlane: point ${i + 1} of ${z.length} is (${x[i]}, ${y[i]}, ${z[i]}); leave out a point that was not measured`,
    );
  }
}
