import { meanOf, standardDeviationOf } from "../facing/draws.js";
import { isotonicFit } from "../numerics/isotonic.js";

/** One thing that could be done: what it costs in each draw, and what another look would show of it. */
export interface Choice {
  /** cost, one a draw */
  readonly costs: readonly number[];
  /** what the look would show, one a draw: the higher, the dearer. Missing where it would show nothing. */
  readonly signals?: readonly number[];
}

/** A mean over draws, and how well so many draws know it. */
export interface DrawnMean {
  readonly mean: number;
  readonly standardError: number;
}

export interface WorthOfLooking {
  /** index of the choice with the least expected cost as things stand */
  readonly best: number;
  readonly expected: readonly DrawnMean[];
  /** expected saving by choosing after the look, what the look costs not taken off */
  readonly look: DrawnMean;
  /** expected saving if all were known: no look can be worth more */
  readonly certainty: DrawnMean;
  /** share of the draws in which the look changes the choice */
  readonly changes: number;
}

const folds = 5;

/**
 * Expected value of sample information by simulation: what choosing after one more look saves on the average.
 *
 * What a look tells of the cost of each choice is learnt from the draws themselves by a line that never falls (cost against what the
 * look shows), and tried on draws that it was not learnt from: so the value errs low rather than high.
 *
 * @see Raiffa, Schlaifer: Applied Statistical Decision Theory, 1961 (preposterior analysis); the regression over draws after Strong,
 *   Oakley, Brennan, Breeze: Med. Decis. Making 35, 2015 (both from memory)
 */
export function worthOfLooking(choices: readonly Choice[]): WorthOfLooking {
  const count = choices[0]!.costs.length;
  const expected = choices.map(({ costs }) => drawnMean(costs));
  const best = least(expected.map(({ mean }) => mean));
  const before = choices[best]!.costs;
  const chosen = new Array<number>(count);
  for (let fold = 0; fold < folds; fold++) {
    const rules = choices.map((choice) => learnt(choice, (k) => k % folds !== fold));
    for (let k = fold; k < count; k += folds) chosen[k] = least(rules.map((rule) => rule(k)));
  }
  const saved = chosen.map((choice, k) => before[k]! - choices[choice]!.costs[k]!);
  const perfect = before.map((cost, k) => cost - Math.min(...choices.map(({ costs }) => costs[k]!)));
  return {
    best,
    expected,
    look: drawnMean(saved),
    certainty: drawnMean(perfect),
    changes: chosen.filter((choice) => choice !== best).length / count,
  };
}

/** expected cost given what the look shows, from the draws kept */
function learnt({ costs, signals }: Choice, kept: (k: number) => boolean): (k: number) => number {
  const own = costs.map((_, k) => k).filter(kept);
  const values = own.map((k) => costs[k]!);
  if (signals === undefined) {
    const mean = meanOf(values);
    return () => mean;
  }
  const fit = isotonicFit(
    own.map((k) => signals[k]!),
    values,
  );
  return (k) => fit(signals[k]!);
}

/** index of the least; the first of several */
function least(values: readonly number[]): number {
  return values.indexOf(Math.min(...values));
}

function drawnMean(values: readonly number[]): DrawnMean {
  return { mean: meanOf(values), standardError: standardDeviationOf(values) / Math.sqrt(values.length) };
}
