import { fUpperTail } from "../numerics/index.js";
import { printDecimals, printNumber } from "../quantity/print.js";
import type { Measured } from "../uncertainty/index.js";
import type { DiagnosisGiven } from "./diagnosis.js";
import { type AxisFinding, chanceOf, judged, untold } from "./diagnosis-finding.js";
import { readingScatter } from "./gauge-alone.js";
import { slopeTrend, unevenReversal } from "./run-trends.js";

/** The axis as a whole moving on, and the pitch growing, while the test goes on. */
export function driftFinding({ part, found }: DiagnosisGiven): AxisFinding {
  const { drift } = part;
  const { test } = found;
  const whole = chanceOf(drift.value.si, drift.standardUncertainty.si, drift.effectiveDegreesOfFreedom);
  const trend = slopeTrend(test);
  const stretching = trend && trend.degreesOfFreedom > 0 ? chanceOf(trend.value, trend.u, trend.degreesOfFreedom) : 1;
  const celsius = test.readings.flatMap((reading) => (reading.celsius === undefined ? [] : [reading.celsius]));
  const warmth =
    celsius.length < 2
      ? "no temperatures are written: warmth and a stand that creeps can't be told apart"
      : `the thermometer went from ${printDecimals(celsius[0]!, 1)} °C to ${printDecimals(celsius.at(-1)!, 1)} °C`;
  // two looks at one cause: the better of them, its chance doubled
  const chance = Math.min(1, 2 * Math.min(whole, stretching));
  const stretch =
    trend === undefined
      ? ""
      : `; the pitch changed by ${printDecimals(trend.value * (test.runs - 1), 1)} µm/m from the first run to the last`;
  return judged("drift during the test", chance, {
    evidence: `the axis stood ${drift} on at the end${stretch}; ${warmth}`,
    next: "warm the axis up as it is used and test again; a pitch that grows is a screw that warms up, a shift alone is head, stand or gauge",
  });
}

/** Whether the scatter seen is more than the gauge makes by itself. */
export function gaugeFinding({ found }: DiagnosisGiven): AxisFinding {
  const { doubt, test } = found;
  const cause = "gauge at its limit";
  const step = printNumber(doubt.stepUm, 2);
  const seen = `the runs scatter by ${printNumber(doubt.scatterUm, 2)} µm`;
  const next = "take a finer gauge before anything is made of R; more runs do not help below the step";
  if (doubt.belowStep) {
    return {
      cause,
      verdict: "seen",
      evidence: `${seen}, less than half a step of ${step} µm: R and A are those of the gauge`,
      next,
    };
  }
  const { repeatability } = test.gauge;
  if (repeatability === undefined) {
    const alone = readingScatter(test.gauge).standardDeviation.in("um");
    const times = printNumber(doubt.scatterUm / alone, 2);
    return untold(
      cause,
      `${seen}, ${times} steps of the gauge, which states no repeatability: how much of it is the gauge's own is not known`,
      'read a still axis ten times and write the scatter as "# gauge repeatability"',
    );
  }
  const own = Math.hypot(repeatability.standardDeviation.in("um"), doubt.stepUm / Math.sqrt(12));
  const chance = fUpperTail((doubt.scatterUm / own) ** 2, doubt.degreesOfFreedom, repeatability.degreesOfFreedom);
  // here the cause is the absence of a difference: the chance speaks against it
  const told = chance < 0.01;
  return {
    cause,
    verdict: told ? "not seen" : "suspected",
    chance,
    evidence: `${seen}, the gauge by itself by ${printNumber(own, 2)} µm: ${told ? "the axis scatters more than the gauge" : "the gauge alone would make as much"}`,
    next: told ? "nothing" : next,
  };
}

/** A slide that turns or shifts sideways when it is reversed, by its own reading or by a play that differs along the travel. */
export function gibFinding({ part, twistOnReversal }: DiagnosisGiven): AxisFinding {
  const uneven = unevenReversal(part);
  const along = `the play runs from ${printDecimals(uneven.leastUm, 1)} µm to ${printDecimals(uneven.mostUm, 1)} µm along the travel, most at ${printNumber(uneven.mostAtMm)} mm`;
  if (twistOnReversal) {
    const chance = chanceOf(
      twistOnReversal.value.si,
      twistOnReversal.standardUncertainty.si,
      twistOnReversal.effectiveDegreesOfFreedom,
    );
    return judged("loose gib", chance, {
      evidence: `the slide turns by ${twistOnReversal} when it is reversed; ${along}`,
      next: "adjust the gib where the slide is worn least, by the maker's manual, so that it still moves at the ends; then test again",
    });
  }
  const next =
    "put a level or a second gauge on the slide and reverse it: what turns is the gib, what only shifts is the nut";
  const chance = uneven.chance;
  if (chance < 0.1) {
    const odds = `${along}, beyond the scatter of the runs: worn ways or a worn screw`;
    return { cause: "loose gib", verdict: "suspected", chance, evidence: odds, next };
  }
  return untold("loose gib", `${along}, no more than the runs scatter; an even twist looks like play here`, next);
}

/** What the weight of a slide keeps closed. */
export function gravityFinding({ found, ladder, ladderUnderPull, lift }: DiagnosisGiven): AxisFinding {
  const cause = "play that gravity hides";
  const shown =
    "come to a depth from above, lock the axis for the cut, or balance the slide; set no lost motion in the control for it: while the axis hangs there is none to take up";
  if (lift !== undefined) {
    const evidence = `pulled up by ${lift.pull} it stands ${lift.lift} higher than as it hangs, the spring of the drive in it`;
    return judged(cause, chanceOfNothing(lift.lift), { evidence, next: shown });
  }
  const next =
    "take a ladder of small moves under a known upward pull above the weight, and hold it against the free one (liftUnderPull); hands out while it moves";
  if (ladderUnderPull === undefined) {
    const free = ladder ? `, and the ladder was free: ${ladder.play} is wind-up and sticking` : "";
    return untold(
      cause,
      `the weight holds ${found.test.axis} on one flank${free}; play under cutting load not tested`,
      next,
    );
  }
  const free = ladder?.play ?? found.lostMotion;
  const hidden = ladderUnderPull.play.minus(free);
  return judged(cause, chanceOfNothing(hidden), {
    evidence: `under the pull ${ladderUnderPull.play}, free ${free}: the weight hid ${hidden}`,
    next: shown,
    otherwise:
      "nothing, if the pull was about the weight; a stronger one hides the play as the weight does: hold the two ladders against each other (liftUnderPull)",
  });
}

function chanceOfNothing({ value, standardUncertainty, effectiveDegreesOfFreedom }: Measured<"length">): number {
  return chanceOf(value.si, standardUncertainty.si, effectiveDegreesOfFreedom);
}
