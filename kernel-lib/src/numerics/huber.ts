import { MeasurementError } from "../measurement-error.js";
import { checkDesign } from "./least-squares.js";
import { medianNear } from "./median.js";
import { RobustWork } from "./robust-work.js";

/** What a robust fit gives: the last weighted fit, its robust scale and the weights it ended with. */
export interface RobustFit {
  readonly coefficients: readonly number[];
  /** y − fit, unweighted */
  readonly residuals: readonly number[];
  /** median |residual| / 0.6745: the standard deviation of the undisturbed part */
  readonly scale: number;
  /** 1 for a reading that is believed, less for one that stands off */
  readonly weights: readonly number[];
  /** of the weighted fit: how far a reading pulls the fit towards itself, 0 to 1 */
  readonly leverages: readonly number[];
  readonly iterations: number;
}

/** median of |z| for a standard normal z */
export const medianDeviation = 0.674_489_750_196_081_7;

export interface RobustOptions {
  /** residuals beyond so many scales are held to be disturbed */
  readonly tuning?: number;
  /** stops the scale from shrinking below what is known of the readings */
  readonly leastScale?: number;
}

/**
 * Huber's M-estimate of a linear model with the median scale.
 *
 * Found by Newton steps on the equations of the estimate, by reweighting where those do not help; the fixed point is the
 * same.
 *
 * @param columns columns of the design matrix
 * @param y observations
 * @param options `tuning` 1.345 keeps 95 % efficiency on clean normal data
 * @throws MeasurementError `design`, `not-finite`, `rank-deficient`, `no-convergence`
 * @see Huber and Ronchetti, Robust Statistics, 2nd ed. 2009, 7.8
 * @example
 * numerics.huberFit([[1, 1, 1, 1, 1]], [1, 2, 3, 4, 1000]).coefficients.at(0)?.toFixed(2) // => "3.00"
 */
export function huberFit(
  columns: readonly ArrayLike<number>[],
  y: ArrayLike<number>,
  options: RobustOptions = {},
): RobustFit {
  checkDesign(columns, y, "huberFit");
  return fitTo(1e-10, columns, y, options);
}

/** until no coefficient changes by more than a share of the largest */
function fitTo(
  share: number,
  columns: readonly ArrayLike<number>[],
  y: ArrayLike<number>,
  options: RobustOptions,
): RobustFit {
  const { tuning = 1.345, leastScale = 0 } = options;
  const work = new RobustWork(columns, y, "huberFit");
  const part = y.length > many ? fitOfPart(columns, y, options) : undefined;
  let middle = (part?.scale ?? 0) * medianDeviation;
  let before = Number.POSITIVE_INFINITY;
  let newton = part !== undefined && work.startAt(part.coefficients);
  for (let iterations = 1; iterations <= 500; iterations++) {
    middle = medianNear(work.sizes(), middle, work.spare);
    const scale = Math.max(middle / medianDeviation, leastScale);
    const limit = tuning * scale;
    if (scale === 0) return work.fit(scale, iterations, (r) => (r === 0 ? 1 : 0));
    const step = work.clippedStep(limit, newton);
    if (step === undefined) {
      // too few readings inside for a Newton step
      if (!newton) refuse();
      newton = false;
      continue;
    }
    const { change, size } = step;
    if (change <= share * size) return work.fit(scale, iterations, (r) => Math.min(1, limit / Math.abs(r)));
    newton = change < 0.5 * before;
    before = change;
  }
  return refuse();
}

/** from so many rows on, the first steps are taken on a tenth of them */
const many = 5000;
const golden = (Math.sqrt(5) - 1) / 2;

function fitOfPart(
  columns: readonly ArrayLike<number>[],
  y: ArrayLike<number>,
  options: RobustOptions,
): RobustFit | undefined {
  const part = (values: ArrayLike<number>) => {
    const taken = new Float64Array(Math.floor(y.length / 10));
    // spread evenly, and out of step with any order of the rows: by the golden section
    for (let k = 0, at = 0; k < taken.length; k++) {
      taken[k] = values[Math.floor(at * y.length)]!;
      at += at < 1 - golden ? golden : golden - 1;
    }
    return taken;
  };
  try {
    return fitTo(1e-3, columns.map(part), part(y), options);
  } catch (error) {
    // the part may not tell the columns apart where all rows do
    if (!(error instanceof MeasurementError)) throw error;
    return undefined;
  }
}

function refuse(): never {
  throw new MeasurementError(
    "no-convergence",
    "huberFit: the weights still change after 500 rounds; look for readings typed in a wrong unit",
  );
}
