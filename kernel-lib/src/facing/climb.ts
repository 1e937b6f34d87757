import type { Length } from "../quantity/index.js";
import type { Measured } from "../uncertainty/index.js";

/** Whether the feed axis may be let to climb; made by `facing.climbMilling`. */
export interface ClimbMilling {
  readonly isAllowed: boolean;
  /** why, in one sentence */
  readonly because: string;
}

/**
 * Climb milling by the measured play of the feed axis: allowed only where play + U (95 %) is below the feed per tooth.
 *
 * A cutter that climbs pulls the table through the play; at one tooth's feed or more it bites a chip it was not meant
 * for. Where the play is unknown the answer is no: cut conventionally, one way, and return above the work.
 *
 * @see common practice, no source
 * @example
 * facing.climbMilling(mm(0.1), undefined).isAllowed // => false
 */
export function climbMilling(feedPerTooth: Length, play: Measured<"length"> | undefined): ClimbMilling {
  const rest = "cut conventionally, one way, return above the work, and lock the idle axis";
  if (play === undefined) {
    return { isAllowed: false, because: `the play of the feed axis was not measured: ${rest}` };
  }
  const most = play.interval()[1];
  const stated = `play ${play.value.abs().text("mm")}, at most ${most.in("mm").toFixed(3)} mm`;
  const against = `feed per tooth ${feedPerTooth.text("mm")}`;
  if (play.value.si >= 0 && most.si < feedPerTooth.si) {
    return { isAllowed: true, because: `${stated}, is below the ${against}: climbing is allowed with the gibs snug` };
  }
  return { isAllowed: false, because: `${stated}, is not below the ${against}: ${rest}` };
}
