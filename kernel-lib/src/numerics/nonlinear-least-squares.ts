import { MeasurementError } from "../measurement-error.js";
import { counted } from "../words.js";
import { type LeastSquares, leastSquares } from "./least-squares.js";
import { numericalPartials } from "./numerical-partials.js";

/** A curve that is not straight in its parameters, and the observations it has to follow. Plain numbers. */
export interface NonlinearProblem {
  /** named in refusals: "warmUp" */
  readonly where: string;
  /** the observations, one a row */
  readonly y: ArrayLike<number>;
  /** value of the curve in a row, from 0; what it gives that is no number counts as a step too far */
  readonly model: (parameters: readonly number[], row: number) => number;
  /** where to start, one a parameter */
  readonly start: readonly number[];
  /** partial derivatives of the curve in a row, one a parameter; found numerically where left out */
  readonly partials?: (parameters: readonly number[], row: number) => readonly number[];
  /** size of each parameter, for the numerical derivatives; that of its start where left out */
  readonly scales?: readonly number[];
  /** steps after which the search is given up, 2000 where left out */
  readonly mostSteps?: number;
}

/** What a nonlinear least-squares fit gives: that of the straight one about the solution, its coefficients being the
 * parameters found. */
export interface NonlinearFit extends LeastSquares {
  /** standard error of each parameter: s √diag (JᵀJ)⁻¹; NaN when ν = 0 */
  readonly standardErrors: readonly number[];
  /** steps tried */
  readonly iterations: number;
}

interface State {
  readonly parameters: readonly number[];
  readonly residuals: readonly number[];
  readonly sum: number;
}

/**
 * Nonlinear least squares by Levenberg–Marquardt, each parameter damped by the steepest the curve has been in it, finished
 * by undamped steps until they stop getting smaller; each step solved by Householder QR.
 *
 * It finds the nearest minimum, which need not be the lowest: start near, or from several places.
 *
 * @throws MeasurementError `design`, `not-finite`, `start`, `rank-deficient`, `no-convergence`
 * @see Moré, The Levenberg–Marquardt algorithm, 1978; Nielsen, Damping parameter in Marquardt's method, 1999; checked
 * against NIST StRD
 * @example
 * numerics.nonlinearLeastSquares({
 *   where: "decay",
 *   y: [8, 4, 2, 1],
 *   model: ([a, b], row) => a * Math.exp(-b * row),
 *   start: [5, 1],
 * }).coefficients.map((c) => c.toFixed(4)).join() // => "8.0000,0.6931"
 */
export function nonlinearLeastSquares(problem: NonlinearProblem): NonlinearFit {
  checkProblem(problem);
  const { y, where, mostSteps = 2000 } = problem;
  let state = stateAt(problem, problem.start);
  if (!state) {
    throw new MeasurementError(
      "start",
      `${where}: the curve has no value at the start (${problem.start.join(", ")}); start nearer to the readings`,
    );
  }
  let steepest: readonly number[] = problem.start.map(() => 0);
  // what rounding leaves of a curve that meets every reading: no step can be judged below it
  const rounding = y.length * (2 ** -50 * Array.from(y).reduce((most, v) => Math.max(most, Math.abs(v)), 0)) ** 2;
  let damping = 1e-3;
  let growth = 2;
  for (let step = 1; step <= mostSteps; step++) {
    const columns = jacobian(problem, state.parameters);
    steepest = columns.map((column, j) => Math.max(steepest[j]!, Math.hypot(...column)));
    const delta = dampedStep(columns, state.residuals, steepest, damping, where);
    const next = stateAt(
      problem,
      state.parameters.map((p, j) => p + delta[j]!),
    );
    const expected = state.sum - leftAfter(columns, state.residuals, delta);
    const gain = next ? (state.sum - next.sum) / expected : -1;
    const isSmall = relativeSize(delta, state.parameters) < 1e-10;
    if (isSmall || !(expected > 1e-12 * state.sum) || !(state.sum > rounding)) {
      return finish(problem, gain > 0 && next ? next : state, step);
    }
    if (next && gain > 1e-4) {
      state = next;
      damping = Math.max(damping * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3), 1e-20);
      growth = 2;
    } else {
      damping *= growth;
      growth *= 2;
    }
  }
  throw new MeasurementError(
    "no-convergence",
    `${where}: no best fit found in ${mostSteps} steps for ${y.length} readings; start nearer, or take a curve with fewer parameters`,
  );
}

