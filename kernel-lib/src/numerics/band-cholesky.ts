import { MeasurementError } from "../measurement-error.js";

/** A symmetric matrix whose entries lie within `width` places of the diagonal: row i holds columns i − width … i. */
export class BandMatrix {
  readonly entries: Float64Array;

  constructor(
    readonly size: number,
    readonly width: number,
    entries?: Float64Array,
  ) {
    this.entries = entries ?? new Float64Array(size * (width + 1));
  }

  /** Adds to an entry and, the matrix being symmetric, to its mirror image. */
  add(row: number, column: number, value: number): void {
    const [i, j] = [Math.max(row, column), Math.min(row, column)];
    this.entries[i * (this.width + 1) + j - i + this.width]! += value;
  }

  /** The matrix times a vector. */
  times(vector: Float64Array): Float64Array {
    const { size, width, entries } = this;
    const product = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      const base = i * (width + 1) - i + width;
      product[i]! += entries[base + i]! * vector[i]!;
      for (let j = Math.max(0, i - width); j < i; j++) {
        product[i]! += entries[base + j]! * vector[j]!;
        product[j]! += entries[base + j]! * vector[i]!;
      }
    }
    return product;
  }

  /** A copy with a vector added to the diagonal. */
  plusDiagonal(diagonal: Float64Array): BandMatrix {
    const entries = this.entries.slice();
    for (let i = 0; i < this.size; i++) entries[i * (this.width + 1) + this.width]! += diagonal[i]!;
    return new BandMatrix(this.size, this.width, entries);
  }
}

/**
 * Solution of A x = b for a positive definite band matrix, by Cholesky; A is left as it is.
 *
 * @throws MeasurementError `not-positive-definite`
 */
export function solveBand(matrix: BandMatrix, b: Float64Array): Float64Array {
  const { size, width } = matrix;
  const factor = factorised(matrix);
  const x = b.slice();
  for (let i = 0; i < size; i++) {
    const base = i * (width + 1) - i + width;
    let s = x[i]!;
    for (let k = Math.max(0, i - width); k < i; k++) s -= factor[base + k]! * x[k]!;
    x[i] = s / factor[base + i]!;
  }
  for (let i = size - 1; i >= 0; i--) {
    const base = i * (width + 1) - i + width;
    x[i] = x[i]! / factor[base + i]!;
    for (let k = Math.max(0, i - width); k < i; k++) x[k]! -= factor[base + k]! * x[i]!;
  }
  return x;
}

function factorised({ size, width, entries }: BandMatrix): Float64Array {
  const factor = entries.slice();
  for (let i = 0; i < size; i++) {
    const rowI = i * (width + 1) - i + width;
    for (let j = Math.max(0, i - width); j <= i; j++) {
      const rowJ = j * (width + 1) - j + width;
      let s = factor[rowI + j]!;
      // k ≥ i − width lies in row j too, since j ≤ i
      for (let k = Math.max(0, i - width); k < j; k++) s -= factor[rowI + k]! * factor[rowJ + k]!;
      if (i !== j) factor[rowI + j] = s / factor[rowJ + j]!;
      else if (s > Math.abs(entries[rowI + i]!) * 1e-15) factor[rowI + i] = Math.sqrt(s);
      else {
        throw new MeasurementError(
          "not-positive-definite",
          `solveBand: row ${i + 1} of ${size} follows from the rows before it or contradicts them; hold the plate at more places`,
        );
      }
    }
  }
  return factor;
}
