import { MeasurementError } from "../measurement-error.js";
import type { FamilyName } from "./covariance-family.js";
import { families } from "./covariance-family.js";
import { FittedProcess, type GaussianProcess } from "./fitted-gaussian.js";
import { fitCovariance } from "./gaussian-fit.js";
import type { CovarianceSize, LikelihoodParts } from "./gaussian-likelihood.js";
import { columnsOf, needApart, type Points, type Trend, trendAt, trendColumns } from "./kriging.js";
import type { SizeBounds } from "./size-search.js";
import { spreadOver } from "./spread-over.js";
import { TrendSpace } from "./trend-space.js";

export interface GaussianProcessOptions {
  /** Matérn 5/2 unless said otherwise */
  readonly covariance?: FamilyName;
  /** a plane unless said otherwise: its doubt is in the likelihood (REML) and in every variance */
  readonly trend?: Trend;
  /** known variance of each reading, or of all */
  readonly nugget?: number | ArrayLike<number>;
  /** known errors that readings share: a value a place for one standard uncertainty of each cause */
  readonly modes?: readonly ArrayLike<number>[];
  /** true to fit the noise of a reading, beyond the nugget */
  readonly fitNoise?: boolean;
  /** true for one length both ways */
  readonly isotropic?: boolean;
  /** numbers of the points on which the sizes of the covariance are found; all where left out */
  readonly fitOn?: readonly number[];
  /** where the search starts, the only place; several places by turns where left out */
  readonly start?: Partial<CovarianceSize>;
  /** least and greatest of each size */
  readonly bounds?: Partial<SizeBounds>;
}

/**
 * Gaussian process through scattered points: covariance by (restricted) maximum likelihood, then height and standard
 * uncertainty at any place.
 *
 * @throws MeasurementError `too-few-points`, `not-finite`, `rank-deficient`, `same-place` (two at one place, without noise), `likelihood`
 * @see Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, chapters 2, 4, 5
 * @example
 * const x = Array.from({ length: 25 }, (_, i) => 10 * (i % 5));
 * const y = Array.from({ length: 25 }, (_, i) => 10 * Math.floor(i / 5));
 * const z = x.map((v, i) => 3 * Math.sin(v / 15) + 2 * Math.cos(y[i] / 20));
 * numerics.gaussianProcess({ x, y, z }, { nugget: 0.01 }).predict([15], [15]).mean[0].toFixed(1) // => "3.9"
 */
export function gaussianProcess(points: Points, options: GaussianProcessOptions = {}): GaussianProcess {
  const { x, y, z } = columnsOf(points, "gaussianProcess");
  const { covariance = "matern 5/2", trend = "plane", nugget = 0, modes = [] } = options;
  if (nugget === 0 && !options.fitNoise) needApart(x, y, "gaussianProcess");
  const parts: LikelihoodParts = {
    x,
    y,
    z,
    family: families[covariance],
    trend: new TrendSpace(trendColumns(trend, x, y), x.length, "gaussianProcess"),
    nugget: typeof nugget === "number" ? x.map(() => nugget) : Float64Array.from(nugget),
    modes: modes.map((mode) => Float64Array.from(mode)),
  };
  const fitted = options.fitOn === undefined ? parts : some(parts, options.fitOn, trend);
  const count = fitted.z.length;
  const fewer = count < many ? undefined : some(fitted, spreadOver(count, Math.ceil(count / 4)), trend);
  const fit = fitCovariance(fitted, options, fewer);
  if (fit === undefined) {
    throw new MeasurementError(
      "likelihood",
      "gaussianProcess: the covariance of the points is not positive definite at any size tried; give the readings a noise greater than zero, or leave out one of two points that lie together",
    );
  }
  return new FittedProcess(
    parts,
    (px, py) => trendAt(trend, px, py),
    fit.size,
    fit.logLikelihood,
    fit.evaluations,
    fit.doubt,
  );
}

/** from so many points on the search for the sizes begins on a quarter of them: a likelihood costs the cube of their number */
const many = 120;

function some(parts: LikelihoodParts, which: readonly number[], trend: Trend): LikelihoodParts {
  const pick = (values: Float64Array) => Float64Array.from(which, (i) => values[i]!);
  const [x, y] = [pick(parts.x), pick(parts.y)];
  return {
    ...parts,
    x,
    y,
    z: pick(parts.z),
    nugget: pick(parts.nugget),
    modes: parts.modes.map(pick),
    trend: new TrendSpace(trendColumns(trend, x, y), which.length, "gaussianProcess"),
  };
}
