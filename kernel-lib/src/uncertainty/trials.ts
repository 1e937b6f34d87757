import { MeasurementError } from "../measurement-error.js";
import { summariseSample } from "../numerics/index.js";
import { momentsOfSample } from "../numerics/sample.js";
import { withWorkArray } from "../numerics/work-array.js";
import type { AnyInput } from "./input.js";
import { LawColumns } from "./law-columns.js";

/** A model over many trials: row k of `shifts` (rows of `size`) holds the SI shifts of input k; `out` takes one SI value
 * a trial. */
export type TrialModel = (shifts: WorkColumn, size: number, out: WorkColumn) => void;

/** Numbers that are lent for one block and used again for the next. */
export interface WorkColumn {
  readonly length: number;
  [place: number]: number;
  subarray(from: number, to: number): WorkColumn;
}

/** Where a longer simulation says how far it is; a `tick` may throw to stop it. */
export interface TrialProgress {
  tick(count: number): void;
  /** how many there will be, where that is learnt on the way */
  expect?(total: number): void;
  done(): void;
}

export interface TrialPlan {
  /** independent inputs, each once */
  readonly bases: readonly AnyInput[];
  /** one model an output, all of the same inputs */
  readonly models: readonly TrialModel[];
  readonly seed: number;
  /** so many, or as many as it takes up to `limit` */
  readonly trials: number | undefined;
  readonly limit: number;
  /** blocks that will be enough, judged by the block summaries of each output so far */
  readonly blocksNeeded: (blocks: readonly (readonly BlockSummary[])[]) => number;
  readonly progress?: TrialProgress | undefined;
}

/** One output over one block. */
export interface BlockSummary {
  readonly mean: number;
  readonly standardDeviation: number;
  readonly low: number;
  readonly high: number;
}

/** trials in a block, as JCGM 101, 7.9.4 b) has it for 95 % */
export const blockTrials = 10_000;
/** trials drawn and computed together: what stays in the processor's own memory */
const columnTrials = 2000;

/**
 * Runs trials block by block, block b from the stream (seed, b), and gives all values of each output to `use`; they are
 * lent for that time.
 */
export function runTrials<T>(plan: TrialPlan, use: (values: readonly Float64Array[]) => T): T {
  const { models, seed, trials, limit, progress } = plan;
  const most = trials ?? limit;
  const columns = new LawColumns(plan.bases, columnTrials);
  const shifts = new Float64Array(plan.bases.length * columnTrials);
  return withWorkArray(models.length * most, (work) => {
    const all = models.map((_, m) => work.subarray(m * most, (m + 1) * most));
    const blocks: BlockSummary[][] = models.map(() => []);
    let made = 0;
    while (made < most) {
      const end = Math.min(made + blockTrials, most);
      columns.start(seed, Math.floor(made / blockTrials));
      for (let from = made; from < end; from += columnTrials) {
        const count = Math.min(columnTrials, end - from);
        columns.fill(shifts, count);
        models.forEach((model, m) => {
          model(shifts, columnTrials, all[m]!.subarray(from, from + count));
        });
      }
      progress?.tick(end - made);
      if (trials === undefined) {
        all.forEach((values, m) => {
          blocks[m]!.push(summaryOf(values.subarray(made, end)));
        });
      }
      made = end;
      if (trials !== undefined) continue;
      const needed = plan.blocksNeeded(blocks);
      if (needed <= blocks[0]!.length) break;
      progress?.expect?.(Math.min(needed * blockTrials, most));
    }
    progress?.done();
    return use(all.map((values) => values.subarray(0, made)));
  });
}

function summaryOf(values: Float64Array): BlockSummary {
  const { mean, standardDeviation, symmetric } = summariseSample(values);
  return { mean, standardDeviation, low: symmetric[0], high: symmetric[1] };
}

/** covariance of two outputs over the same trials */
export function covarianceOfSamples(a: Float64Array, b: Float64Array): number {
  const [first, second] = [momentsOfSample(a).mean, momentsOfSample(b).mean];
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i]! - first) * (b[i]! - second);
  return sum / (a.length - 1);
}

/** @throws MeasurementError `seed`, `trials` */
export function checkPlan(where: string, seed: unknown, trials: number | undefined): void {
  if (!(typeof seed === "number" && Number.isSafeInteger(seed) && seed >= 0)) {
    throw new MeasurementError(
      "seed",
      `${where}: ${seed === undefined ? "no seed was given" : `the seed is ${String(seed)}`}; give a whole number, as in { seed: 1 }, so that anyone can repeat the figures`,
    );
  }
  if (trials === undefined || (Number.isInteger(trials) && trials >= 1000 && trials <= 20_000_000)) return;
  throw new MeasurementError(
    "trials",
    `${where}: ${trials} trials; give a whole number from 1000 to 20 000 000, or leave it out and as many are made as the figures need`,
  );
}
