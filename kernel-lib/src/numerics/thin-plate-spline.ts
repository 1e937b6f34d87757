import { MeasurementError } from "../measurement-error.js";
import { crossValidated } from "./cross-validation.js";
import type { Dense } from "./dense.js";
import { columnsOf, crossOf, needApart, type Points, trendAt, trendColumns } from "./kriging.js";
import type { KrigingParts } from "./kriging-parts.js";
import { KrigingSystem } from "./kriging-system.js";
import { leaveOneOut } from "./leave-one-out.js";
import { radialSums } from "./radial-sums.js";
import { TrendSpace } from "./trend-space.js";

export interface SplineOptions {
  /** added to the diagonal: 0 goes through every point; generalised cross-validation finds it where left out */
  readonly smoothing?: number;
}

/** Places brought to a middle of zero and a range of one: in large numbers r² ln r would lose digits. */
interface OwnScale {
  readonly x: (values: ArrayLike<number>) => Float64Array;
  readonly y: (values: ArrayLike<number>) => Float64Array;
  readonly size: number;
}

/** The thin plate bent least for how near it passes the points. */
export interface ThinPlateSpline {
  readonly smoothing: number;
  /** Heights at places. */
  heights(x: ArrayLike<number>, y: ArrayLike<number>): readonly number[];
  /** Heights with the standard uncertainty of the surface that the points bear: the spline as the best estimate of a process
   * whose size is that of the heights themselves (Wahba 1990, 1.5 and 5). */
  predict(
    x: ArrayLike<number>,
    y: ArrayLike<number>,
  ): { readonly mean: number[]; readonly standardUncertainty: number[] };
  /** Covariances of the errors at a few places among themselves, row by row. */
  covariances(x: ArrayLike<number>, y: ArrayLike<number>): readonly number[];
  /** Reading − spline through all others with the same smoothing, and the standard deviation it should have. */
  leaveOneOut(): { readonly residuals: number[]; readonly standardDeviations: number[] };
}

class FittedSpline implements ThinPlateSpline {
  private readonly lean: KrigingSystem;
  private whole: KrigingSystem | undefined;

  constructor(
    private readonly parts: KrigingParts,
    private readonly own: OwnScale,
    readonly smoothing: number,
  ) {
    this.lean = new KrigingSystem({ ...parts, meansOnly: true });
  }

  heights(x: ArrayLike<number>, y: ArrayLike<number>): readonly number[] {
    const { lean, own, parts } = this;
    const [a, b, c] = lean.coefficients as [number, number, number];
    const [px, py] = [own.x(x), own.y(y)];
    const sums = radialSums({ x: parts.x, y: parts.y, weights: lean.weights }, px, py);
    for (let i = 0; i < sums.length; i++) sums[i] = sums[i]! + a + b * px[i]! + c * py[i]!;
    return Array.from(sums);
  }

  predict(
    x: ArrayLike<number>,
    y: ArrayLike<number>,
  ): { readonly mean: number[]; readonly standardUncertainty: number[] } {
    const system = this.full();
    const { mean, variance } = system.predict(this.own.x(x), this.own.y(y));
    return {
      mean: Array.from(mean),
      // rounding alone can put a variance of zero below it
      standardUncertainty: Array.from(variance, (v) => this.size * Math.sqrt(Math.max(v, 0))),
    };
  }

  covariances(x: ArrayLike<number>, y: ArrayLike<number>): readonly number[] {
    const found = this.full().covariances(this.own.x(x), this.own.y(y));
    return Array.from(found, (v) => v * this.size ** 2);
  }

  leaveOneOut(): { readonly residuals: number[]; readonly standardDeviations: number[] } {
    const { residuals, standardDeviations } = leaveOneOut(this.full());
    return { residuals, standardDeviations: standardDeviations.map((s) => s * this.size) };
  }

  /** standard deviation of the process for one unit of r² ln r */
  private get size(): number {
    return Math.sqrt(this.lean.quadratic / (this.parts.x.length - 3));
  }

  private full(): KrigingSystem {
    this.whole ??= new KrigingSystem(this.parts);
    return this.whole;
  }
}

