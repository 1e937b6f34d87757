import { MeasurementError } from "../measurement-error.js";
import type { FamilyName } from "./covariance-family.js";
import { families } from "./covariance-family.js";
import { crossCovariance, fitCovariance, type SizeBounds } from "./gaussian-fit.js";
import { type CovarianceSize, fillCovariance, type LikelihoodParts } from "./gaussian-likelihood.js";
import { columnsOf, needApart, type Points, type Trend, trendAt, trendColumns } from "./kriging.js";
import { KrigingSystem, leaveOneOut } from "./kriging-system.js";
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

/** A surface with a standard uncertainty at every place, its covariance found by maximum likelihood. */
export interface GaussianProcess {
  readonly covariance: FamilyName;
  /** trend's coefficients of 1, x, y */
  readonly trend: readonly number[];
  readonly size: CovarianceSize;
  readonly logLikelihood: number;
  /** how often the likelihood was found */
  readonly evaluations: number;
  /** Height and standard uncertainty at each place: of the surface itself, the noise of a new reading is not in it. What the
   * sizes of the covariance may be wrong by is in it to first order. */
  predict(
    x: ArrayLike<number>,
    y: ArrayLike<number>,
  ): { readonly mean: number[]; readonly standardUncertainty: number[] };
  /** Covariances of the errors at a few places among themselves, row by row; the doubt of the sizes is in them. */
  covariances(x: ArrayLike<number>, y: ArrayLike<number>): readonly number[];
  /** What each reading says beyond all others: reading − prediction from the others, and the standard deviation that
   * difference should have. The covariance is not fitted anew. */
  leaveOneOut(): { readonly residuals: number[]; readonly standardDeviations: number[] };
}

class FittedProcess implements GaussianProcess {
  readonly covariance: FamilyName;
  /** trend's coefficients of 1, x, y */
  readonly trend: readonly number[];
  private readonly system: KrigingSystem;
  private readonly shifted: readonly (readonly [KrigingSystem, KrigingSystem])[];

  constructor(
    private readonly parts: LikelihoodParts,
    private readonly columns: (x: number, y: number) => readonly number[],
    readonly size: CovarianceSize,
    readonly logLikelihood: number,
    /** how often the likelihood was found */
    readonly evaluations: number,
    /** sizes one standard uncertainty off, either way, along independent directions of their doubt */
    doubt: readonly (readonly [CovarianceSize, CovarianceSize])[],
  ) {
    this.covariance = parts.family.name;
    this.system = this.systemOf(size);
    this.trend = this.system.coefficients;
    this.shifted = doubt.map(([less, more]) => [this.systemOf(less), this.systemOf(more)]);
    Object.freeze(this);
  }

  predict(
    x: ArrayLike<number>,
    y: ArrayLike<number>,
  ): { readonly mean: number[]; readonly standardUncertainty: number[] } {
    const [px, py] = [Float64Array.from(x), Float64Array.from(y)];
    const { mean, variance } = this.system.predict(px, py);
    for (const [less, more] of this.shifted) {
      const [low, high] = [less.means(px, py), more.means(px, py)];
      for (let i = 0; i < variance.length; i++) variance[i] = variance[i]! + ((high[i]! - low[i]!) / 2) ** 2;
    }
    return {
      mean: Array.from(mean),
      // rounding alone can put a variance of zero below it
      standardUncertainty: Array.from(variance, (v) => Math.sqrt(Math.max(v, 0))),
    };
  }

  covariances(x: ArrayLike<number>, y: ArrayLike<number>): readonly number[] {
    const [px, py] = [Float64Array.from(x), Float64Array.from(y)];
    const found = this.system.covariances(px, py);
    for (const [less, more] of this.shifted) {
      const low = less.means(px, py);
      const half = more.means(px, py).map((high, i) => (high - low[i]!) / 2);
      for (let i = 0; i < px.length; i++) {
        for (let j = 0; j < px.length; j++) found[i * px.length + j] = found[i * px.length + j]! + half[i]! * half[j]!;
      }
    }
    return Array.from(found);
  }

  leaveOneOut(): { readonly residuals: number[]; readonly standardDeviations: number[] } {
    return leaveOneOut(this.system);
  }

  private systemOf(size: CovarianceSize): KrigingSystem {
    const { parts } = this;
    return new KrigingSystem({
      where: "gaussianProcess",
      z: parts.z,
      trend: parts.trend,
      fill: (memory, dense, at, ld) => fillCovariance(parts, size, memory, dense, { at, ld }),
      cross: (memory, dense, at, ld, targets) => crossCovariance(parts, size, memory, dense, { at, ld, targets }),
      among: (memory, dense, at, x, y) => {
        const bare = { ...parts, x, y, nugget: new Float64Array(x.length), modes: [] };
        fillCovariance(bare, { ...size, noise: 0 }, memory, dense, { at, ld: x.length });
      },
      trendAt: this.columns,
      variance: size.variance,
    });
  }
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
  const fit = fitCovariance(options.fitOn === undefined ? parts : some(parts, options.fitOn, trend), options);
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
