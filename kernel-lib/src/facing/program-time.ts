import { type Feed, minutes, type Time } from "../quantity/index.js";
import type { FacingJob } from "./program-job.js";
import { blocksOf } from "./replay-blocks.js";
import { run } from "./replay-control.js";
import { knownMove, type ReplayMove } from "./replay-moves.js";
import { shopOf } from "./replay-shop.js";

/** What a written program takes, without the stops. */
export interface ProgramTime {
  readonly feeding: Time;
  readonly rapids: Time;
  /** dwells after the start of the spindle */
  readonly dwells: Time;
  /** at M0 */
  readonly stops: number;
}

/** Time of the text of a program, every move at its feed and every rapid at the rate given; speeding up is not in it. */
export function programTime(text: string, job: FacingJob, rapid: Feed): ProgramTime {
  const { blocks } = blocksOf(text);
  const { moves, dwellS } = run(blocks, shopOf(job));
  const stops = blocks.filter(({ words }) => words.some(({ address, value }) => address === "M" && value === 0));
  return {
    feeding: minutes(feedMinutes(moves)),
    rapids: minutes(minutesOf(moves, (move) => (move.kind === "rapid" ? rapid.in("mm/min") : 0))),
    dwells: minutes(dwellS / 60),
    stops: stops.length,
  };
}

/** minutes of all moves that feed */
export function feedMinutes(moves: readonly ReplayMove[]): number {
  return minutesOf(moves, ({ feedMmPerMin }) => feedMmPerMin);
}

/** a move whose rate is not above zero is not counted */
function minutesOf(moves: readonly ReplayMove[], rateOf: (move: ReplayMove) => number): number {
  return moves.reduce((sum, move) => {
    const known = knownMove(move);
    const rate = rateOf(move);
    if (!known || !(rate > 0)) return sum;
    const { from, to } = known;
    return sum + Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm, to.zMm - from.zMm) / rate;
  }, 0);
}