/**
 * Thin-plate spline through scattered points, smoothed by as much as generalised cross-validation asks for, or as told:
 * s(p) = Σ w r² ln r + plane, (K + smoothing I) w + plane = z, w free of any plane.
 *
 * Cross-validation takes the errors of the points as independent.
 *
 * @throws MeasurementError `too-few-points`, `not-finite`, `rank-deficient` (points on a line), `same-place` (two at one place, without smoothing), `smoothing`
 * @see Wahba, Spline Models for Observational Data, 1990, chapters 2 and 4
 * @example
 * const points = { x: [0, 1, 0, 1, 0.5], y: [0, 0, 1, 1, 0.5], z: [0, 1, 2, 3, 1.5] };
 * numerics.thinPlateSpline(points, { smoothing: 0 }).heights([0.3], [0.9])[0].toFixed(6) // => "2.100000"
 */
export function thinPlateSpline(points: Points, { smoothing }: SplineOptions = {}): ThinPlateSpline {
  const { x: givenX, y: givenY, z } = columnsOf(points, "thinPlateSpline");
  if (!(smoothing === undefined || (smoothing >= 0 && Number.isFinite(smoothing)))) {
    throw new MeasurementError(
      "smoothing",
      `thinPlateSpline: smoothing ${smoothing}; give zero or a number above it, or leave it out for cross-validation`,
    );
  }
  if (smoothing === 0) needApart(givenX, givenY, "thinPlateSpline");
  const own = ownScale(givenX, givenY);
  const [x, y] = [own.x(givenX), own.y(givenY)];
  const square = own.size ** 2;
  const trend = new TrendSpace(trendColumns("plane", x, y), x.length, "thinPlateSpline");
  const fill = (memory: Float64Array, dense: Dense, at: number, ld: number, spare: number) =>
    fillRadial(x, y, memory, dense, at, ld, spare);
  const found = smoothing === undefined ? crossValidated(z, trend, fill) : smoothing / square;
  return new FittedSpline(
    {
      x,
      y,
      z,
      trend,
      where: "thinPlateSpline",
      fill: (memory, dense, at, ld, spare) => {
        fill(memory, dense, at, ld, spare);
        for (let i = 0; i < x.length; i++) memory[at + i * (ld + 1)] = memory[at + i * (ld + 1)]! + found;
      },
      cross: crossOf(radial),
      trendAt: (px, py) => trendAt("plane", px, py),
      variance: 0,
    },
    own,
    found * square,
  );
}

function ownScale(x: Float64Array, y: Float64Array): OwnScale {
  const [midX, rangeX] = middle(x);
  const [midY, rangeY] = middle(y);
  const size = Math.max(rangeX, rangeY);
  return {
    x: (values) => rescaled(values, midX, size),
    y: (values) => rescaled(values, midY, size),
    size,
  };
}

function rescaled(values: ArrayLike<number>, middle: number, size: number): Float64Array {
  const own = new Float64Array(values.length);
  for (let i = 0; i < own.length; i++) own[i] = (values[i]! - middle) / size;
  return own;
}

function middle(values: Float64Array): [middle: number, range: number] {
  let [low, high] = [values[0]!, values[0]!];
  for (const v of values) {
    if (v < low) low = v;
    if (v > high) high = v;
  }
  return [(low + high) / 2, high - low];
}

/** lower triangle of r² ln r, rows from above to below: what a row's last four reach beyond it is written over by the next */
function fillRadial(
  x: Float64Array,
  y: Float64Array,
  memory: Float64Array,
  dense: Dense,
  at: number,
  ld: number,
  spare: number,
): void {
  const n = x.length;
  const [px, py, one] = [spare, spare + n + 4, spare + 2 * n + 8];
  memory.fill(0, spare, one);
  memory.set(x, px);
  memory.set(y, py);
  memory[one] = 1;
  for (let i = 0; i < n; i++) {
    const row = at + i * ld;
    const count = Math.ceil((i + 1) / 4) * 4;
    memory.fill(0, row, row + Math.min(count, ld));
    // the last row may not reach beyond the matrix
    const whole = i === n - 1 ? count - 4 : count;
    dense.addRadial(px + i, py + i, one, 1, px, py, row, whole);
    for (let j = whole; j <= i; j++) memory[row + j] = radial(x[i]! - x[j]!, y[i]! - y[j]!);
  }
}

function radial(dx: number, dy: number): number {
  const d2 = dx * dx + dy * dy;
  return d2 > 0 ? 0.5 * d2 * Math.log(d2) : 0;
}
