import { fUpperTail } from "../numerics/index.js";
import type { Kind } from "../quantity/index.js";
import { printDecimals, printNumber } from "../quantity/print.js";
import type { Measured } from "../uncertainty/index.js";
import type { DiagnosisGiven } from "./diagnosis.js";
import { type AxisFinding, chanceOf, judged, untold } from "./diagnosis-finding.js";

/**
 * Lost motion between the two directions, held against the ladder where there is one. Where gravity holds the axis on one flank it is
 * no play, and nothing for the control: the play appears when a cutter pulls (`gravityFinding`).
 */
export function playFinding({ part, found, ladder }: DiagnosisGiven): AxisFinding {
  const { play } = part;
  const { axis, vertical } = found.test;
  const limit = play.expandedUncertainty().in("um");
  const evidence = `${play} between the directions, drift taken out${ladder ? `; ${agreement(play, ladder.play)}` : ""}`;
  return vertical
    ? judged("lost motion as it hangs", chanceIn(play), {
        evidence,
        next: `set no lost motion for ${axis}: the weight closes the play by itself, and what is lost as it hangs is wind-up and friction; look at gib, lubrication and coupling`,
        otherwise: `nothing; wind-up and friction up to about ${printNumber(limit, 2)} µm would not have been told`,
      })
    : judged("play", chanceIn(play), {
        evidence,
        next: `set a lost motion of ${found.lostMotion.text("um")} in the control, or take up nut and thrust bearing first where they can be adjusted`,
        otherwise: `nothing; a play up to about ${printNumber(limit, 2)} µm would not have been told`,
      });
}

/** whether the ladder says the same: they share the gauge, which is left in both */
function agreement(play: Measured<"length">, ladder: Measured<"length">): string {
  const apart = ladder.value.in("um") - play.value.in("um");
  const u = Math.hypot(ladder.standardUncertainty.in("um"), play.standardUncertainty.in("um"));
  const said = `the ladder says ${ladder}`;
  if (Math.abs(apart) <= 2 * u) return `${said}, which agrees`;
  return apart < 0
    ? `${said}, less by ${printDecimals(-apart, 1)} µm: long moves lose more than short ones, look for wind-up or a slide that tilts`
    : `${said}, more by ${printDecimals(apart, 1)} µm: short moves stick, look for friction`;
}

/** The even part of the pitch, and what the targets leave beyond it. */
export function pitchFindings({ part, found }: DiagnosisGiven): readonly AxisFinding[] {
  const { slope } = part;
  const farther = slope.value.si > 0 ? "farther" : "less far";
  const perSpan = Math.abs(slope.value.si) * found.test.travel.in("um");
  const even = judged("pitch error", chanceIn(slope), {
    evidence: `${slope}: the axis goes ${farther} than it is told by ${printDecimals(perSpan, 1)} µm over the span`,
    next: "change the steps per millimetre (newStepsPerMm), reference and screw being equally warm",
    otherwise: "nothing; what the reference does not state is in no chance here",
  });
  const { variance, degreesOfFreedom, local } = part.leftByTargets;
  if (degreesOfFreedom < 1) {
    const why = `${found.test.targetsMm.length} targets leave nothing to judge it by`;
    return [even, untold("uneven pitch", why, "test at more targets")];
  }
  const chance = fUpperTail(variance / local.variance, degreesOfFreedom, local.degreesOfFreedom);
  const left = printDecimals(Math.sqrt(variance / (2 * found.test.runs)), 1);
  const uneven = judged("uneven pitch", chance, {
    evidence: `the targets stray from the straight line and the waves by ${left} µm (one standard deviation of a target's mean), beyond what the runs scatter`,
    next: "set the pitch table; worn screws show it where most of the work was done",
  });
  return [even, chance < 0.1 ? uneven : { ...uneven, evidence: uneven.evidence.replace(", beyond", ", no more than") }];
}

/** One for each turn of the drive that was given. */
export function periodicFindings({ part }: DiagnosisGiven): readonly AxisFinding[] {
  const told = part.periodic.map(({ name, period, amplitude, standardUncertainty, p }) =>
    judged(`periodic error (${name})`, p, {
      evidence: `± ${printDecimals(amplitude.in("um"), 1)} µm (u = ${printDecimals(standardUncertainty.in("um"), 1)} µm) every ${printNumber(period.in("mm"), 4)} mm`,
      next: "look for a bent screw end, a coupling out of line, a face of the thrust bearing; a pitch table of few targets can't take it out",
    }),
  );
  const aliased = part.aliased.map((why) =>
    untold(
      `periodic error (${why.slice(0, why.indexOf(" ("))})`,
      why,
      "plan the targets by axis.positioningPlan, which sets them off",
    ),
  );
  if (told.length + aliased.length > 0) return [...told, ...aliased];
  return [untold("periodic error", "no lead is given", "give the lead, and the motor's turn where it differs")];
}

function chanceIn<K extends Kind>(found: Measured<K>): number {
  const u: { readonly si: number } = found.standardUncertainty;
  return chanceOf(found.value.si, u.si, found.effectiveDegreesOfFreedom);
}
