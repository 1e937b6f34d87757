import { MeasurementError } from "../measurement-error.js";
import { huberFit, type RobustFit, type RobustOptions } from "./huber.js";
import { checkDesign } from "./least-squares.js";
import { RobustWork } from "./robust-work.js";

/**
 * Tukey's bisquare estimate of a linear model: readings far off count for nothing. Starts from Huber's fit and keeps its
 * scale; what a start leads to need not be the only fixed point.
 *
 * @param columns columns of the design matrix
 * @param y observations
 * @param options `tuning` 4.685 keeps 95 % efficiency on clean normal data
 * @throws MeasurementError `design`, `not-finite`, `rank-deficient`, `no-convergence`
 * @see Huber and Ronchetti, Robust Statistics, 2nd ed. 2009, 4.8
 * @example
 * numerics.bisquareFit([[1, 1, 1, 1, 1]], [1, 2, 3, 4, 1000]).coefficients.at(0)?.toFixed(2) // => "2.50"
 */
export function bisquareFit(
  columns: readonly ArrayLike<number>[],
  y: ArrayLike<number>,
  options: RobustOptions = {},
): RobustFit {
  const { tuning = 4.685, leastScale = 0 } = options;
  checkDesign(columns, y, "bisquareFit");
  const start = huberFit(columns, y, { leastScale });
  const limit = tuning * start.scale;
  if (!(limit > 0)) return start;
  const weight = (size: number) => (size < limit ? (1 - (size / limit) ** 2) ** 2 : 0);
  const work = new RobustWork(columns, y, "bisquareFit");
  work.startFrom(start);
  for (let iterations = 1; iterations <= 500; iterations++) {
    work.sizes();
    const step = work.weightedStep(weight);
    if (step === undefined) break;
    if (step.change <= 1e-10 * step.size) return work.fit(start.scale, iterations, (r) => weight(Math.abs(r)));
  }
  throw new MeasurementError(
    "no-convergence",
    "bisquareFit: the weights still change after 500 rounds, or too few readings are left; look for readings typed in a wrong unit",
  );
}
