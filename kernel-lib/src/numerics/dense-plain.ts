import type { Dense } from "./dense.js";
import { addFar, shiftSeries, sumSeries } from "./radial-series.js";

/** The arithmetic of dense.as in plain numbers. */
export function plainDense(v: Float64Array): Dense {
  return {
    factor: (a, n, ld) => factor(v, a, n, ld),
    solveLower: (l, n, ldl, b, m, ldb) => solveLower(v, l, n, ldl, b, m, ldb),
    addGram: (a, k, m, lda, c, ldc) => addGram(v, a, k, m, lda, c, ldc),
    exponentials: (a, count) => {
      for (let i = a; i < a + count; i++) v[i] = Math.exp(v[i]!);
    },
    addRadial: (sx, sy, w, n, tx, ty, out, m) => {
      for (let j = 0; j < m; j++) {
        v[out + j] = v[out + j]! + radialSum(v, sx, sy, w, n, v[tx + j]!, v[ty + j]!);
      }
    },
    addFar: (sx, sy, w, n, circle, series) => addFar(v, sx, sy, w, n, circle, series),
    shiftSeries: (from, to, x, y, radius) => shiftSeries(v, from, to, x, y, radius),
    sumSeries: (series, circle, tx, ty, out, m) => {
      for (let j = 0; j < m; j++) v[out + j] = sumSeries(v, series, circle, v[tx + j]!, v[ty + j]!);
    },
  };
}

function factor(v: Float64Array, a: number, n: number, ld: number): number {
  for (let i = 0; i < n; i++) {
    const row = a + i * ld;
    const whole = Math.abs(v[row + i]!);
    for (let j = 0; j <= i; j++) {
      const s = v[row + j]! - dot(v, row, a + j * ld, j);
      if (j < i) v[row + j] = s / v[a + j * ld + j]!;
      else if (s > whole * 1e-15) v[row + i] = Math.sqrt(s);
      else return i;
    }
  }
  return n;
}

function dot(v: Float64Array, p: number, q: number, count: number): number {
  let [s0, s1, s2, s3] = [0, 0, 0, 0];
  let k = 0;
  for (; k + 3 < count; k += 4) {
    s0 += v[p + k]! * v[q + k]!;
    s1 += v[p + k + 1]! * v[q + k + 1]!;
    s2 += v[p + k + 2]! * v[q + k + 2]!;
    s3 += v[p + k + 3]! * v[q + k + 3]!;
  }
  for (; k < count; k++) s0 += v[p + k]! * v[q + k]!;
  return s0 + s1 + (s2 + s3);
}

function solveLower(v: Float64Array, l: number, n: number, ldl: number, b: number, m: number, ldb: number): void {
  for (let i = 0; i < n; i++) {
    const row = b + i * ldb;
    const own = l + i * ldl;
    for (let k = 0; k < i; k++) addRow(v, row, b + k * ldb, m, -v[own + k]!);
    const pivot = 1 / v[own + i]!;
    for (let c = row; c < row + m; c++) v[c] = v[c]! * pivot;
  }
}

function addRow(v: Float64Array, to: number, from: number, count: number, f: number): void {
  for (let c = 0; c < count; c++) v[to + c] = v[to + c]! + f * v[from + c]!;
}

function addGram(v: Float64Array, a: number, k: number, m: number, lda: number, c: number, ldc: number): void {
  for (let r = 0; r < k; r++) {
    const row = a + r * lda;
    for (let i = 0; i < m; i++) addRow(v, c + i * ldc, row, i + 1, v[row + i]!);
  }
}

function radialSum(v: Float64Array, sx: number, sy: number, w: number, n: number, x: number, y: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const d2 = (x - v[sx + i]!) ** 2 + (y - v[sy + i]!) ** 2;
    if (d2 > 0) sum += 0.5 * v[w + i]! * d2 * Math.log(d2);
  }
  return sum;
}
