import { MeasurementError } from "../measurement-error.js";
import { fUpperTail, type LeastSquares, leastSquares } from "../numerics/index.js";
import { type Difference, display, type Kind, type Length, type MimeBundle, Quantity, um } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { Input, input, Measured } from "../uncertainty/index.js";
import { referenceInputs } from "./length-reference.js";
import { type PeriodColumns, periodColumns } from "./periodic-columns.js";
import type { PositioningTest } from "./positioning-test.js";

export interface SystematicOptions {
  /** travel in one turn of the screw */
  readonly lead?: Length;
  /** travel in one turn of the motor, where it differs */
  readonly motorTurn?: Length;
  /** travel from tooth to tooth of a belt or gear */
  readonly mesh?: Length;
}

/** A deviation that comes back with every turn of something. */
export interface PeriodicError {
  readonly name: string;
  readonly period: Length;
  /** half of its whole swing */
  readonly amplitude: Length;
  readonly standardUncertainty: Length;
  /** where it is greatest, from coordinate zero on */
  readonly greatestAt: Length;
  /** chance that scatter alone makes one as large */
  readonly p: number;
}

/** What of the deviations is always the same: slope, play, what comes back with the screw, and the drift of the test. */
export class SystematicPart {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** positive where the axis goes farther than it is told */
  readonly slope: Measured<"slope">;
  /** lost motion, drift taken out */
  readonly play: Measured<"length">;
  /** how much farther on the axis stood at the end of the test than at its beginning */
  readonly drift: Measured<"length">;
  readonly periodic: readonly PeriodicError[];
  /** periods that these targets can't tell, and why */
  readonly aliased: readonly string[];
  /** standard deviation of what is left at the targets, the scatter of the runs included */
  readonly remainder: Length;
  readonly notes: readonly string[];

  /** @internal made by `systematicPart` */
  constructor(
    readonly test: PositioningTest,
    options: SystematicOptions,
  ) {
    const fit = fitOf(test, periodColumns(test.targetsMm, periodsOf(options)));
    const { told, solution, local, whole } = fit;
    const group = {};
    const coefficient = (k: number, { variance, degreesOfFreedom }: Spread) => ({
      value: solution.coefficients[k]!,
      u: Math.sqrt(variance * solution.covarianceFactor[k]![k]!),
      degreesOfFreedom,
    });
    const [slope, play, drift] = [coefficient(1, whole), coefficient(2, local), coefficient(3, local)];
    const slopeInput = scatterInput("slope", slope.u * 1e-6, slope.degreesOfFreedom, group);
    this.slope = Measured.of(Quantity.fromSi("slope", slope.value * 1e-6), [
      { input: slopeInput, sensitivity: 1 },
      ...referenceInputs(test.reference).map((made) => ({ input: made, sensitivity: 1 })),
    ]);
    this.play = Measured.of(
      um(-play.value),
      [scatterInput("length", play.u * 1e-6, play.degreesOfFreedom, group), ...gaugeInputsOf(test)].map((made) => ({
        input: made,
        sensitivity: 1,
      })),
    );
    this.drift = Measured.of(um(drift.value), [
      { input: scatterInput("length", drift.u * 1e-6, drift.degreesOfFreedom, group), sensitivity: 1 },
    ]);
    this.periodic = told.map((columns, k) => periodicOf(columns, solution, 4 + 2 * k, whole));
    this.aliased = fit.columns.flatMap(({ aliased }) => (aliased === "" ? [] : [aliased]));
    this.remainder = um(solution.residualStandardDeviation);
    this.notes = [
      ...this.aliased,
      fit.timed ? "" : "no times are given: drift is taken as even over the order of the readings",
      periodsOf(options).length === 0 ? "no lead is given: periodic error was not looked for" : "",
    ].filter((line) => line !== "");
    Object.freeze(this);
  }

  /** Steps per millimetre that take the slope out, with their uncertainty. */
  newStepsPerMm(stepsPerMm: number): Measured<"number"> {
    if (!(stepsPerMm > 0 && Number.isFinite(stepsPerMm))) {
      throw new MeasurementError(
        "steps",
        `newStepsPerMm: ${stepsPerMm} steps per mm; give the number that the control has now, above zero`,
      );
    }
    const value = stepsPerMm / (1 + this.slope.value.si);
    const factor = -value / (1 + this.slope.value.si);
    return Measured.of(
      Quantity.fromSi("number", value),
      this.slope.terms.map((term) => ({ ...term, sensitivity: term.sensitivity * factor })),
    );
  }

