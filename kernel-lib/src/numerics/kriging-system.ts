import { MeasurementError } from "../measurement-error.js";
import { type Dense, withDense } from "./dense.js";
import type { TrendSpace } from "./trend-space.js";

/** What a system of places is made of. */
export interface KrigingParts {
  readonly where: string;
  readonly z: Float64Array;
  readonly trend: TrendSpace;
  /** writes the lower triangle of the covariance of the readings, rows `ld` apart; `spare`: room for three columns and twelve numbers */
  readonly fill: (memory: Float64Array, dense: Dense, at: number, ld: number, spare: number) => void;
  /** a row for each place, a column for each target: covariance of the place with the height at the target */
  readonly cross: (memory: Float64Array, dense: Dense, at: number, ld: number, targets: Targets) => void;
  /** values of the trend's columns at a target */
  readonly trendAt: (x: number, y: number) => readonly number[];
  /** variance of the height at a target before anything is read */
  readonly variance: number;
  /** writes the lower triangle of the covariance of the heights at places among themselves */
  readonly among: (memory: Float64Array, dense: Dense, at: number, x: Float64Array, y: Float64Array) => void;
  /** true where heights alone are asked for: a large factor need not be kept */
  readonly meansOnly?: boolean;
}

export interface Targets {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly from: number;
  readonly count: number;
}

/** Mean and variance at each target. */
export interface Predicted {
  readonly mean: Float64Array;
  readonly variance: Float64Array;
}

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
  private readonly side: readonly Float64Array[];
  private readonly corner: readonly (readonly number[])[];

  /** @throws MeasurementError `not-positive-definite` */
  constructor(private readonly parts: KrigingParts) {
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
      this.variancesOf(memory, dense, targets, variance);
    });
    return { mean, variance };
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
        this.parts.cross(memory, dense, 0, targets.count, targets);
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

  private variancesOf(memory: Float64Array, dense: Dense, targets: Targets, variance: Float64Array): void {
    const { parts, corner } = this;
    const [n, t, m] = [this.count, parts.trend.count, targets.count];
    const factor = n * Math.min(256, targets.x.length);
    const weights = this.whiten(memory, dense, targets, factor);
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
  covariances(x: Float64Array, y: Float64Array): Float64Array {
    const { parts, corner } = this;
    const [n, t, m] = [this.count, parts.trend.count, x.length];
    const [factor, out] = [n * m, n * m + (n - t) ** 2];
    return withDense(out + m * m, Math.max(n, m), (memory, dense) => {
      memory.set(this.kept(), factor);
      parts.cross(memory, dense, 0, m, { x, y, from: 0, count: m });
      const weights = this.whiten(memory, dense, { x, y, from: 0, count: m }, factor);
      parts.among(memory, dense, out, x, y);
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
  private whiten(memory: Float64Array, dense: Dense, targets: Targets, factor: number): readonly (readonly number[])[] {
    const { trend, trendAt } = this.parts;
    const [n, t, m] = [this.count, trend.count, targets.count];
    trend.rotateRows(memory, 0, n, m, m);
    const weights = Array.from({ length: m }, (_, j) =>
      trend.weights(trendAt(targets.x[targets.from + j]!, targets.y[targets.from + j]!)),
    );
    for (let k = 0; k < t; k++) {
      const column = this.side[k]!;
      for (let i = 0; i < n - t; i++) {
        const row = (i + t) * m;
        for (let j = 0; j < m; j++) memory[row + j] = memory[row + j]! - column[i]! * weights[j]![k]!;
      }
    }
    dense.solveLower(factor, n - t, n - t, t * m, m, m);
    return weights;
  }
}

/** What each reading says beyond all others: w_i / B_ii, and the standard deviation 1/√B_ii that it should have.
 * @see Dubrule, Mathematical Geology 15, 1983 */
export function leaveOneOut(system: KrigingSystem): { residuals: number[]; standardDeviations: number[] } {
  const diagonal = system.precisionDiagonal();
  return {
    residuals: Array.from(system.weights, (w, i) => w / diagonal[i]!),
    standardDeviations: Array.from(diagonal, (b) => 1 / Math.sqrt(b)),
  };
}

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

const block = 64;

interface FactorPlace {
  readonly l: number;
  readonly ld: number;
  readonly n: number;
  /** n × n numbers */
  readonly inverse: number;
}

/** inverse of the factor, zeros above its diagonal */
function invertFactor(memory: Float64Array, dense: Dense, { l, ld, n, inverse }: FactorPlace): void {
  memory.fill(0, inverse, inverse + n * n);
  for (let i = 0; i < n; i++) memory[inverse + i * (n + 1)] = 1;
  for (let j = 0; j < n; j += block) {
    // columns j … of the inverse are zero above row j
    dense.solveLower(l + j * (ld + 1), n - j, ld, inverse + j * (n + 1), Math.min(block, n - j), n);
  }
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

function cornerOf(memory: Float64Array, n: number, t: number): number[][] {
  return Array.from({ length: t }, (_, i) =>
    Array.from({ length: t }, (__, j) => memory[Math.max(i, j) * n + Math.min(i, j)]!),
  );
}

/** x := L⁻ᵀ x */
function solveUpper(memory: Float64Array, l: number, ld: number, x: number, n: number): void {
  for (let i = n - 1; i >= 0; i--) {
    const row = l + i * ld;
    const value = memory[x + i]! / memory[row + i]!;
    memory[x + i] = value;
    for (let j = 0; j < i; j++) memory[x + j] = memory[x + j]! - memory[row + j]! * value;
  }
}

/** the triangle by itself, rows `n` apart */
function lowerTriangle(memory: Float64Array, at: number, ld: number, n: number): Float64Array {
  const kept = new Float64Array(n * n);
  for (let i = 0; i < n; i++) kept.set(memory.subarray(at + i * ld, at + i * ld + i + 1), i * n);
  return kept;
}

function squares(memory: Float64Array, at: number, count: number): number {
  let sum = 0;
  for (let i = at; i < at + count; i++) sum += memory[i]! ** 2;
  return sum;
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
