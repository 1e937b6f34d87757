import { MeasurementError } from "../measurement-error.js";
import { type Dense, withDense } from "./dense.js";
import { covariancesOf, type SolvedSystem, variancesInto } from "./kriging-errors.js";
import type { KrigingParts, Predicted, Targets } from "./kriging-parts.js";
import { precisionInto } from "./precision.js";
import { lowerTriangle, solveUpper, squares } from "./triangular.js";

/**
 * Best linear unbiased heights from correlated readings (universal kriging), solved in the space that is free of the trend.
 *
 * The covariance needs to be positive definite there only, so that r² ln r, the law of the thin-plate spline, serves too.
 * @see Cressie, Statistics for Spatial Data, 1993, 3.4; Wahba, Spline Models for Observational Data, 1990, 2.4
 */
export class KrigingSystem {
  /** one a place: mean = Σ weight × cross covariance + trend */
  readonly weights: Float64Array;
  readonly coefficients: readonly number[];
  /** zᵀ B z, B the inverse covariance with the trend taken out */
  readonly quadratic: number;
  private readonly factor: Float64Array | undefined;
  /** rotated covariance of the rest with the trend's rows, and of these among themselves */
  readonly side: SolvedSystem["side"];
  readonly corner: SolvedSystem["corner"];

  /** @throws MeasurementError `not-positive-definite` */
  constructor(readonly parts: KrigingParts) {
    const { z, trend } = parts;
    const n = z.length;
    const t = trend.count;
    const free = n - t;
    const y = z.slice();
    trend.rotate(y);
    const first = Array.from(y.subarray(0, t));
    const solved = withDense(n * n + 3 * n + 12, n, (memory, dense) => {
      parts.fill(memory, dense, 0, n, n * n);
      trend.rotateMatrix(memory, 0, n, n);
      const side = Array.from({ length: t }, (_, k) =>
        Float64Array.from({ length: free }, (__, i) => memory[(i + t) * n + k]!),
      );
      const corner = cornerOf(memory, n, t);
      const start = t * n + t;
      if (dense.factor(start, free, n) < free) refuse(parts.where, n);
      const rhs = n * n;
      memory.set(y.subarray(t), rhs);
      dense.solveLower(start, free, n, rhs, 1, 1);
      const quadratic = squares(memory, rhs, free);
      solveUpper(memory, start, n, rhs, free);
      const factor = parts.meansOnly ? undefined : lowerTriangle(memory, start, n, free);
      return { rest: memory.slice(rhs, rhs + free), side, corner, quadratic, factor };
    });
    ({ side: this.side, corner: this.corner, quadratic: this.quadratic, factor: this.factor } = solved);
    this.weights = new Float64Array(n);
    this.weights.set(solved.rest, t);
    this.coefficients = trend.coefficients(first.map((value, k) => value - product(this.side[k]!, solved.rest)));
    trend.rotateBack(this.weights);
  }

  get count(): number {
    return this.parts.z.length;
  }

  /** Heights alone, which take no triangular solution. */
  means(x: Float64Array, y: Float64Array): Float64Array {
    const mean = new Float64Array(x.length);
    this.inPieces(x, y, 0, (memory, _, targets) => this.meansOf(memory, targets, mean));
    return mean;
  }

  /** Heights and the variance of each, as large as the covariance says. */
  predict(x: Float64Array, y: Float64Array): Predicted {
    const mean = new Float64Array(x.length);
    const variance = new Float64Array(x.length);
    const free = this.count - this.parts.trend.count;
    this.inPieces(x, y, free * free, (memory, dense, targets) => {
      this.meansOf(memory, targets, mean);
      variancesInto(this, memory, dense, targets, this.count * Math.min(256, x.length), variance);
    });
    return { mean, variance };
  }

  /** Covariances of the errors at a few places among themselves, row by row. */
  covariances(x: Float64Array, y: Float64Array): Float64Array {
    const { parts, side, corner } = this;
    return covariancesOf({ parts, side, corner, factor: this.kept() }, x, y);
  }

  /** diagonal of B, the inverse covariance with the trend taken out */
  precisionDiagonal(): Float64Array {
    const n = this.count;
    const { trend } = this.parts;
    const free = n - trend.count;
    return withDense(3 * n * n, n, (memory, dense) => {
      for (let i = 0; i < free; i++) {
        const row = this.kept().subarray(i * free, i * free + i + 1);
        memory.set(row, (i + trend.count) * n + trend.count);
      }
      precisionInto(memory, dense, trend, n, { l: 0, out: n * n, spare: 2 * n * n });
      return Float64Array.from({ length: n }, (_, i) => memory[n * n + i * (n + 1)]!);
    });
  }

  private kept(): Float64Array {
    if (this.factor !== undefined) return this.factor;
    throw new RangeError(`${this.parts.where}: this system was solved for heights alone`);
  }

  /** targets in pieces of 256; the cross covariances of a piece stand at 0 */
  private inPieces(
    x: Float64Array,
    y: Float64Array,
    more: number,
    use: (memory: Float64Array, dense: Dense, targets: Targets) => void,
  ): void {
    const n = this.count;
    const width = Math.min(256, x.length);
    withDense(n * width + more, n, (memory, dense) => {
      if (more > 0) memory.set(this.kept(), n * width);
      for (let from = 0; from < x.length; from += width) {
        const targets = { x, y, from, count: Math.min(width, x.length - from) };
        this.parts.cross(memory, dense, 0, targets.count, this.parts, targets);
        use(memory, dense, targets);
      }
    });
  }

  private meansOf(memory: Float64Array, { x, y, from, count }: Targets, mean: Float64Array): void {
    const { weights, coefficients, parts } = this;
    for (let j = 0; j < count; j++) {
      const f = parts.trendAt(x[from + j]!, y[from + j]!);
      mean[from + j] = f.reduce((s, value, k) => s + value * coefficients[k]!, 0);
    }
    for (let i = 0; i < weights.length; i++) {
      const w = weights[i]!;
      for (let j = 0; j < count; j++) mean[from + j] = mean[from + j]! + w * memory[i * count + j]!;
    }
  }
}

function cornerOf(memory: Float64Array, n: number, t: number): number[][] {
  return Array.from({ length: t }, (_, i) =>
    Array.from({ length: t }, (__, j) => memory[Math.max(i, j) * n + Math.min(i, j)]!),
  );
}

function product(a: Float64Array, b: Float64Array): number {
  let s = 0;
  for (let i = 0; i < a.length; i++) s += a[i]! * b[i]!;
  return s;
}

function refuse(where: string, n: number): never {
  throw new MeasurementError(
    "not-positive-definite",
    `${where}: the covariance of the ${n} places is not positive definite, one place follows from the others; leave out one of two places that lie together, or give the readings a noise greater than zero`,
  );
}
