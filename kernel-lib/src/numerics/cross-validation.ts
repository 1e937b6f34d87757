import { type Dense, withDense } from "./dense.js";
import { precisionTraceOf } from "./precision.js";
import type { TrendSpace } from "./trend-space.js";

type Fill = (memory: Float64Array, dense: Dense, at: number, ld: number, spare: number) => void;

/**
 * Smoothing with the least generalised cross-validation score n |(I − A) z|² / tr(I − A)², A the matrix from heights to
 * fitted heights: nine tries from next to nothing to next to a plane, then golden sections about the best.
 *
 * @see Craven and Wahba, Numerische Mathematik 31, 1979
 */
export function crossValidated(z: Float64Array, trend: TrendSpace, fill: Fill): number {
  const n = z.length;
  const free = n - trend.count;
  const y = z.slice();
  trend.rotate(y);
  const rest = y.subarray(trend.count);
  // matrix without smoothing, with it, inverse factor, right-hand side
  return withDense(3 * n * n + 3 * n + 12, n, (memory, dense) => {
    const [matrix, factor, inverse, spare] = [0, n * n, 2 * n * n, 3 * n * n];
    fill(memory, dense, matrix, n, spare);
    trend.rotateMatrix(memory, matrix, n, n);
    const start = trend.count * (n + 1);
    let usual = 0;
    for (let i = 0; i < free; i++) usual += Math.abs(memory[start + i * (n + 1)]!) / free;
    const score = (log: number): number => {
      memory.copyWithin(factor, matrix, matrix + n * n);
      const smoothing = usual * 10 ** log;
      for (let i = 0; i < free; i++) {
        memory[factor + start + i * (n + 1)] = memory[factor + start + i * (n + 1)]! + smoothing;
      }
      if (dense.factor(factor + start, free, n) < free) return Number.POSITIVE_INFINITY;
      memory.set(rest, spare);
      const trace = precisionTraceOf(memory, dense, { l: factor + start, ld: n, n: free, inverse, rhs: spare });
      let squares = 0;
      for (let i = spare; i < spare + free; i++) squares += memory[i]! ** 2;
      return (n * squares) / trace ** 2;
    };
    return usual * 10 ** leastOf(score);
  });
}

function leastOf(score: (log: number) => number): number {
  const tries = [-8, -7, -6, -5, -4, -3, -2, -1, 0, 1, 2].map((log) => ({ log, value: score(log) }));
  const best = tries.reduce((least, tried) => (tried.value < least.value ? tried : least));
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [best.log - 1, best.log + 1];
  let [a, b] = [high - golden * (high - low), low + golden * (high - low)];
  let [fa, fb] = [score(a), score(b)];
  while (high - low > 0.05) {
    if (fa <= fb) {
      [high, b, fb] = [b, a, fa];
      a = high - golden * (high - low);
      fa = score(a);
    } else {
      [low, a, fa] = [a, b, fb];
      b = low + golden * (high - low);
      fb = score(b);
    }
  }
  return (low + high) / 2;
}
