import { MeasurementError } from "../measurement-error.js";

/**
 * Lower Cholesky factor L of a symmetric positive definite matrix, L Lᵀ = A; rows as arrays.
 *
 * @throws MeasurementError `not-positive-definite`
 * @example
 * numerics.cholesky([[4, 2], [2, 5]]).at(1)?.at(0) // => 1
 */
export function cholesky(matrix: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const factor: number[][] = [];
  matrix.forEach((row, i) => {
    const out: number[] = new Array(matrix.length).fill(0);
    factor.push(out);
    for (let j = 0; j <= i; j++) {
      let s = row[j]!;
      for (let k = 0; k < j; k++) s -= out[k]! * factor[j]![k]!;
      if (i !== j) out[j] = s / factor[j]![j]!;
      else if (s > Math.abs(row[i]!) * 1e-14) out[i] = Math.sqrt(s);
      else {
        throw new MeasurementError(
          "not-positive-definite",
          `cholesky: row ${i + 1} of ${matrix.length} follows from the rows before it or contradicts them; check the entries for a sign or a copied line`,
        );
      }
    }
  });
  return factor;
}

/**
 * Solution of A x = b for a symmetric positive definite A.
 *
 * @throws MeasurementError `not-positive-definite`
 * @example
 * numerics.solveSymmetric([[4, 2], [2, 5]], [8, 8]).join() // => "1.5,1"
 */
export function solveSymmetric(matrix: readonly (readonly number[])[], b: readonly number[]): readonly number[] {
  const factor = cholesky(matrix);
  const x = [...b];
  for (let i = 0; i < x.length; i++) {
    for (let k = 0; k < i; k++) x[i] = x[i]! - factor[i]![k]! * x[k]!;
    x[i] = x[i]! / factor[i]![i]!;
  }
  for (let i = x.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < x.length; k++) x[i] = x[i]! - factor[k]![i]! * x[k]!;
    x[i] = x[i]! / factor[i]![i]!;
  }
  return x;
}

/**
 * Lower factor L of a symmetric positive semidefinite matrix with ones on its diagonal, L Lᵀ = A; a row that follows from
 * those before it has 0 on the diagonal. Where the matrix is not positive semidefinite: the number (from 0) of the first
 * row that contradicts those before it.
 *
 * @example
 * numerics.semidefiniteFactor([[1, -1], [-1, 1]]) // => [[1, 0], [-1, 0]]
 */
export function semidefiniteFactor(matrix: readonly (readonly number[])[]): readonly (readonly number[])[] | number {
  const rounding = 1e-12 * matrix.length;
  const factor: number[][] = [];
  for (const [i, row] of matrix.entries()) {
    const out: number[] = new Array(matrix.length).fill(0);
    for (let j = 0; j <= i; j++) {
      let s = row[j]!;
      for (let k = 0; k < j; k++) s -= out[k]! * (i === j ? out[k]! : factor[j]![k]!);
      const pivot = i === j ? 0 : factor[j]![j]!;
      if (i === j) {
        if (s < -rounding) return i;
        out[j] = s > rounding ? Math.sqrt(s) : 0;
      } else if (pivot > 0) out[j] = s / pivot;
      else if (Math.abs(s) > Math.sqrt(rounding)) return i;
    }
    factor.push(out);
  }
  return factor;
}
