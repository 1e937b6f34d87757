import { MeasurementError } from "../measurement-error.js";
import { type Difference, display, type Kind, type Length, type MimeBundle, Quantity, um } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { claimNote, Input, input, Measured } from "../uncertainty/index.js";
import { referenceInputs } from "./length-reference.js";
import { periodColumns } from "./periodic-columns.js";
import { type DrivePeriods, periodsOf } from "./periods.js";
import { lostMotionName } from "./positioning-notes.js";
import type { PositioningTest } from "./positioning-test.js";
import { type LeftByTargets, type PeriodicError, periodicError, type Spread, systematicFit } from "./systematic-fit.js";

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
  private readonly limits: readonly string[];
  /** @internal in µm² of one reading */
  readonly leftByTargets: LeftByTargets;
  /** @internal lost motion of each target, drift taken out */
  readonly playsUm: readonly number[];

  /** @internal made by `systematicPart` */
  constructor(
    readonly test: PositioningTest,
    options: DrivePeriods,
  ) {
    const fit = systematicFit(test, periodColumns(test.targetsMm, periodsOf(options, "systematicPart")));
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
    this.periodic = told.map((columns, k) => periodicError(columns, solution, 4 + 2 * k, whole));
    this.leftByTargets = fit.left;
    this.playsUm = fit.playsUm;
    this.aliased = fit.columns.flatMap(({ aliased }) => (aliased === "" ? [] : [aliased]));
    this.remainder = um(solution.residualStandardDeviation);
    this.limits = [
      ...this.aliased,
      fit.timed ? "" : "no times are given: drift is taken as even over the order of the readings",
      periodsOf(options, "systematicPart").length === 0 ? "no lead is given: periodic error was not looked for" : "",
    ].filter((line) => line !== "");
    Object.freeze(this);
  }

  /** What limits the figures, and where an interval holds the true value more or less often than 95 times in 100. */
  get notes(): readonly string[] {
    return [...this.limits, claimNote("slope", this.slope), claimNote(this.playName, this.play)].filter(
      (line) => line !== "",
    );
  }

  /** "play"; on a vertical axis, where the weight closes the play, what is lost as it hangs */
  get playName(): string {
    return this.test.vertical ? lostMotionName(this.test) : "play";
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
      `${this.playName} ${this.play}`,
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
export function systematicPart(test: PositioningTest, options: DrivePeriods = {}): SystematicPart {
  if (test.targetsMm.length < 3) {
    throw new MeasurementError(
      "too-few-targets",
      `systematicPart: ${test.targetsMm.length} targets; a slope and what is left of it need three at least`,
    );
  }
  return new SystematicPart(test, options);
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
