import type { Dense } from "./dense.js";
import type { TrendSpace } from "./trend-space.js";
import { block, type FactorPlace, invertFactor, solveUpper, squares } from "./triangular.js";

/** B, the inverse covariance with the trend taken out, into the lower triangle at `out`, from the factor at `l` (rows `n` apart, the
 * trend's rows first); `spare` holds n × n numbers */
export function precisionInto(
  memory: Float64Array,
  dense: Dense,
  trend: TrendSpace,
  n: number,
  { l, out, spare }: { readonly l: number; readonly out: number; readonly spare: number },
): void {
  const t = trend.count;
  const free = n - t;
  invertFactor(memory, dense, { l: l + t * (n + 1), ld: n, n: free, inverse: spare });
  memory.fill(0, out, out + n * n);
  const start = out + t * n + t;
  for (let j = 0; j < free; j += block) {
    const rows = Math.min(block, free - j);
    // rows j … of the inverse factor are zero beyond column j + rows
    dense.addGram(spare + j * free, rows, j + rows, free, start, n);
  }
  trend.rotateMatrix(memory, out, n, n, true);
}

/** trace of the inverse of L Lᵀ; the numbers at `rhs` are multiplied by that inverse */
export function precisionTraceOf(
  memory: Float64Array,
  dense: Dense,
  place: FactorPlace & { readonly rhs: number },
): number {
  const { l, ld, n, inverse, rhs } = place;
  dense.solveLower(l, n, ld, rhs, 1, 1);
  solveUpper(memory, l, ld, rhs, n);
  invertFactor(memory, dense, place);
  return squares(memory, inverse, n * n);
}
