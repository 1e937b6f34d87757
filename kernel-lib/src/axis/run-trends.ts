import { fUpperTail, leastSquares } from "../numerics/index.js";
import type { PositioningTest } from "./positioning-test.js";
import type { SystematicPart } from "./systematic-part.js";

/** A change from run to run. */
export interface RunTrend {
  /** a run */
  readonly value: number;
  readonly u: number;
  readonly degreesOfFreedom: number;
}

/** How the slope of a run (µm/m) moves from run to run; needs three. A screw that warms up stretches, a stand only shifts. */
export function slopeTrend(test: PositioningTest): RunTrend | undefined {
  const runs = [...new Set(test.readings.map(({ run }) => run))];
  if (runs.length < 3) return undefined;
  const slopes = runs.map((run) => {
    const own = test.readings.filter((reading) => reading.run === run);
    const metres = own.map(({ targetMm }) => targetMm / 1000);
    const ways = own.map(({ direction }) => (direction === "up" ? 0.5 : -0.5));
    const deviations = own.map(({ deviationUm }) => deviationUm);
    return leastSquares([own.map(() => 1), metres, ways], deviations).coefficients[1]!;
  });
  const fit = leastSquares([runs.map(() => 1), runs.map((_, i) => i)], slopes);
  return {
    value: fit.coefficients[1]!,
    u: Math.max(fit.residualStandardDeviation * Math.sqrt(fit.covarianceFactor[1]![1]!), Number.MIN_VALUE),
    degreesOfFreedom: fit.degreesOfFreedom,
  };
}

/** Play target by target (µm, positive) against the scatter of the runs. */
export interface UnevenReversal {
  readonly leastUm: number;
  readonly mostUm: number;
  readonly mostAtMm: number;
  /** F test: variance of the reversals over what the scatter of the runs gives them */
  readonly chance: number;
}

export function unevenReversal({ playsUm, leftByTargets, test }: SystematicPart): UnevenReversal {
  const mean = playsUm.reduce((a, b) => a + b, 0) / playsUm.length;
  const variance = playsUm.reduce((sum, play) => sum + (play - mean) ** 2, 0) / (playsUm.length - 1);
  const { local } = leftByTargets;
  const most = playsUm.indexOf(Math.max(...playsUm));
  return {
    leastUm: Math.min(...playsUm),
    mostUm: playsUm[most]!,
    mostAtMm: test.targetsMm[most]!,
    // each play is a difference of two means
    chance: fUpperTail((variance * test.runs) / (2 * local.variance), playsUm.length - 1, local.degreesOfFreedom),
  };
}
