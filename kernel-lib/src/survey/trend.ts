import { numbersFor } from "./fill.js";

/** Smooth trends over the places, by an orthonormal basis: as many terms as the places can tell apart. */

export interface Points {
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
}

/** Orthonormal columns that span the polynomials in x and y up to a degree; terms that the places cannot tell apart
 * (three columns of places know no cubic) are left out. */
export function trendBasis(points: Points, which: ArrayLike<number>, degree: number): readonly Float64Array[] {
  return nestedBasis(points, which, degree).flat();
}

/** the columns that each degree adds, from 0 up */
function nestedBasis(points: Points, which: ArrayLike<number>, degree: number): readonly (readonly Float64Array[])[] {
  const u = scaled(points.x, which);
  const v = scaled(points.y, which);
  const basis: Float64Array[] = [];
  const added: Float64Array[][] = [];
  for (let total = 0; total <= degree; total++) {
    const from = basis.length;
    for (let power = total; power >= 0; power--) {
      const column = new Float64Array(which.length);
      for (let k = 0; k < column.length; k++) column[k] = u[k]! ** power * v[k]! ** (total - power);
      const before = Math.sqrt(dot(column, column));
      // twice, because once loses digits where columns are nearly parallel
      for (let pass = 0; pass < 2; pass++) for (const q of basis) addTimes(column, q, -dot(column, q));
      const size = Math.sqrt(dot(column, column));
      if (!(size > 1e-7 * before) || basis.length >= which.length) continue;
      for (let k = 0; k < column.length; k++) column[k] = column[k]! / size;
      basis.push(column);
    }
    added.push(basis.slice(from));
  }
  return added;
}

/** What is left of the values when the trend is taken out. */
export function detrend(basis: readonly Float64Array[], values: ArrayLike<number>): Float64Array {
  const left = numbersFor(values, (value) => value);
  for (const q of basis) addTimes(left, q, -dot(left, q));
  return left;
}

/** how far each value pulls the trend towards itself, 0 to 1 */
export function leverages(basis: readonly Float64Array[], count: number): Float64Array {
  const h = new Float64Array(count);
  for (const q of basis) for (let i = 0; i < count; i++) h[i] = h[i]! + q[i]! ** 2;
  return h;
}

/** Degree of the trend that foretells best, by generalised cross-validation; at most four terms for ten values. */
export function bestDegree(points: Points, values: ArrayLike<number>): number {
  const count = values.length;
  const which = Array.from({ length: count }, (_, i) => i);
  const most = count > 2000 ? 3 : 6;
  let best = { degree: 1, score: Number.POSITIVE_INFINITY };
  let left: Float64Array = numbersFor(values, (value) => value);
  let terms = 0;
  nestedBasis(points, which, most).forEach((columns, degree) => {
    left = detrend(columns, left);
    terms += columns.length;
    if (degree > 1 && terms > 0.4 * count) return;
    const score = dot(left, left) / (1 - terms / count) ** 2;
    if (degree >= 1 && score < 0.98 * best.score) best = { degree, score };
  });
  return best.degree;
}

/**
 * How far one value stands off the plane through its eight nearest neighbours, readings at its own spot left out;
 * undefined where there are fewer than five.
 */
export function offNeighbours(points: Points, values: ArrayLike<number>, at: number): number | undefined {
  const far = (i: number) => Math.hypot(points.x[i]! - points.x[at]!, points.y[i]! - points.y[at]!);
  const near: number[] = [];
  const distances: number[] = [];
  for (let i = 0; i < values.length; i++) {
    const distance = far(i);
    if (!(distance > 0) || (near.length === 8 && distance >= distances[7]!)) continue;
    const before = distances.findIndex((other) => other > distance);
    const place = before < 0 ? near.length : before;
    near.splice(place, 0, i);
    distances.splice(place, 0, distance);
    near.length = distances.length = Math.min(8, near.length);
  }
  if (near.length < 5) return undefined;
  // residual over (1 − leverage) = value less what the others alone foretell
  const all = [...near, at];
  const basis = trendBasis(points, all, 1);
  const residual = detrend(
    basis,
    all.map((i) => values[i]!),
  ).at(-1)!;
  const free = 1 - leverages(basis, all.length).at(-1)!;
  return free > 1e-6 ? residual / free : undefined;
}

function scaled(values: ArrayLike<number>, which: ArrayLike<number>): Float64Array {
  const taken = new Float64Array(which.length);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < taken.length; k++) {
    const value = values[which[k]!]!;
    taken[k] = value;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  const half = (high - low) / 2 || 1;
  const middle = (low + high) / 2;
  for (let k = 0; k < taken.length; k++) taken[k] = (taken[k]! - middle) / half;
  return taken;
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function addTimes(target: Float64Array, column: Float64Array, factor: number): void {
  for (let i = 0; i < target.length; i++) target[i] = target[i]! + factor * column[i]!;
}