  toString(): string {
    const periodic = this.periodic.map(
      ({ name, amplitude, standardUncertainty, p }) =>
        `${name} ± ${amplitude.in("um").toFixed(1)} µm (u = ${standardUncertainty.in("um").toFixed(1)} µm, ${p < 0.01 ? "certain beyond 99 %" : `scatter alone gives as much with a chance of ${printNumber(p, 2)}`})`,
    );
    return [
      `${this.test.name}: slope ${this.slope}`,
      `play ${this.play}`,
      `drift over the test ${this.drift}`,
      ...periodic,
      `left ${this.remainder.in("um").toFixed(1)} µm (one standard deviation)`,
      ...this.aliased,
    ].join("; ");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * The systematic part of a positioning test by least squares on all readings: constant, slope, play, even drift in time, and a wave
 * for each period. The doubt of slope and waves is taken from what the targets leave, where that is more than the scatter of the runs.
 *
 * @throws MeasurementError `period` for a period that is no length above zero, `too-few-targets` for fewer than three
 * @see harmonic least squares with an F test of each pair of coefficients, JCGM 100:2008, H.3 (line fits)
 * @example
 * const readings = [1, 2, 3].flatMap((run) => [
 *   ...[0, 41, 83, 120].map((at) => ({ target: mm(at), direction: "up", run, deviation: um(at / 10) })),
 *   ...[120, 83, 41, 0].map((at) => ({ target: mm(at), direction: "down", run, deviation: um(at / 10 + 9) })),
 * ]);
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
 * const test = axis.positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "blocks" } });
 * axis.systematicPart(test).slope.in("um/m").toFixed(0) // => "100"
 */
export function systematicPart(test: PositioningTest, options: SystematicOptions = {}): SystematicPart {
  if (test.targetsMm.length < 3) {
    throw new MeasurementError(
      "too-few-targets",
      `systematicPart: ${test.targetsMm.length} targets; a slope and what is left of it need three at least`,
    );
  }
  return new SystematicPart(test, options);
}

interface Spread {
  readonly variance: number;
  readonly degreesOfFreedom: number;
}

function fitOf(test: PositioningTest, columns: readonly PeriodColumns[]) {
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
  const local = { variance: solution.residualStandardDeviation ** 2, degreesOfFreedom: solution.degreesOfFreedom };
  return { columns, told, timed, solution, local, whole: wholeOf(test, numbers, solution, 2 + 2 * told.length) };
}

/** the spread that slope and waves rest on: what each target leaves as a whole, where that exceeds the scatter */
function wholeOf(test: PositioningTest, numbers: readonly number[], fit: LeastSquares, used: number): Spread {
  const count = test.targetsMm.length;
  const local = { variance: fit.residualStandardDeviation ** 2, degreesOfFreedom: fit.degreesOfFreedom };
  if (count - used < 1) return local;
  const sums = new Array<number>(count).fill(0);
  fit.residuals.forEach((residual, i) => {
    sums[numbers[i]!] = sums[numbers[i]!]! + residual;
  });
  const each = test.readings.length / count;
  const variance = sums.reduce((sum, total) => sum + total ** 2 / each, 0) / (count - used);
  return variance > local.variance ? { variance, degreesOfFreedom: count - used } : local;
}

function periodicOf({ name, periodMm }: PeriodColumns, fit: LeastSquares, k: number, spread: Spread): PeriodicError {
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
    greatestAt: um(1000 * periodMm * (turn < 0 ? turn + 1 : turn)),
    p: fUpperTail(wald, 2, spread.degreesOfFreedom),
  };
}

function periodsOf({ lead, motorTurn, mesh }: SystematicOptions) {
  return [
    ["turn of the screw", lead],
    ["turn of the motor", motorTurn],
    ["tooth mesh", mesh],
  ].flatMap(([name, given]) => {
    if (given === undefined) return [];
    const period = given as Length;
    if (period instanceof Quantity && period.si > 0) return [{ name: name as string, periodMm: period.in("mm") }];
    throw new MeasurementError(
      "period",
      `systematicPart: ${name} is ${String(given)}; give the travel of one, such as mm(5)`,
    );
  });
}

function scatterInput<K extends "length" | "slope">(
  kind: K,
  u: number,
  degreesOfFreedom: number,
  group: object,
): Input<K> {
  const spread: Quantity<Kind> = Quantity.fromSi<Kind>(kind, Math.max(u, 1e-15));
  return new Input<K>({
    label: "scatter about the fit",
    estimate: Quantity.fromSi(kind, 0),
    standardUncertainty: spread as Quantity<Difference<K>>,
    distribution: "t",
    degreesOfFreedom,
    evaluation: "A",
    source: "least squares on all readings",
    group,
  });
}

function gaugeInputsOf({ gauge }: PositioningTest): readonly Input<"length">[] {
  const { name, maximumPermissibleError, hysteresis } = gauge;
  const half = (label: string, halfWidth: Length, source: string) =>
    input.rectangular({ label: `${name}, ${label}`, estimate: um(0), halfWidth, source });
  return [
    half("maximum permissible error", maximumPermissibleError, "on the difference of the two directions"),
    ...(hysteresis && hysteresis.si > 0
      ? [half("hysteresis", hysteresis, "the two directions push the plunger opposite ways")]
      : []),
  ];
}
