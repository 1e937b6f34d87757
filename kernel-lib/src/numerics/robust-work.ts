import { factorise, invertUpper, orthonormalColumns } from "./householder.js";
import type { RobustFit } from "./huber.js";
import { upperAt, upperHalfOf, upperHalves } from "./median.js";
import { NormalEquations, solveWell } from "./normal-equations.js";

/** largest change of a coefficient, largest coefficient */
export interface Step {
  readonly change: number;
  readonly size: number;
}

/** The state of a robust fit between its steps; arrays are kept from step to step. */
export class RobustWork {
  readonly spare: Float64Array;
  private readonly y: Float64Array;
  private readonly equations: NormalEquations;
  /** coefficients of the working columns, and what turns them into those of the columns given */
  private readonly coefficients: Float64Array;
  private readonly inverse: readonly Float64Array[] | undefined;
  private readonly residuals: Float64Array;
  private readonly absolute: Float64Array;
  private readonly clipped: Float64Array;
  private readonly listed: Int32Array;
  private readonly parts: Float64Array;
  /** the matrix of the last Newton step, once the same rows stay inside */
  private kept: readonly (readonly number[])[] | undefined;
  /** the last move asked for, and the one made */
  private readonly moved: Float64Array;
  private readonly jumped: Float64Array;

  /** Starts from ordinary least squares. Columns too nearly parallel for normal equations are orthonormalised first.
   * @throws MeasurementError `rank-deficient` */
  constructor(columns: readonly ArrayLike<number>[], y: ArrayLike<number>, where: string) {
    const rows = y.length;
    this.y = y instanceof Float64Array ? y : Float64Array.from(y);
    this.residuals = new Float64Array(rows);
    this.absolute = new Float64Array(rows);
    this.clipped = new Float64Array(rows);
    this.spare = new Float64Array(rows);
    this.listed = new Int32Array(rows + 1);
    this.parts = new Float64Array(rows);
    const plain = columns.map((column) => (column instanceof Float64Array ? column : Float64Array.from(column)));
    let equations = new NormalEquations(plain);
    let start = solveWell(equations.without(this.listed, this.parts, 0), equations.project(this.y));
    if (start === undefined) {
      const factor = factorise(
        plain.map((column) => column.slice()),
        where,
      );
      equations = new NormalEquations(orthonormalColumns(factor, rows));
      this.inverse = invertUpper(factor.r);
      start = equations.project(this.y);
    }
    this.equations = equations;
    this.coefficients = start;
    this.moved = new Float64Array(start.length);
    this.jumped = new Float64Array(start.length);
  }

  /** Goes on from coefficients of the columns given; where these were orthonormalised, from where it is. */
  startAt(coefficients: readonly number[]): boolean {
    if (this.inverse !== undefined) return false;
    this.coefficients.set(coefficients);
    return true;
  }

  /** Goes on from what another fit to the same rows left. */
  startFrom({ residuals }: RobustFit): void {
    const { equations, y } = this;
    const fitted = y.map((value, i) => value - residuals[i]!);
    const start = solveWell(equations.without(this.listed, this.parts, 0), equations.project(fitted));
    if (start !== undefined) this.coefficients.set(start);
  }

  /** |residuals| at the coefficients as they are */
  sizes(): Float64Array {
    const { residuals, absolute } = this;
    this.equations.residualsInto(residuals, absolute, this.y, this.coefficients);
    return absolute;
  }

  /**
   * One step of Huber's estimate with residuals clipped at a limit. A Newton step leaves the clipped rows out of the
   * matrix, a reweighting step keeps them by limit / |residual|.
   */
  clippedStep(limit: number, newton: boolean): Step | undefined {
    const { residuals, absolute, clipped, listed, parts } = this;
    const upper = upperHalves(absolute);
    const least = upperHalfOf(limit);
    let count = 0;
    for (let i = 0; i < residuals.length; i++) {
      // written always, counted where the size reaches the limit: no branch that cannot be foreseen
      listed[count] = i;
      count += 1 + ((upper[2 * i + upperAt]! - least) >> 31);
    }
    clipped.set(residuals);
    for (let k = 0; k < count; k++) {
      const i = listed[k]!;
      const kept = Math.min(1, limit / absolute[i]!);
      clipped[i] = kept * residuals[i]!;
      parts[k] = newton ? 1 : 1 - kept;
    }
    if (newton && this.kept !== undefined) return this.step(this.kept);
    const matrix = this.equations.without(listed, parts, count);
    const step = this.step(matrix);
    // once the steps are small the same rows stay inside, all but a few: the matrix is kept
    this.kept = newton && step !== undefined && step.change < 1e-2 * step.size ? matrix : undefined;
    return step;
  }

  /** One reweighting step with the weights given by a function of |residual|. */
  weightedStep(weight: (size: number) => number): Step | undefined {
    const { residuals, absolute, clipped, listed, parts } = this;
    for (let i = 0; i < residuals.length; i++) {
      const w = weight(absolute[i]!);
      clipped[i] = w * residuals[i]!;
      listed[i] = i;
      parts[i] = 1 - w;
    }
    return this.step(this.equations.without(listed, parts, residuals.length));
  }

  private step(matrix: readonly (readonly number[])[]): Step | undefined {
    const { equations, coefficients, moved, jumped } = this;
    const move = solveWell(matrix, equations.project(this.clipped));
    if (move === undefined) return undefined;
    let [along, square, change, size] = [0, 0, 0, 0];
    for (let j = 0; j < move.length; j++) {
      along += (moved[j]! - move[j]!) * jumped[j]!;
      square += jumped[j]! ** 2;
      change = Math.max(change, Math.abs(move[j]!));
    }
    // what a jump took off the move: steps that shrink along one line, as they do when the scale follows, go where they lead
    const taken = along / square;
    const further = taken > 0.7 && taken < 1.3 ? 1 / taken : 1;
    for (let j = 0; j < move.length; j++) {
      jumped[j] = further * move[j]!;
      coefficients[j] = coefficients[j]! + jumped[j]!;
      moved[j] = move[j]!;
      size = Math.max(size, Math.abs(coefficients[j]!));
    }
    return { change, size };
  }

  /** The fit as it stands; arrays that a caller may not want are made when first read. */
  fit(scale: number, iterations: number, weight: (residual: number) => number): RobustFit {
    const { equations, coefficients, inverse } = this;
    const { residuals } = this;
    equations.residualsInto(residuals, this.absolute, this.y, coefficients);
    const own = inverse?.map((row) => row.reduce((s, v, k) => s + v * coefficients[k]!, 0)) ?? coefficients;
    const once = <T>(make: () => T) => {
      let made: T | undefined;
      return () => {
        made ??= make();
        return made;
      };
    };
    const plain = once(() => Array.from(residuals));
    const weights = once(() => Array.from(residuals, weight));
    const leverages = once(() => weightedLeverages(equations.columns, weights()));
    return {
      coefficients: Array.from(own),
      scale,
      iterations,
      get residuals() {
        return plain();
      },
      get weights() {
        return weights();
      },
      get leverages() {
        return leverages();
      },
    };
  }
}

function weightedLeverages(columns: readonly Float64Array[], weights: readonly number[]): readonly number[] {
  const roots = weights.map(Math.sqrt);
  const factor = factorise(
    columns.map((column) => column.map((v, i) => v * roots[i]!)),
    "leverages",
  );
  const total = new Array<number>(weights.length).fill(0);
  for (const q of orthonormalColumns(factor, weights.length)) {
    for (let i = 0; i < total.length; i++) total[i] = total[i]! + q[i]! ** 2;
  }
  return total;
}
