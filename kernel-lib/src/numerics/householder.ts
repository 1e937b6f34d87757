import { MeasurementError } from "../measurement-error.js";

/** QR factor of a tall matrix: Householder vectors (one a column, zero above its row) and the triangle R, row by row. */
export interface HouseholderFactor {
  readonly vectors: readonly Float64Array[];
  readonly r: readonly Float64Array[];
}

/**
 * Householder QR. The columns given are overwritten.
 *
 * @throws MeasurementError `rank-deficient` when a column is, but for rounding, a sum of those before it
 */
export function factorise(work: readonly Float64Array[], where: string): HouseholderFactor {
  const count = work.length;
  const r = work.map(() => new Float64Array(count));
  work.forEach((column, k) => {
    const whole = norm(column, 0);
    const length = norm(column, k);
    if (!(length > whole * column.length * 2.3e-16)) {
      throw new MeasurementError(
        "rank-deficient",
        `${where}: column ${k + 1} of ${count} is a sum of the columns before it; leave it out, or add readings that tell them apart`,
      );
    }
    const alpha = column[k]! > 0 ? -length : length;
    for (let i = 0; i < k; i++) r[i]![k] = column[i]!;
    r[k]![k] = alpha;
    column.fill(0, 0, k);
    column[k] = column[k]! - alpha;
    const size = norm(column, k);
    for (let i = k; i < column.length; i++) column[i] = column[i]! / size;
    for (let j = k + 1; j < count; j++) reflect(column, work[j]!, k);
  });
  return { vectors: work, r };
}

/** target − 2 v (vᵀ target), in place; the vector is zero above `from` */
function reflect(vector: Float64Array, target: Float64Array, from: number): void {
  let s = 0;
  for (let i = from; i < target.length; i++) s += vector[i]! * target[i]!;
  s *= 2;
  for (let i = from; i < target.length; i++) target[i] = target[i]! - s * vector[i]!;
}

/** Qᵀ target, in place */
export function applyTransposed({ vectors }: HouseholderFactor, target: Float64Array): void {
  for (let k = 0; k < vectors.length; k++) reflect(vectors[k]!, target, k);
}

/** Q target, in place */
export function apply({ vectors }: HouseholderFactor, target: Float64Array): void {
  for (let k = vectors.length - 1; k >= 0; k--) reflect(vectors[k]!, target, k);
}

/**
 * Orthonormal columns that span the same space as the columns given, in the same order (the first k span the first k).
 *
 * @throws MeasurementError `rank-deficient`
 * @example
 * numerics.orthonormal([[3, 4]]).at(0)?.map((v) => Math.abs(v).toFixed(1)).join() // => "0.6,0.8"
 */
export function orthonormal(columns: readonly ArrayLike<number>[]): readonly (readonly number[])[] {
  const work = columns.map((column) => Float64Array.from(column));
  const rows = work[0]?.length ?? 0;
  return orthonormalColumns(factorise(work, "orthonormal"), rows).map((column) => Array.from(column));
}

/** The orthonormal columns that span the same space as the matrix. */
export function orthonormalColumns(factor: HouseholderFactor, rows: number): readonly Float64Array[] {
  return factor.vectors.map((_, j) => {
    const column = new Float64Array(rows);
    column[j] = 1;
    apply(factor, column);
    return column;
  });
}

/** R⁻¹, row by row */
export function invertUpper(r: readonly Float64Array[]): readonly Float64Array[] {
  const count = r.length;
  const inverse = r.map(() => new Float64Array(count));
  for (let j = 0; j < count; j++) {
    inverse[j]![j] = 1 / r[j]![j]!;
    for (let i = j - 1; i >= 0; i--) {
      let s = 0;
      for (let k = i + 1; k <= j; k++) s += r[i]![k]! * inverse[k]![j]!;
      inverse[i]![j] = -s / r[i]![i]!;
    }
  }
  return inverse;
}

function norm(column: Float64Array, from: number): number {
  let s = 0;
  for (let i = from; i < column.length; i++) s += column[i]! ** 2;
  return Math.sqrt(s);
}
