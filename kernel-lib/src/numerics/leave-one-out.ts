import type { KrigingSystem } from "./kriging-system.js";

/** What each reading says beyond all others: w_i / B_ii, and the standard deviation 1/√B_ii that it should have.
 * @see Dubrule, Mathematical Geology 15, 1983 */
export function leaveOneOut(system: KrigingSystem): { residuals: number[]; standardDeviations: number[] } {
  const diagonal = system.precisionDiagonal();
  return {
    residuals: Array.from(system.weights, (w, i) => w / diagonal[i]!),
    standardDeviations: Array.from(diagonal, (b) => 1 / Math.sqrt(b)),
  };
}
