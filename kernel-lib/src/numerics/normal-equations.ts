import { cholesky } from "./symmetric.js";

const block = 1024;

/**
 * Normal equations of a tall design, kept for many fits to the same rows that differ in their weights: the sums over all
 * rows are formed once, a fit takes off what its down-weighted rows have too much.
 */
export class NormalEquations {
  /** XᵀX, row by row; filled below and above the diagonal */
  readonly gram: Float64Array;
  private readonly picked: readonly Float64Array[];
  private readonly roots: Float64Array;

  constructor(readonly columns: readonly Float64Array[]) {
    const rows = columns[0]!.length;
    this.gram = new Float64Array(columns.length ** 2);
    addProducts(columns, columns, rows, this.gram);
    // work space of the rows taken off, kept from fit to fit
    this.picked = columns.map(() => new Float64Array(rows));
    this.roots = new Float64Array(rows);
  }

  /** residuals = y − X coefficients, and their sizes */
  residualsInto(residuals: Float64Array, sizes: Float64Array, y: Float64Array, coefficients: ArrayLike<number>): void {
    const { columns } = this;
    for (let start = 0; start < y.length; start += block) {
      const end = Math.min(start + block, y.length);
      let left = y;
      let j = 0;
      // three columns a turn: the residual is fetched and stored once for them
      for (; j + 2 < columns.length; j += 3) {
        lessThree(residuals, left, columns, coefficients, j, start, end);
        left = residuals;
      }
      if (left === y) for (let i = start; i < end; i++) residuals[i] = y[i]!;
      for (; j < columns.length; j++) addTimes(residuals, columns[j]!, -coefficients[j]!, start, end);
      for (let i = start; i < end; i++) sizes[i] = Math.abs(residuals[i]!);
    }
  }

  /** Xᵀ v */
  project(v: Float64Array): Float64Array {
    const sums = new Float64Array(this.columns.length);
    for (let start = 0; start < v.length; start += block) {
      const end = Math.min(start + block, v.length);
      for (let j = 0; j < sums.length; j++) sums[j] = sums[j]! + dot(this.columns[j]!, v, start, end);
    }
    return sums;
  }

  /**
   * XᵀX less Σ f q qᵀ over the first `count` rows listed, each with its part f from 0 to 1; the upper triangle of a
   * matrix with one array a row, both halves filled.
   */
  without(listed: Int32Array, parts: Float64Array, count: number): readonly (readonly number[])[] {
    const { columns, picked, gram } = this;
    const { roots } = this;
    for (let k = 0; k < count; k++) roots[k] = Math.sqrt(parts[k]!);
    columns.forEach((column, j) => {
      const target = picked[j]!;
      for (let k = 0; k < count; k++) target[k] = column[listed[k]!]! * roots[k]!;
    });
    const off = new Float64Array(gram.length);
    addProducts(picked, picked, count, off);
    return columns.map((_, i) => columns.map((__, j) => gram[i * columns.length + j]! - off[i * columns.length + j]!));
  }
}

/** The solution, or nothing where the matrix is too near to singular for normal equations. */
export function solveWell(matrix: readonly (readonly number[])[], rhs: Float64Array): Float64Array | undefined {
  const n = rhs.length;
  const factor = factorOf(matrix);
  if (factor === undefined) return undefined;
  // each pivot against its own diagonal: what is left of a column when those before it are taken out
  if (!factor.every((row, i) => row[i]! ** 2 > 1e-7 * matrix[i]![i]!)) return undefined;
  const x = rhs.slice();
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i] = x[i]! - factor[i]![k]! * x[k]!;
    x[i] = x[i]! / factor[i]![i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i] = x[i]! - factor[k]![i]! * x[k]!;
    x[i] = x[i]! / factor[i]![i]!;
  }
  return x;
}

function factorOf(matrix: readonly (readonly number[])[]): readonly (readonly number[])[] | undefined {
  try {
    return cholesky(matrix);
  } catch {
    return undefined;
  }
}

/** target (row by row) += AᵀB over the first rows, symmetric: half is summed and mirrored */
function addProducts(a: readonly Float64Array[], b: readonly Float64Array[], rows: number, target: Float64Array): void {
  const n = a.length;
  for (let start = 0; start < rows; start += block) {
    const end = Math.min(start + block, rows);
    for (let i = 0; i < n; i++) {
      for (let j = i; j < n; j++) target[i * n + j] = target[i * n + j]! + dot(a[i]!, b[j]!, start, end);
    }
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) target[i * n + j] = target[j * n + i]!;
}

function dot(a: Float64Array, b: Float64Array, start: number, end: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let i = start;
  // four sums side by side: none waits for the one before
  for (; i + 3 < end; i += 4) {
    s0 += a[i]! * b[i]!;
    s1 += a[i + 1]! * b[i + 1]!;
    s2 += a[i + 2]! * b[i + 2]!;
    s3 += a[i + 3]! * b[i + 3]!;
  }
  for (; i < end; i++) s0 += a[i]! * b[i]!;
  return s0 + s1 + (s2 + s3);
}

function addTimes(target: Float64Array, column: Float64Array, factor: number, start: number, end: number): void {
  for (let i = start; i < end; i++) target[i] = target[i]! + factor * column[i]!;
}

function lessThree(
  target: Float64Array,
  from: Float64Array,
  columns: readonly Float64Array[],
  coefficients: ArrayLike<number>,
  j: number,
  start: number,
  end: number,
): void {
  const [p, q, r] = [columns[j]!, columns[j + 1]!, columns[j + 2]!];
  const [a, b, c] = [coefficients[j]!, coefficients[j + 1]!, coefficients[j + 2]!];
  for (let i = start; i < end; i++) target[i] = from[i]! - a * p[i]! - b * q[i]! - c * r[i]!;
}
