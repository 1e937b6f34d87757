import type { Length } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { claimNote, type Measured } from "../uncertainty/index.js";
import { readingScatter } from "./gauge-alone.js";
import { unsaidOf } from "./length-reference.js";
import type { PositioningDoubt } from "./positioning-doubt.js";
import type { PositioningTest } from "./positioning-test.js";
import type { PerfectAxis } from "./simulated-tests.js";

/** Where a test is less than the standard asks for. */
export function shortOfStandard(test: PositioningTest): readonly string[] {
  const metres = test.travel.in("m");
  const wanted = Math.max(5, Math.ceil(5 * metres));
  return [
    test.runs < 5 ? `${test.runs} runs each way, where the standard asks for 5` : "",
    test.targetsMm.length < wanted
      ? `${test.targetsMm.length} targets on ${printNumber(1000 * metres)} mm, where the standard asks for ${wanted} (5 a metre, 5 at least)`
      : "",
    metres > 2 ? "a travel above 2 m, for which the standard has another test cycle" : "",
  ].filter((line) => line !== "");
}

/** What limits the figures of a test. */
export function positioningNotes({
  test,
  doubt,
  gaugeAlone,
  accuracy,
  lostMotion,
}: {
  readonly test: PositioningTest;
  readonly doubt: PositioningDoubt;
  readonly gaugeAlone: PerfectAxis;
  readonly accuracy: Measured<"length">;
  readonly lostMotion: Measured<"length">;
}): readonly string[] {
  const below = doubt.belowStep
    ? `the runs scatter by less than half a step of ${printNumber(doubt.stepUm)} µm: such a scatter is not believed, and more runs would not help`
    : "";
  return [
    ...unsaidOf(test.reference),
    test.senseProven
      ? ""
      : 'no deliberate move proved which way the deviations count: all signs may be turned round (one move towards plus, then "# sense proven: yes")',
    below,
    test.gauge.rangePerTurn
      ? ""
      : "the gauge does not state its range per turn: a missed turn of the pointer could not be looked for",
    test.vertical
      ? "gravity holds the axis on one flank: its play appears when the cutter pulls, and is not in these figures unless the test was done under a known upward pull"
      : "",
    `a perfect axis would be given A ${micrometres(gaugeAlone.accuracy)}, R ${micrometres(gaugeAlone.repeatability)}, E ${micrometres(gaugeAlone.systematic)}, B ${micrometres(gaugeAlone.reversal)} with this gauge, ${readingScatter(test.gauge).source} (simulated)`,
    claimNote("accuracy A", accuracy),
    claimNote(lostMotionName(test), lostMotion),
  ].filter((line) => line !== "");
}

/** what the mean reversal is called: on a vertical axis it is no play, which the weight closes */
export function lostMotionName(test: { readonly vertical: boolean }): string {
  return test.vertical ? "lost motion as it hangs" : "lost motion";
}

/** "4.2 µm" */
export function micrometres(length: Length): string {
  return `${length.in("um").toFixed(1)} µm`;
}
