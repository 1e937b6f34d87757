import { range } from "./range.js";

/**
 * How large a function may be where one coordinate is complex, on the ellipse of size `rho` about its range, and the other one real;
 * counted in errors that are allowed.
 */
export type EllipseBound = (axis: "x" | "y", rho: number) => number;

/** Crossings of Chebyshev lines over a rectangle, and the way from values there to values at the places. */
export interface ChebyshevSheet {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** values at the places, from those at the crossings */
  at(values: Float64Array): Float64Array;
}

interface Lines {
  readonly points: Float64Array;
  /** values of the polynomials that are 1 at one line and 0 at the others, written into `out` */
  readonly weights: (v: number, out: Float64Array) => void;
}

/** sizes of ellipse that are tried: the bound is good at the best of them */
const ellipses = Array.from({ length: 24 }, (_, i) => 1.2 * 1.15 ** i);

/**
 * A sheet of lines so close that the polynomials through their crossings pass every function within `bound` no farther off than one
 * allowed error; nothing where it would have more crossings than a third of the places.
 *
 * One way, degree n: 4 M ρ⁻ⁿ / (ρ − 1), M the greatest value on the ellipse; the second way is made larger by at most
 * 1 + (2/π) ln(n + 1).
 * @see Trefethen, Approximation Theory and Approximation Practice, 2013, theorems 8.2 and 15.2
 */
export function chebyshevSheet(x: Float64Array, y: Float64Array, bound: EllipseBound): ChebyshevSheet | undefined {
  const across = degree("x", bound, 1 / 2);
  const along = degree("y", bound, 1 / 2 / (1 + (2 / Math.PI) * Math.log(across + 1)));
  const count = (across + 1) * (along + 1);
  if (!(3 * count <= x.length)) return undefined;
  const [lines, rows] = [linesOver(range(x), across), linesOver(range(y), along)];
  const wide = across + 1;
  return {
    x: Float64Array.from({ length: count }, (_, k) => lines.points[k % wide]!),
    y: Float64Array.from({ length: count }, (_, k) => rows.points[Math.floor(k / wide)]!),
    at: (values) => spread(values, lines, rows, x, y),
  };
}

function degree(axis: "x" | "y", bound: EllipseBound, error: number): number {
  const needed = ellipses.map((rho) => Math.log((4 * bound(axis, rho)) / ((rho - 1) * error)) / Math.log(rho));
  return Math.max(4, Math.ceil(Math.min(...needed.filter((n) => !Number.isNaN(n)))));
}

/** Chebyshev points of the second kind, with the barycentric formula */
function linesOver([low, high]: readonly [number, number], n: number): Lines {
  const [middle, half] = [(low + high) / 2, (high - low) / 2];
  const points = Float64Array.from({ length: n + 1 }, (_, k) => middle - half * Math.cos((k * Math.PI) / n));
  const weights = (v: number, out: Float64Array) => {
    let sum = 0;
    for (let k = 0; k <= n; k++) {
      const off = v - points[k]!;
      if (off === 0) {
        out.fill(0);
        out[k] = 1;
        return;
      }
      const w = ((k % 2 === 0 ? 1 : -1) * (k === 0 || k === n ? 0.5 : 1)) / off;
      out[k] = w;
      sum += w;
    }
    for (let k = 0; k <= n; k++) out[k] = out[k]! / sum;
  };
  return { points, weights };
}

/** places that follow each other on one row share what was summed over the rows of lines */
function spread(values: Float64Array, lines: Lines, rows: Lines, x: Float64Array, y: Float64Array): Float64Array {
  const [wide, high] = [lines.points.length, rows.points.length];
  const [across, along, row] = [new Float64Array(wide), new Float64Array(high), new Float64Array(wide)];
  const found = new Float64Array(x.length);
  for (let i = 0; i < x.length; i++) {
    if (y[i] !== y[i - 1]) {
      rows.weights(y[i]!, along);
      row.fill(0);
      for (let r = 0; r < high; r++) {
        for (let c = 0; c < wide; c++) row[c] = row[c]! + along[r]! * values[r * wide + c]!;
      }
    }
    lines.weights(x[i]!, across);
    let s = 0;
    for (let c = 0; c < wide; c++) s += across[c]! * row[c]!;
    found[i] = s;
  }
  return found;
}
