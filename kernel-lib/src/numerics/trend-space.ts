import { apply, applyTransposed, factorise, type HouseholderFactor } from "./householder.js";

/**
 * The space that a trend (a constant, a plane) leaves free: an orthogonal matrix Q whose first `count` columns span the
 * trend's columns. What is rotated by Qᵀ has the trend in its first rows and the rest, free of trend, below.
 */
export class TrendSpace {
  readonly count: number;
  private readonly factor: HouseholderFactor;
  /** three reflections, those that are missing as zeros */
  private readonly vectors: readonly [Float64Array, Float64Array, Float64Array];
  /** upper triangle T of the product of the reflections, I − V T Vᵀ */
  private readonly product: readonly (readonly number[])[];

  /**
   * @param columns up to three columns of the trend, `n` long
   * @throws MeasurementError `rank-deficient`
   */
  constructor(columns: readonly Float64Array[], n: number, where: string) {
    this.count = columns.length;
    this.factor = factorise(
      columns.map((column) => column.slice()),
      where,
    );
    const none = new Float64Array(n);
    const [p = none, q = none, r = none] = this.factor.vectors;
    this.vectors = [p, q, r];
    this.product = productOf(this.vectors, this.count);
  }

  /** Qᵀ v, in place */
  rotate(v: Float64Array): void {
    applyTransposed(this.factor, v);
  }

  /** Q v, in place */
  rotateBack(v: Float64Array): void {
    apply(this.factor, v);
  }

  /** the columns' own coordinates c with R c = first rows */
  coefficients(first: ArrayLike<number>): number[] {
    const { r } = this.factor;
    const c: number[] = new Array(this.count).fill(0);
    for (let i = this.count - 1; i >= 0; i--) {
      let s = first[i]!;
      for (let j = i + 1; j < this.count; j++) s -= r[i]![j]! * c[j]!;
      c[i] = s / r[i]![i]!;
    }
    return c;
  }

  /** h with Rᵀ h = f: the first rows of weights that reproduce the trend f */
  weights(f: readonly number[]): number[] {
    const { r } = this.factor;
    const h: number[] = [];
    for (let i = 0; i < this.count; i++) {
      let s = f[i]!;
      for (let j = 0; j < i; j++) s -= r[j]![i]! * h[j]!;
      h.push(s / r[i]![i]!);
    }
    return h;
  }

  /** Qᵀ A Q for a symmetric matrix of which the lower triangle is kept; `back`: Q A Qᵀ */
  rotateMatrix(memory: Float64Array, a: number, n: number, ld: number, back = false): void {
    if (this.count === 0) return;
    const [p, q, r] = this.vectors;
    const t = back ? transposed(this.product) : this.product;
    const w = combined(productWithLower(memory, a, n, ld, this.vectors), t);
    const m = w.map((column) => this.vectors.map((v) => dot(v, column)));
    // Tᵀ Vᵀ W, symmetric
    const inner = t.map((_, i) => t.map((__, j) => t.reduce((s, row, k) => s + row[i]! * m[j]![k]!, 0)));
    const [y0, y1, y2] = w.map((column, j) =>
      column.map((value, i) => value - (p[i]! * inner[0]![j]! + q[i]! * inner[1]![j]! + r[i]! * inner[2]![j]!) / 2),
    ) as [Float64Array, Float64Array, Float64Array];
    for (let i = 0; i < n; i++) {
      const row = a + i * ld;
      const [pi, qi, ri, u, v, w2] = [p[i]!, q[i]!, r[i]!, y0[i]!, y1[i]!, y2[i]!];
      for (let j = 0; j <= i; j++) {
        memory[row + j] =
          memory[row + j]! - pi * y0[j]! - qi * y1[j]! - ri * y2[j]! - u * p[j]! - v * q[j]! - w2 * r[j]!;
      }
    }
  }

  /** Qᵀ K for a matrix of `n` rows and `m` columns */
  rotateRows(memory: Float64Array, k: number, n: number, m: number, ld: number): void {
    const sums = new Float64Array(m);
    for (const vector of this.factor.vectors) {
      sums.fill(0);
      for (let i = 0; i < n; i++) {
        const f = 2 * vector[i]!;
        for (let j = 0; j < m; j++) sums[j] = sums[j]! + f * memory[k + i * ld + j]!;
      }
      for (let i = 0; i < n; i++) {
        const f = vector[i]!;
        for (let j = 0; j < m; j++) memory[k + i * ld + j] = memory[k + i * ld + j]! - f * sums[j]!;
      }
    }
  }
}

function productOf(vectors: readonly Float64Array[], count: number): number[][] {
  const t = [0, 1, 2].map(() => [0, 0, 0]);
  for (let k = 0; k < count; k++) {
    const across = vectors.slice(0, k).map((v) => dot(v, vectors[k]!));
    for (let i = 0; i < k; i++) t[i]![k] = -2 * across.reduce((s, value, j) => s + t[i]![j]! * value, 0);
    t[k]![k] = 2;
  }
  return t;
}

function transposed(t: readonly (readonly number[])[]): readonly (readonly number[])[] {
  return t.map((_, i) => t.map((row) => row[i]!));
}

/** columns times T */
function combined(columns: readonly Float64Array[], t: readonly (readonly number[])[]): Float64Array[] {
  return t.map((_, j) => columns[0]!.map((_, i) => columns.reduce((s, column, k) => s + column[i]! * t[k]![j]!, 0)));
}

function productWithLower(
  memory: Float64Array,
  a: number,
  n: number,
  ld: number,
  [p, q, r]: readonly [Float64Array, Float64Array, Float64Array],
): Float64Array[] {
  const [u, v, w] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  for (let i = 0; i < n; i++) {
    const row = a + i * ld;
    const [pi, qi, ri] = [p[i]!, q[i]!, r[i]!];
    let [s0, s1, s2] = [memory[row + i]! * pi, memory[row + i]! * qi, memory[row + i]! * ri];
    for (let j = 0; j < i; j++) {
      const value = memory[row + j]!;
      s0 += value * p[j]!;
      s1 += value * q[j]!;
      s2 += value * r[j]!;
      u[j] = u[j]! + value * pi;
      v[j] = v[j]! + value * qi;
      w[j] = w[j]! + value * ri;
    }
    u[i] = u[i]! + s0;
    v[i] = v[i]! + s1;
    w[i] = w[i]! + s2;
  }
  return [u, v, w];
}

function dot(a: Float64Array, b: Float64Array): number {
  let s = 0;
  for (let i = 0; i < a.length; i++) s += a[i]! * b[i]!;
  return s;
}