/** undamped steps while each is smaller than the one before: the sum of squares is too flat there to steer by */
function finish(problem: NonlinearProblem, from: State, iterations: number): NonlinearFit {
  let state = from;
  let size = Number.POSITIVE_INFINITY;
  let steps = iterations;
  for (let round = 0; round < 200; round++) {
    const { coefficients: delta } = leastSquares(jacobian(problem, state.parameters), state.residuals);
    const next = stateAt(
      problem,
      state.parameters.map((p, j) => p + delta[j]!),
    );
    const now = relativeSize(delta, state.parameters);
    if (!next || !(now < 0.9 * size) || !(next.sum <= state.sum * (1 + 1e-9))) break;
    state = next;
    size = now;
    steps++;
  }
  const linear = leastSquares(jacobian(problem, state.parameters), state.residuals);
  const degreesOfFreedom = linear.degreesOfFreedom;
  const s = Math.sqrt(state.sum / degreesOfFreedom);
  return {
    ...linear,
    coefficients: state.parameters,
    residuals: state.residuals,
    residualSumOfSquares: state.sum,
    residualStandardDeviation: s,
    standardErrors: linear.covarianceFactor.map((row, j) => s * Math.sqrt(row[j]!)),
    iterations: steps,
  };
}

/** least squares with a row more for each parameter that holds it back */
function dampedStep(
  columns: readonly (readonly number[])[],
  residuals: readonly number[],
  steepest: readonly number[],
  damping: number,
  where: string,
): readonly number[] {
  const flat = steepest.findIndex((size) => !(size > 0));
  if (flat >= 0) {
    throw new MeasurementError(
      "rank-deficient",
      `${where}: parameter ${flat + 1} does nothing to the curve at the readings; start nearer, or leave it out`,
    );
  }
  const rows = columns.map((column, j) => [
    ...column,
    ...steepest.map((size, k) => (j === k ? Math.sqrt(damping) * size : 0)),
  ]);
  return leastSquares(rows, [...residuals, ...steepest.map(() => 0)]).coefficients;
}

/** sum of squares that a straight curve would leave after the step */
function leftAfter(
  columns: readonly (readonly number[])[],
  residuals: readonly number[],
  delta: readonly number[],
): number {
  return residuals.reduce((sum, r, i) => sum + (r - columns.reduce((s, c, j) => s + c[i]! * delta[j]!, 0)) ** 2, 0);
}

function stateAt({ y, model }: NonlinearProblem, parameters: readonly number[]): State | undefined {
  const residuals = Array.from(y, (value, row) => value - model(parameters, row));
  const sum = residuals.reduce((total, r) => total + r * r, 0);
  return Number.isFinite(sum) ? { parameters, residuals, sum } : undefined;
}

function jacobian(problem: NonlinearProblem, parameters: readonly number[]): readonly (readonly number[])[] {
  const { y, model, start, scales = start, partials } = problem;
  const rows = Array.from(y, (_, row) =>
    partials ? partials(parameters, row) : numericalPartials((p) => model(p, row), parameters, scales),
  );
  return parameters.map((_, j) => rows.map((row) => row[j]!));
}

function relativeSize(delta: readonly number[], parameters: readonly number[]): number {
  return Math.max(...delta.map((d, j) => Math.abs(d) / (Math.abs(parameters[j]!) + 1e-300)));
}

function checkProblem({ where, y, start, scales = start, partials }: NonlinearProblem): void {
  if (!(start.length >= 1 && y.length >= start.length)) {
    throw new MeasurementError(
      "design",
      `${where}: ${counted(y.length, "reading")} for ${counted(start.length, "parameter")}; give at least as many readings as parameters`,
    );
  }
  const bad = Array.from(y).findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    throw new MeasurementError(
      "not-finite",
      `${where}: row ${bad + 1} holds ${y[bad]}; leave the row out if it was not measured`,
    );
  }
  const zero = start.findIndex((_, j) => !(Math.abs(scales[j]!) > 0 && Number.isFinite(scales[j])));
  if (zero < 0 || partials) return;
  throw new MeasurementError(
    "start",
    `${where}: parameter ${zero + 1} starts at ${start[zero]} and has no size; give scales, a start that is not 0, or the partial derivatives`,
  );
}
