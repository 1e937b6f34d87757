import { meanAndDeviation } from "../numerics/index.js";
import { um } from "../quantity/index.js";
import { stepOf } from "../survey/index.js";
import { type AnyInput, type Input, input, type Term } from "../uncertainty/index.js";
import { referenceInputs } from "./length-reference.js";
import type { PositioningFigures } from "./positioning-figures.js";
import type { PositioningTest } from "./positioning-test.js";
import { type AxisFigure, simulateTests } from "./simulated-tests.js";

/** What the figures of a test are uncertain by: made once, shared by all of them. */
export interface PositioningDoubt {
  /** scatter of one reading, pooled over targets and directions */
  readonly scatterUm: number;
  readonly degreesOfFreedom: number;
  /** no scatter below half a step is believed */
  readonly belowStep: boolean;
  readonly stepUm: number;
  /** how much the axis as a whole moved from one run to the next, by a line through the run means */
  readonly driftPerRunUm: number;
  readonly gauge: readonly Input<"length">[];
  readonly hysteresis: Input<"length"> | undefined;
  readonly drift: Input<"length"> | undefined;
  readonly scale: readonly Input<"slope">[];
  /** how far each figure would come out otherwise in another test of the same axis */
  readonly scatterOf: { readonly [F in AxisFigure]: Input<"length"> };
}

export function positioningDoubt(test: PositioningTest, found: PositioningFigures, seed: number): PositioningDoubt {
  const spreads = [...found.deviationUp, ...found.deviationDown];
  const nu = test.runs - 1;
  const pooled = Math.sqrt(spreads.reduce((sum, s) => sum + s * s, 0) / spreads.length);
  const stepUm = stepOf(test.gauge).in("um");
  const belowStep = pooled < stepUm / 2;
  const scatterUm = Math.max(pooled, stepUm / Math.sqrt(12));
  const group = {};
  const scatterOf = scatterInputs(test, found, shrunken(spreads, nu, stepUm), { seed, stepUm, belowStep, group });
  const driftPerRunUm = runDrift(test);
  const half = Math.abs(driftPerRunUm) / 2;
  const { maximumPermissibleError, hysteresis } = test.gauge;
  return {
    scatterUm,
    degreesOfFreedom: spreads.length * nu,
    belowStep,
    stepUm,
    driftPerRunUm,
    gauge: [
      limits(
        `${test.gauge.name}, maximum permissible error`,
        maximumPermissibleError.in("um"),
        "over the range used, on any difference of two readings",
      ),
    ],
    hysteresis:
      hysteresis && hysteresis.si > 0
        ? limits(
            `${test.gauge.name}, hysteresis`,
            hysteresis.in("um"),
            "the two directions push the plunger opposite ways",
          )
        : undefined,
    drift:
      half > 0 ? limits("drift within a run", half, "half of what the run means move by from run to run") : undefined,
    scale: referenceInputs(test.reference),
    scatterOf,
  };
}

/** the terms of a figure that is a difference of deviations `spanM` metres apart */
export function doubtTerms(
  doubt: PositioningDoubt,
  figure: AxisFigure,
  spanM: number,
  acrossDirections: boolean,
): Term[] {
  const difference: readonly (AnyInput | undefined)[] = [
    ...doubt.gauge,
    acrossDirections ? doubt.hysteresis : undefined,
    doubt.drift,
  ];
  return [
    { input: doubt.scatterOf[figure], sensitivity: 1 },
    ...difference.flatMap((made) => (made === undefined ? [] : [{ input: made, sensitivity: 1 }])),
    ...doubt.scale.map((made) => ({ input: made, sensitivity: spanM })),
  ];
}

/** s of each cell drawn towards the pooled one as far as they differ by no more than chance */
function shrunken(spreads: readonly number[], nu: number, stepUm: number): Float64Array {
  const variances = spreads.map((s) => s * s);
  const { mean, deviation } = meanAndDeviation(variances);
  const byChance = 2 / nu;
  const seen = mean > 0 ? (deviation / mean) ** 2 : 0;
  const real = Math.max(0, (seen - byChance) / (1 + byChance));
  const kept = real / (real + byChance);
  const floor = stepUm ** 2 / 12;
  return Float64Array.from(variances, (v) => Math.sqrt(Math.max(mean + kept * (v - mean), floor)));
}

function scatterInputs(
  test: PositioningTest,
  found: PositioningFigures,
  spreadsUm: Float64Array,
  terms: { seed: number; stepUm: number; belowStep: boolean; group: object },
): PositioningDoubt["scatterOf"] {
  const simulated = simulateTests({
    meansUm: [...found.meanUp, ...found.meanDown],
    spreadsUm,
    runs: test.runs,
    stepUm: 0,
    trials: 400,
    seed: terms.seed,
  });
  const degreesOfFreedom = spreadsUm.length * (test.runs - 1);
  const made = Object.entries(simulated).map(([name, { deviation }]) => {
    // below half a step runs do not average the rounding out: a difference of two means keeps both
    const least = terms.belowStep ? terms.stepUm / Math.sqrt(6) : 0;
    const standardUncertainty = um(Math.max(deviation, least, 1e-9));
    const label = "scatter of the runs";
    const source = `${test.runs} runs each way at ${test.targetsMm.length} targets, simulated`;
    return [name, input.t({ label, estimate: um(0), standardUncertainty, degreesOfFreedom, source })] as const;
  });
  return Object.fromEntries(made) as PositioningDoubt["scatterOf"];
}

/** slope of the run means over the number of the run, in µm a run */
function runDrift(test: PositioningTest): number {
  const runs = [...new Set(test.readings.map(({ run }) => run))];
  const means = runs.map((run) => {
    const own = test.readings.filter((reading) => reading.run === run);
    return own.reduce((sum, { deviationUm }) => sum + deviationUm, 0) / own.length;
  });
  const middle = (runs.length - 1) / 2;
  const squares = runs.reduce((sum, _, i) => sum + (i - middle) ** 2, 0);
  return means.reduce((sum, mean, i) => sum + (i - middle) * mean, 0) / squares;
}

function limits(label: string, halfUm: number, source: string): Input<"length"> {
  return input.rectangular({ label, estimate: um(0), halfWidth: um(halfUm), source });
}
