import { randomStream } from "../numerics/index.js";
import { type Length, um } from "../quantity/index.js";
import { figuresOf, type PositioningFigures } from "./positioning-figures.js";

/** The figures of a test that are one number for the axis. */
export const axisFigures = [
  "reversal",
  "meanReversal",
  "systematicUp",
  "systematicDown",
  "systematic",
  "meanDeviation",
  "repeatabilityUp",
  "repeatabilityDown",
  "repeatability",
  "accuracyUp",
  "accuracyDown",
  "accuracy",
] as const;
export type AxisFigure = (typeof axisFigures)[number];

export interface SimulatedTests {
  /** in µm, up before down */
  readonly meansUm: ArrayLike<number>;
  readonly spreadsUm: ArrayLike<number>;
  readonly runs: number;
  /** readings are rounded to this; 0 for no rounding */
  readonly stepUm: number;
  readonly trials: number;
  readonly seed: number;
}

/** Mean and scatter of each figure over tests drawn again and again, in µm. */
export function simulateTests(law: SimulatedTests): {
  readonly [F in AxisFigure]: { readonly mean: number; readonly deviation: number };
} {
  const { normal } = randomStream(law.seed, 230);
  const cells = law.meansUm.length;
  const means = new Float64Array(cells);
  const spreads = new Float64Array(cells);
  const sums = axisFigures.map(() => ({ first: 0, sum: 0, squares: 0 }));
  const read = (value: number) => (law.stepUm > 0 ? law.stepUm * Math.round(value / law.stepUm) : value);
  for (let trial = 0; trial < law.trials; trial++) {
    for (let c = 0; c < cells; c++) {
      let [sum, squares] = [0, 0];
      const centre = law.meansUm[c]!;
      for (let run = 0; run < law.runs; run++) {
        const off = read(centre + law.spreadsUm[c]! * normal()) - centre;
        sum += off;
        squares += off * off;
      }
      means[c] = centre + sum / law.runs;
      spreads[c] = Math.sqrt(Math.max(squares - (sum * sum) / law.runs, 0) / (law.runs - 1));
    }
    add(sums, figuresOf(means, spreads, cells / 2), trial);
  }
  return Object.fromEntries(
    axisFigures.map((name, k) => {
      const { first, sum, squares } = sums[k]!;
      const variance = (squares - (sum * sum) / law.trials) / (law.trials - 1);
      return [name, { mean: first + sum / law.trials, deviation: Math.sqrt(Math.max(variance, 0)) }];
    }),
  ) as ReturnType<typeof simulateTests>;
}

function add(sums: { first: number; sum: number; squares: number }[], found: PositioningFigures, trial: number): void {
  axisFigures.forEach((name, k) => {
    const held = sums[k]!;
    if (trial === 0) held.first = found[name];
    const off = found[name] - held.first;
    held.sum += off;
    held.squares += off * off;
  });
}

/** What a perfect axis would show: nothing but the scatter of its readings. */
export interface PerfectAxis {
  readonly accuracy: Length;
  readonly repeatability: Length;
  readonly systematic: Length;
  readonly reversal: Length;
}

/**
 * The figures that a perfect axis would be given on average, for the scatter and the step of its readings: simulated, seeded.
 * A measured axis cannot be told from a perfect one below these.
 *
 * @param terms number of targets and runs, `standardDeviation` of one reading, `step` that is read to (none unless given)
 * @example
 * axis.perfectAxis({ targets: 10, runs: 5, standardDeviation: um(1) }).repeatability.in("um").toFixed(0) // => "7"
 */
export function perfectAxis(terms: {
  readonly targets: number;
  readonly runs: number;
  readonly standardDeviation: Length;
  readonly step?: Length;
  readonly seed?: number;
}): PerfectAxis {
  const { targets, runs, standardDeviation, step, seed = 1 } = terms;
  const { uniform } = randomStream(seed, 231);
  const stepUm = step?.in("um") ?? 0;
  // where between two steps a target lies is chance
  const offsets = Array.from({ length: targets }, () => stepUm * (uniform() - 0.5));
  const found = simulateTests({
    meansUm: [...offsets, ...offsets],
    spreadsUm: new Float64Array(2 * targets).fill(standardDeviation.in("um")),
    runs,
    stepUm,
    trials: 2000,
    seed,
  });
  return {
    accuracy: um(found.accuracy.mean),
    repeatability: um(found.repeatability.mean),
    systematic: um(found.systematic.mean),
    reversal: um(found.reversal.mean),
  };
}
