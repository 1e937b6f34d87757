import { summariseSample } from "../numerics/index.js";
import type { Kind } from "../quantity/index.js";
import type { AnyInput } from "./input.js";
import type { Term } from "./measured.js";
import { type FirstOrder, MonteCarlo, type SimulationFacts } from "./monte-carlo.js";
import { hasNoSpread, tolerance } from "./monte-carlo-check.js";
import { histogramOf } from "./monte-carlo-histogram.js";
import type { ProgressMaker } from "./trial-progress.js";
import { type BlockSummary, checkPlan, runTrials, type TrialModel, type TrialPlan } from "./trials.js";

/** What a simulation is asked for. */
export interface SimulationOptions {
  /** a whole number; the same seed gives the same figures */
  readonly seed: number;
  /** so many; left out: as many as make the figures stable, 2 000 000 at most */
  readonly trials?: number;
  /** significant digits of u that are to be stable: 2, or 1 */
  readonly digits?: 1 | 2;
}

/** a budget of any kind as a simulation takes it */
export interface Simulable {
  readonly measurand: string;
  readonly terms: readonly Term[];
  readonly bases: readonly AnyInput[];
  readonly overTrials: TrialModel;
}

const mostTrials = 2_000_000;

/** Propagates the laws of the inputs through the model of a budget. */
export function simulate<K extends Kind>(
  budget: Simulable & FirstOrder<K>,
  options: SimulationOptions,
  progress?: ProgressMaker,
): MonteCarlo<K> {
  return simulateAll([budget], options, progress, ([values], facts) => resultOf(budget, values!, facts));
}

/** one output of a simulation */
export function resultOf<K extends Kind>(
  budget: FirstOrder<K>,
  values: Float64Array,
  facts: SimulationFacts,
): MonteCarlo<K> {
  const summary = summariseSample(values);
  return new MonteCarlo(budget, histogramOf(values, summary), summary, facts);
}

/**
 * Propagates the laws of the inputs through several models at once, what they share drawn once.
 *
 * @param use takes the simulated values of each budget, lent for that time
 */
export function simulateAll<T>(
  budgets: readonly Simulable[],
  { seed, trials, digits = 2 }: SimulationOptions,
  makeProgress: ProgressMaker | undefined,
  use: (values: readonly Float64Array[], facts: SimulationFacts) => T,
): T {
  const names = budgets.map(({ measurand }) => measurand).join(", ");
  checkPlan(`simulate "${names}"`, seed, trials);
  let settled: boolean | undefined = trials === undefined ? false : undefined;
  const needed = (blocks: readonly (readonly BlockSummary[])[]) => {
    const counts = budgets.map(({ terms }, k) => blocksUntilStable(blocks[k]!, digits, hasNoSpread(terms)));
    settled = counts.every((count, k) => count <= blocks[k]!.length);
    return Math.max(...counts);
  };
  const bases = [...new Set(budgets.flatMap((budget) => budget.bases))];
  const plan: TrialPlan = {
    bases,
    models: budgets.map((budget) => onRowsOf(budget, bases)),
    seed,
    trials,
    limit: mostTrials,
    blocksNeeded: needed,
    progress: makeProgress?.(trials ?? mostTrials, `simulating ${names}`),
  };
  return runTrials(plan, (values) => use(values, { seed, digits, settled }));
}

/** the model of a budget on a table of shifts that holds other inputs too */
function onRowsOf({ bases: own, overTrials }: Simulable, bases: readonly AnyInput[]): TrialModel {
  if (own.length === bases.length && own.every((input, k) => input === bases[k])) return overTrials;
  const rows = own.map((input) => bases.indexOf(input));
  let table = new Float64Array(0);
  return (shifts, size, out) => {
    if (table.length !== own.length * size) table = new Float64Array(own.length * size);
    rows.forEach((row, k) => {
      table.set(shifts.subarray(row * size, (row + 1) * size), k * size);
    });
    overTrials(table, size, out);
  };
}

/**
 * Blocks until twice the standard deviation of the average of each figure is within the tolerance: no more than there
 * are when it is so already, else an estimate, for that standard deviation falls with the root of their number.
 *
 * @see JCGM 101:2008, 7.9.4
 */
export function blocksUntilStable(blocks: readonly BlockSummary[], digits: number, spreadless: boolean): number {
  if (blocks.length < 2) return 2;
  const average = (of: (block: BlockSummary) => number) => blocks.reduce((sum, b) => sum + of(b), 0) / blocks.length;
  const u = spreadless
    ? average(({ low, high }) => (high - low) / 4)
    : Math.sqrt(average(({ standardDeviation }) => standardDeviation ** 2));
  const limit = tolerance(u, digits);
  const needed = (of: (block: BlockSummary) => number) => {
    const mean = average(of);
    const squares = blocks.reduce((sum, b) => sum + (of(b) - mean) ** 2, 0);
    const twice = 2 * Math.sqrt(squares / (blocks.length * (blocks.length - 1)));
    if (twice <= limit) return blocks.length;
    const estimate = Math.ceil(blocks.length * (twice / limit) ** 2);
    return estimate > blocks.length ? estimate : blocks.length + 1;
  };
  const ends = [needed(({ low }) => low), needed(({ high }) => high)];
  if (spreadless) return Math.max(...ends);
  return Math.max(
    ...ends,
    needed(({ mean }) => mean),
    needed(({ standardDeviation }) => standardDeviation),
  );
}
