import { MeasurementError } from "../measurement-error.js";
import { type LeastSquares, leastSquares } from "./least-squares.js";
import { median } from "./median.js";

/** What a robust fit gives: the last weighted fit, its robust scale and the weights it ended with. */
export interface HuberFit {
  readonly coefficients: readonly number[];
  /** y − fit, unweighted */
  readonly residuals: readonly number[];
  /** median |residual| / 0.6745: the standard deviation of the undisturbed part */
  readonly scale: number;
  /** 1 for a reading that is believed, less for one that stands off */
  readonly weights: readonly number[];
  readonly leverages: readonly number[];
  readonly iterations: number;
}

/** median of |z| for a standard normal z */
const medianDeviation = 0.674_489_750_196_081_7;

/**
 * Huber's M-estimate of a linear model, by iteratively reweighted least squares with the median scale.
 *
 * @param columns columns of the design matrix
 * @param y observations
 * @param options `tuning` 1.345 keeps 95 % efficiency on clean normal data; `leastScale` stops the scale from shrinking
 * below what is known of the readings
 * @throws MeasurementError `design`, `not-finite`, `rank-deficient`, `no-convergence`
 * @see Huber and Ronchetti, Robust Statistics, 2nd ed. 2009, 7.8
 * @example
 * numerics.huberFit([[1, 1, 1, 1, 1]], [1, 2, 3, 4, 1000]).coefficients.at(0)?.toFixed(2) // => "3.00"
 */
export function huberFit(
  columns: readonly ArrayLike<number>[],
  y: ArrayLike<number>,
  options: { readonly tuning?: number; readonly leastScale?: number } = {},
): HuberFit {
  const { tuning = 1.345, leastScale = 0 } = options;
  let fit: LeastSquares = leastSquares(columns, y);
  let residuals = fit.residuals;
  let coefficients = fit.coefficients;
  for (let iterations = 1; iterations <= 500; iterations++) {
    const scale = Math.max(median(residuals.map(Math.abs)) / medianDeviation, leastScale);
    const weights = residuals.map((r) => (Math.abs(r) <= tuning * scale ? 1 : (tuning * scale) / Math.abs(r)));
    if (scale === 0) return { coefficients, residuals, scale, weights, leverages: fit.leverages, iterations };
    const roots = weights.map(Math.sqrt);
    fit = leastSquares(
      columns.map((column) => roots.map((w, i) => w * column[i]!)),
      roots.map((w, i) => w * y[i]!),
    );
    residuals = fit.residuals.map((r, i) => r / roots[i]!);
    const change = largest(fit.coefficients.map((c, j) => c - coefficients[j]!));
    const size = largest(fit.coefficients);
    coefficients = fit.coefficients;
    if (change <= 1e-10 * size)
      return { coefficients, residuals, scale, weights, leverages: fit.leverages, iterations };
  }
  throw new MeasurementError(
    "no-convergence",
    "huberFit: the weights still change after 500 rounds; look for readings typed in a wrong unit",
  );
}

function largest(values: readonly number[]): number {
  return values.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
}
