import { fUpperTail, type LeastSquares, leastSquares } from "../numerics/index.js";
import { type Length, um } from "../quantity/index.js";
import { stepOf } from "../survey/index.js";
import type { PeriodColumns } from "./periodic-columns.js";
import type { PositioningTest } from "./positioning-test.js";

/** A deviation that comes back with every turn of something. */
export interface PeriodicError {
  readonly name: string;
  readonly period: Length;
  /** half of its whole swing */
  readonly amplitude: Length;
  readonly standardUncertainty: Length;
  /** of that u */
  readonly degreesOfFreedom: number;
  /** where it is greatest, from coordinate zero on */
  readonly greatestAt: Length;
  /** chance that scatter alone makes one as large */
  readonly p: number;
}

/** A variance and how well it is known. */
export interface Spread {
  readonly variance: number;
  readonly degreesOfFreedom: number;
}

/** Constant, slope, play, drift and waves by least squares on all readings. */
export function systematicFit(test: PositioningTest, columns: readonly PeriodColumns[]) {
  const { readings, targetsMm } = test;
  const numbers = test.targetNumbers();
  const told = columns.filter(({ aliased }) => aliased === "");
  const middle = targetsMm.reduce((a, b) => a + b, 0) / targetsMm.length;
  const timed = readings.every(({ minutes }) => minutes !== undefined);
  const times = readings.map(({ minutes }, i) => (timed ? minutes! : i));
  const [first, last] = [Math.min(...times), Math.max(...times)];
  const design = [
    readings.map(() => 1),
    readings.map(({ targetMm }) => (targetMm - middle) / 1000),
    readings.map(({ direction }) => (direction === "up" ? 0.5 : -0.5)),
    times.map((time) => (time - first) / (last - first) - 0.5),
    ...told.flatMap(({ cos, sin }) => [numbers.map((k) => cos[k]!), numbers.map((k) => sin[k]!)]),
  ];
  const solution = leastSquares(
    design,
    readings.map(({ deviationUm }) => deviationUm),
  );
  const stepUm = stepOf(test.gauge).in("um");
  const local = {
    // no scatter below that of the rounding is believed
    variance: Math.max(solution.residualStandardDeviation ** 2, stepUm ** 2 / 12),
    degreesOfFreedom: solution.degreesOfFreedom,
  };
  const left = leftByTargets(test, numbers, solution, 2 + 2 * told.length);
  const whole = left.degreesOfFreedom >= 1 && left.variance > local.variance ? left : local;
  return { columns, told, timed, solution, local, left, whole, playsUm: playsOf(test, numbers, solution) };
}

/** play target by target, the drift between its two directions taken out */
function playsOf(test: PositioningTest, numbers: readonly number[], fit: LeastSquares): readonly number[] {
  const play = -fit.coefficients[2]!;
  const left = test.targetsMm.map(() => 0);
  fit.residuals.forEach((residual, i) => {
    left[numbers[i]!] = left[numbers[i]!]! + (test.readings[i]!.direction === "up" ? residual : -residual);
  });
  return left.map((sum) => play - sum / test.runs);
}

/** What the targets leave as wholes, and the scatter of the readings about them. */
export interface LeftByTargets extends Spread {
  readonly local: Spread;
}

/** the spread that slope and waves rest on: what each target leaves as a whole, where that exceeds the scatter */
function leftByTargets(
  test: PositioningTest,
  numbers: readonly number[],
  fit: LeastSquares,
  used: number,
): LeftByTargets {
  const count = test.targetsMm.length;
  const sums = new Array<number>(count).fill(0);
  fit.residuals.forEach((residual, i) => {
    sums[numbers[i]!] = sums[numbers[i]!]! + residual;
  });
  const each = test.readings.length / count;
  const squares = sums.reduce((sum, total) => sum + total ** 2 / each, 0);
  const degreesOfFreedom = count - used;
  const rest = fit.degreesOfFreedom - Math.max(0, degreesOfFreedom);
  const pure = Math.max(0, fit.residualSumOfSquares - squares) / rest;
  const stepUm = stepOf(test.gauge).in("um");
  // below half a step the rounding of a target is the same in every run and does not average out
  const least = (stepUm ** 2 / 12) * (pure < stepUm ** 2 / 4 ? test.runs : 1);
  return {
    variance: degreesOfFreedom < 1 ? 0 : squares / degreesOfFreedom,
    degreesOfFreedom,
    local: { variance: Math.max(pure, least), degreesOfFreedom: rest },
  };
}

/** One wave of the fit. */
export function periodicError(
  { name, periodMm }: PeriodColumns,
  fit: LeastSquares,
  k: number,
  spread: Spread,
): PeriodicError {
  const [a, b] = [fit.coefficients[k]!, fit.coefficients[k + 1]!];
  const [aa, ab, bb] = [
    fit.covarianceFactor[k]![k]!,
    fit.covarianceFactor[k]![k + 1]!,
    fit.covarianceFactor[k + 1]![k + 1]!,
  ];
  const amplitude = Math.hypot(a, b);
  const wald = (a * a * bb - 2 * a * b * ab + b * b * aa) / (aa * bb - ab * ab) / (2 * spread.variance);
  const along = (a * a * aa + 2 * a * b * ab + b * b * bb) / Math.max(amplitude ** 2, Number.MIN_VALUE);
  const turn = Math.atan2(b, a) / (2 * Math.PI);
  return {
    name,
    period: um(1000 * periodMm),
    amplitude: um(amplitude),
    standardUncertainty: um(Math.sqrt(spread.variance * along)),
    degreesOfFreedom: spread.degreesOfFreedom,
    greatestAt: um(1000 * periodMm * (turn < 0 ? turn + 1 : turn)),
    p: fUpperTail(wald, 2, spread.degreesOfFreedom),
  };
}
