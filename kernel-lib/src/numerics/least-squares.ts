import { MeasurementError } from "../measurement-error.js";
import { counted } from "../words.js";
import { LongSum, longDot } from "./double-length.js";
import {
  apply,
  applyTransposed,
  factorise,
  type HouseholderFactor,
  invertUpper,
  orthonormalColumns,
} from "./householder.js";

/** What a linear least-squares fit gives. Numbers are in the units of the columns and of y. */
export interface LeastSquares {
  /** one per column, in the order given */
  readonly coefficients: readonly number[];
  /** y − fit, one per row */
  readonly residuals: readonly number[];
  /** rows − columns */
  readonly degreesOfFreedom: number;
  readonly residualSumOfSquares: number;
  /** s = √(residual sum of squares / ν); NaN when ν = 0 */
  readonly residualStandardDeviation: number;
  /** (XᵀX)⁻¹: times s² it is the covariance matrix of the coefficients */
  readonly covarianceFactor: readonly (readonly number[])[];
  /** diagonal of the hat matrix: how far a reading pulls the fit towards itself, 0 to 1 */
  readonly leverages: readonly number[];
}

/**
 * Linear least squares by Householder QR, with two steps of refinement on residuals summed in double length.
 *
 * @param columns the columns of the design matrix, each as long as y; a constant needs a column of ones
 * @param y the observations
 * @throws MeasurementError `design`, `not-finite`, `rank-deficient`
 * @see Björck, Numerical Methods for Least Squares Problems, 1996, 2.9; checked against NIST StRD
 * @example
 * numerics.leastSquares([[1, 1, 1], [0, 1, 2]], [1, 3, 5]).coefficients.map((c) => c.toFixed(3)).join() // => "1.000,2.000"
 */
export function leastSquares(columns: readonly ArrayLike<number>[], y: ArrayLike<number>): LeastSquares {
  const rows = y.length;
  const count = columns.length;
  checkDesign(columns, y, "leastSquares");
  const scales = columns.map((column) => columnScale(column));
  const design = columns.map((column, j) => Float64Array.from(column, (v) => v / scales[j]!));
  const factor = factorise(
    design.map((column) => column.slice()),
    "leastSquares",
  );
  const { solution, residuals } = refine(design, factor, Float64Array.from(y));
  const sum = residuals.reduce((total, r) => total + r * r, 0);
  const degreesOfFreedom = rows - count;
  const inverse = invertUpper(factor.r);
  const covarianceFactor = inverse.map((row, i) =>
    inverse.map((other, j) => dotFrom(row, other, Math.max(i, j)) / (scales[i]! * scales[j]!)),
  );
  return {
    coefficients: Array.from(solution, (c, j) => c / scales[j]!),
    residuals: Array.from(residuals),
    degreesOfFreedom,
    residualSumOfSquares: sum,
    residualStandardDeviation: Math.sqrt(sum / degreesOfFreedom),
    covarianceFactor,
    leverages: leveragesOf(factor, rows),
  };
}

/** Björck's refinement of the pair (residuals, solution): both right-hand sides are formed in double length. */
function refine(design: readonly Float64Array[], factor: HouseholderFactor, y: Float64Array) {
  const residuals = new Float64Array(y.length);
  const solution = new Float64Array(design.length);
  for (let pass = 0; pass < 3; pass++) {
    const f = y.map((value, i) => missingPart(value, residuals[i]!, design, solution, i));
    const g = design.map((column) => -longDot(column, residuals));
    const [dr, dx] = augmentedStep(factor, f, g);
    for (let i = 0; i < y.length; i++) residuals[i] = residuals[i]! + dr[i]!;
    for (let j = 0; j < design.length; j++) solution[j] = solution[j]! + dx[j]!;
  }
  return { solution, residuals };
}

/** y − r − X x in row i */
function missingPart(y: number, r: number, design: readonly Float64Array[], x: Float64Array, i: number): number {
  const sum = new LongSum();
  sum.add(y);
  sum.add(-r);
  for (let j = 0; j < design.length; j++) sum.addProduct(-design[j]![i]!, x[j]!);
  return sum.value();
}

/** solves r + X x = f, Xᵀ r = g */
function augmentedStep(factor: HouseholderFactor, f: Float64Array, g: readonly number[]): [Float64Array, Float64Array] {
  const { r } = factor;
  const count = g.length;
  const h = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let s = g[i]!;
    for (let j = 0; j < i; j++) s -= r[j]![i]! * h[j]!;
    h[i] = s / r[i]![i]!;
  }
  const d = f.slice();
  applyTransposed(factor, d);
  const x = new Float64Array(count);
  for (let i = count - 1; i >= 0; i--) {
    let s = d[i]! - h[i]!;
    for (let j = i + 1; j < count; j++) s -= r[i]![j]! * x[j]!;
    x[i] = s / r[i]![i]!;
  }
  d.set(h);
  apply(factor, d);
  return [d, x];
}

function leveragesOf(factor: HouseholderFactor, rows: number): readonly number[] {
  const result = new Float64Array(rows);
  for (const column of orthonormalColumns(factor, rows)) {
    for (let i = 0; i < rows; i++) result[i] = result[i]! + column[i]! ** 2;
  }
  return Array.from(result);
}

function dotFrom(a: Float64Array, b: Float64Array, from: number): number {
  let s = 0;
  for (let i = from; i < a.length; i++) s += a[i]! * b[i]!;
  return s;
}

/** a power of two near the size of the column, so that scaling rounds nothing */
function columnScale(column: ArrayLike<number>): number {
  let largest = 0;
  for (let i = 0; i < column.length; i++) largest = Math.max(largest, Math.abs(column[i]!));
  return largest > 0 ? 2 ** Math.round(Math.log2(largest)) : 1;
}

/** @throws MeasurementError `design`, `not-finite` */
export function checkDesign(columns: readonly ArrayLike<number>[], y: ArrayLike<number>, where: string): void {
  if (!(columns.length >= 1 && y.length >= columns.length)) {
    throw new MeasurementError(
      "design",
      `${where}: ${counted(y.length, "observation")} for ${counted(columns.length, "coefficient")}; give at least one column and as many observations as columns`,
    );
  }
  [y, ...columns].forEach((values, k) => {
    const name = k === 0 ? "y" : `column ${k}`;
    if (values.length !== y.length) {
      throw new MeasurementError(
        "design",
        `${where}: ${name} has ${values.length} values where y has ${y.length}; give one a row`,
      );
    }
    if (allFinite(values)) return;
    for (let i = 0; i < values.length; i++) {
      if (Number.isFinite(values[i])) continue;
      throw new MeasurementError(
        "not-finite",
        `${where}: ${name} holds ${values[i]} in row ${i + 1}; leave the row out if it was not measured`,
      );
    }
  });
}

function allFinite(values: ArrayLike<number>): boolean {
  let none = 0;
  // what is finite gives 0, anything else NaN
  for (let i = 0; i < values.length; i++) none += values[i]! - values[i]!;
  return none === 0;
}
