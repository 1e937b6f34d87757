import { type Dense, withDense } from "./dense.js";
import type { KrigingParts, Targets } from "./kriging-parts.js";

/** What a solved system keeps for the errors of its heights. */
export interface SolvedSystem {
  readonly parts: KrigingParts;
  /** rotated covariance of the rest with the trend's rows, and of these among themselves */
  readonly side: readonly Float64Array[];
  readonly corner: readonly (readonly number[])[];
  /** lower triangle of the factor of the rest */
  readonly factor: Float64Array;
}

/** Variance of the height at each target; the cross covariances stand at 0, the factor at `factor`. */
export function variancesInto(
  { parts, side, corner }: Omit<SolvedSystem, "factor">,
  memory: Float64Array,
  dense: Dense,
  targets: Targets,
  factor: number,
  variance: Float64Array,
): void {
  const [n, t, m] = [parts.z.length, parts.trend.count, targets.count];
  const weights = whiten({ parts, side }, memory, dense, targets, factor);
  for (let j = 0; j < m; j++) {
    const h = weights[j]!;
    let own = parts.variance;
    for (let k = 0; k < t; k++) {
      own -= 2 * h[k]! * memory[k * m + j]!;
      for (let l = 0; l < t; l++) own += h[k]! * corner[k]![l]! * h[l]!;
    }
    variance[targets.from + j] = own;
  }
  for (let i = t; i < n; i++) {
    for (let j = 0; j < m; j++) {
      variance[targets.from + j] = variance[targets.from + j]! - memory[i * m + j]! ** 2;
    }
  }
}

/** Covariances of the errors at a few places among themselves, row by row. */
export function covariancesOf({ parts, side, corner, factor }: SolvedSystem, x: Float64Array, y: Float64Array) {
  const [n, t, m] = [parts.z.length, parts.trend.count, x.length];
  const [kept, out] = [n * m, n * m + (n - t) ** 2];
  return withDense(out + m * m, Math.max(n, m), (memory, dense) => {
    const targets = { x, y, from: 0, count: m };
    memory.set(factor, kept);
    parts.cross(memory, dense, 0, m, parts, targets);
    const weights = whiten({ parts, side }, memory, dense, targets, kept);
    parts.cross(memory, dense, out, m, targets, targets);
    for (let i = 0; i < m; i++) {
      for (let j = 0; j <= i; j++) {
        let less = -memory[out + i * m + j]!;
        for (let k = 0; k < t; k++) {
          less += weights[i]![k]! * memory[k * m + j]! + weights[j]![k]! * memory[k * m + i]!;
          for (let l = 0; l < t; l++) less -= weights[i]![k]! * corner[k]![l]! * weights[j]![l]!;
        }
        memory[out + i * m + j] = less;
      }
    }
    dense.addGram(t * m, n - t, m, m, out, m);
    const found = new Float64Array(m * m);
    for (let i = 0; i < m; i++) {
      for (let j = 0; j <= i; j++) found[i * m + j] = found[j * m + i] = -memory[out + i * m + j]!;
    }
    return found;
  });
}

/** Cross covariances at 0, rotated, less what the trend's weights take, times the inverse factor below the trend's rows;
 * returns the trend's weights at each target. */
function whiten(
  { parts: { z, trend, trendAt }, side }: Pick<SolvedSystem, "parts" | "side">,
  memory: Float64Array,
  dense: Dense,
  targets: Targets,
  factor: number,
): readonly (readonly number[])[] {
  const [n, t, m] = [z.length, trend.count, targets.count];
  trend.rotateRows(memory, 0, n, m, m);
  const weights = Array.from({ length: m }, (_, j) =>
    trend.weights(trendAt(targets.x[targets.from + j]!, targets.y[targets.from + j]!)),
  );
  for (let k = 0; k < t; k++) {
    const column = side[k]!;
    for (let i = 0; i < n - t; i++) {
      const row = (i + t) * m;
      for (let j = 0; j < m; j++) memory[row + j] = memory[row + j]! - column[i]! * weights[j]![k]!;
    }
  }
  dense.solveLower(factor, n - t, n - t, t * m, m, m);
  return weights;
}
