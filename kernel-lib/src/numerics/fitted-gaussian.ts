import { chebyshevSheet } from "./chebyshev-sheet.js";
import type { FamilyName } from "./covariance-family.js";
import { crossCovariance } from "./gaussian-fit.js";
import { type CovarianceSize, fillCovariance, type LikelihoodParts } from "./gaussian-likelihood.js";
import type { Predicted } from "./kriging-parts.js";
import { KrigingSystem } from "./kriging-system.js";
import { leaveOneOut } from "./leave-one-out.js";
import { processBound, type Sized } from "./process-bound.js";

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

/** A process whose sizes are found. */
export class FittedProcess implements GaussianProcess {
  readonly covariance: FamilyName;
  /** trend's coefficients of 1, x, y */
  readonly trend: readonly number[];
  readonly system: KrigingSystem;
  readonly shifted: readonly (readonly [Sized, Sized])[];

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
    this.shifted = doubt.map(([less, more]) => [this.sized(less), this.sized(more)]);
    Object.freeze(this);
  }

  predict(
    x: ArrayLike<number>,
    y: ArrayLike<number>,
  ): { readonly mean: number[]; readonly standardUncertainty: number[] } {
    const { mean, variance } = this.found(Float64Array.from(x), Float64Array.from(y));
    return {
      mean: Array.from(mean),
      // rounding alone can put a variance of zero below it
      standardUncertainty: Array.from(variance, (v) => Math.sqrt(Math.max(v, 0))),
    };
  }

  /** at many places through polynomials, where the law is that smooth */
  private found(x: Float64Array, y: Float64Array): Predicted {
    const { parts } = this;
    const sheet = parts.family.isEntire ? chebyshevSheet(x, y, processBound(parts, this, { x, y })) : undefined;
    if (sheet === undefined) return this.each(x, y);
    const { mean, variance } = this.each(sheet.x, sheet.y);
    return { mean: sheet.at(mean), variance: sheet.at(variance) };
  }

  private each(x: Float64Array, y: Float64Array): Predicted {
    const { mean, variance } = this.system.predict(x, y);
    for (const [less, more] of this.shifted) {
      const [low, high] = [less.system.means(x, y), more.system.means(x, y)];
      for (let i = 0; i < variance.length; i++) variance[i] = variance[i]! + ((high[i]! - low[i]!) / 2) ** 2;
    }
    return { mean, variance };
  }

  covariances(x: ArrayLike<number>, y: ArrayLike<number>): readonly number[] {
    const [px, py] = [Float64Array.from(x), Float64Array.from(y)];
    const found = this.system.covariances(px, py);
    for (const [less, more] of this.shifted) {
      const low = less.system.means(px, py);
      const half = more.system.means(px, py).map((high, i) => (high - low[i]!) / 2);
      for (let i = 0; i < px.length; i++) {
        for (let j = 0; j < px.length; j++) found[i * px.length + j] = found[i * px.length + j]! + half[i]! * half[j]!;
      }
    }
    return Array.from(found);
  }

  leaveOneOut(): { readonly residuals: number[]; readonly standardDeviations: number[] } {
    return leaveOneOut(this.system);
  }

  private sized(size: CovarianceSize): Sized {
    return { size, system: this.systemOf(size) };
  }

  private systemOf(size: CovarianceSize): KrigingSystem {
    const { parts } = this;
    return new KrigingSystem({
      where: "gaussianProcess",
      x: parts.x,
      y: parts.y,
      z: parts.z,
      trend: parts.trend,
      fill: (memory, dense, at, ld) => fillCovariance(parts, size, memory, dense, { at, ld }),
      cross: (memory, dense, at, ld, places, targets) =>
        crossCovariance(parts.family, size, memory, dense, { at, ld, places, targets }),
      trendAt: this.columns,
      variance: size.variance,
    });
  }
}
