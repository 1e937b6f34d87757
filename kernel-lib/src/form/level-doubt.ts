import { fQuantile } from "../numerics/index.js";
import { plain, type Slope, umPerM } from "../quantity/index.js";
import { Input, input, type Term } from "../uncertainty/index.js";
import { readingName } from "./level-blunders.js";
import type { LevelSurvey } from "./level-reading.js";
import type { LevelSolution } from "./level-solution.js";

/** How far one reading of the level scatters. */
export interface ReadingSpread {
  readonly standardDeviation: Slope;
  readonly degreesOfFreedom: number;
  readonly source: string;
}

/** From what the readings have over, a trial of the level, or what its maker allows; not below what its resolution allows. */
export function spreadOf({ instrument }: LevelSurvey, { squares, degreesOfFreedom: nu }: LevelSolution): ReadingSpread {
  const floor = instrument.resolution.in("um/m") / Math.sqrt(12);
  const { repeatability: trial } = instrument;
  const seen = nu > 0 ? Math.sqrt(squares / nu) : 0;
  const found = trial ? beside(seen, nu, trial) : { seen, nu, source: "residuals of the network" };
  if (found.nu > 0 && found.seen > floor) {
    return { standardDeviation: umPerM(found.seen), degreesOfFreedom: found.nu, source: found.source };
  }
  const isBlind = found.nu === 0;
  const allowed = isBlind ? instrument.maximumPermissibleError.in("um/m") / Math.sqrt(3) : 0;
  return {
    standardDeviation: umPerM(Math.hypot(floor, allowed)),
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    source: isBlind
      ? "resolution and maximum permissible error of the level: no reading is left over to show the scatter"
      : "resolution of the level",
  };
}

type Trial = { readonly standardDeviation: Slope; readonly degreesOfFreedom: number };

interface Found {
  readonly seen: number;
  readonly nu: number;
  readonly source: string;
}

/** the residuals beside a trial: pooled where they are no larger than it explains, all but once in a hundred */
function beside(seen: number, nu: number, { standardDeviation, degreesOfFreedom }: Trial): Found {
  const stated = standardDeviation.in("um/m");
  if (nu > 0 && (seen / stated) ** 2 > fQuantile(0.99, nu, Math.min(degreesOfFreedom, 1e9))) {
    return { seen, nu, source: "residuals of the network, which are more than the trial of the level explains" };
  }
  if (nu === 0 || !Number.isFinite(degreesOfFreedom)) {
    return { seen: stated, nu: degreesOfFreedom, source: "trial of the level" };
  }
  const sum = nu + degreesOfFreedom;
  return {
    seen: Math.sqrt((nu * seen ** 2 + degreesOfFreedom * stated ** 2) / sum),
    nu: sum,
    source: "residuals of the network and the trial of the level",
  };
}

/** The inputs that all results of one network share. */
export class LevelDoubt {
  private readonly readings: readonly Input<"slope">[];
  /** error of the scale of the level, a share of every height; missing where its maker allows none */
  readonly scale: Input<"number"> | undefined;

  constructor(
    survey: LevelSurvey,
    private readonly solution: LevelSolution,
    readonly spread: ReadingSpread,
  ) {
    const group = {};
    this.readings = survey.readings.map(
      (reading, k) =>
        new Input({
          label: `reading ${k + 1}, ${readingName(reading)}`,
          estimate: umPerM(0),
          standardUncertainty: spread.standardDeviation,
          distribution: "normal",
          degreesOfFreedom: spread.degreesOfFreedom,
          evaluation: "A",
          source: spread.source,
          group,
        }),
    );
    this.scale = scaleInput(survey, solution);
    this.zeroTerms = typeof survey.zero === "object" ? survey.zero.terms : [];
  }

  private readonly zeroTerms: readonly Term[];

  /** Terms of Σ weight × height, per metre of it. */
  termsOf(weights: readonly number[], valueSi: number): Term[] {
    const effects = this.effectsOf(weights);
    const whole = -effects.reduce((s, v) => s + v, 0);
    return [
      ...this.readings.map((reading, k) => ({ input: reading, sensitivity: effects[k]! })),
      ...(this.scale ? [{ input: this.scale, sensitivity: valueSi }] : []),
      ...this.zeroTerms.map(({ input: zero, sensitivity }) => ({ input: zero, sensitivity: whole * sensitivity })),
    ];
  }

  /** what each reading does to Σ weight × height, µm for 1 µm/m */
  effectsOf(weights: readonly number[]): Float64Array {
    const sums = new Float64Array(this.readings.length);
    weights.forEach((w, i) => {
      if (w === 0) return;
      const gain = this.solution.gain[i]!;
      for (let k = 0; k < sums.length; k++) sums[k] = sums[k]! + w * gain[k]!;
    });
    return sums;
  }
}

/** the maker's limit as an error of scale: reached at the largest inclination read */
function scaleInput({ instrument }: LevelSurvey, { levelledUmPerM }: LevelSolution): Input<"number"> | undefined {
  const largest = Math.max(...levelledUmPerM.map(Math.abs));
  const limit = instrument.maximumPermissibleError.in("um/m");
  if (!(limit > 0 && largest > 0)) return undefined;
  return input.rectangular({
    label: "level, error of its scale",
    estimate: plain(0),
    halfWidth: plain(Math.min(1, limit / largest)),
    source: `maximum permissible error of ${instrument.name ?? "the level"}, reached at the largest inclination read`,
  });
}
