import type { Length } from "../quantity/index.js";
import type { FacingJob, HolderPart } from "./program-job.js";
import { laneEnds, laneFrame, lanesOf, sidesMm } from "./program-lanes.js";
import { refuse } from "./program-refusal.js";
import type { Area } from "./reach.js";

/**
 * Arbor, spindle nose and guard stay clear of the plate and of what stands on the table, in every round and on every lane.
 *
 * Screw heads lie below the plate's top, so what clears the plate clears them; sideways moves outside the plate are made
 * at the clearance, above everything.
 */
export function checkHolder(job: FacingJob): void {
  for (const part of job.cutter.holder ?? []) {
    if (!(part.diameter.si > 0 && part.above.si > 0)) {
      refuse(
        "holder",
        `${part.name} is ${part.diameter.text("mm")} wide and ${part.above.text("mm")} above the tip; give both above zero`,
      );
    }
    checkOverPlate(job, part);
    for (const thing of job.obstacles ?? []) checkBeside(job, part, thing);
  }
}

/** the cutter goes over all of the plate, and whatever is wider than it goes with it */
function checkOverPlate(job: FacingJob, part: HolderPart): void {
  const underside = part.above.minus(job.rounds.at(-1)!.depth);
  if (underside.si >= job.margin.si - 1e-12) return;
  refuse(
    "holder",
    `${partText(part)}, comes over the plate, whose highest place is Z0, with its underside at ${underside.text("mm")}; a margin of ${job.margin.text("mm")} has to stay: let the cutter stand out further, or cut less`,
  );
}

function checkBeside(job: FacingJob, part: HolderPart, thing: { name: string; area: Area; top: Length }): void {
  const radiusMm = part.diameter.in("mm") / 2;
  for (const [i, { depth }] of job.rounds.entries()) {
    const underside = part.above.minus(depth);
    if (underside.si >= thing.top.si + job.margin.si - 1e-12) continue;
    const apartMm = distanceMm(job, i, thing.area);
    if (apartMm >= radiusMm - 1e-9) continue;
    const apart = Number(apartMm.toFixed(3));
    refuse(
      "holder",
      `${partText(part)}, comes over ${thing.name}, whose top is at ${thing.top.text("mm")} over Z0, with its underside at ${underside.text("mm")} in round ${i + 1}: the lanes come within ${apart} mm of it and ${Number(radiusMm.toFixed(3))} mm are needed, or a margin of ${job.margin.text("mm")} above it; move it away, let the cutter stand out further, or take less run-out`,
    );
  }
}

/** from the lanes of a round, where the cutter's centre goes, to a rectangle */
function distanceMm(job: FacingJob, round: number, area: Area): number {
  const frame = laneFrame(job);
  const ends = laneEnds(frame);
  const sides = sidesMm(area);
  const [along, across] = job.feedAlong === "x" ? [sides.x, sides.y] : [sides.y, sides.x];
  const endwise = gap([Math.min(...ends), Math.max(...ends)], along);
  const lanes = lanesOf(frame, job.rounds[round]!);
  return Math.min(...lanes.map((lane) => Math.hypot(endwise, gap([lane, lane], across))));
}

function gap([a, b]: readonly [number, number], [low, high]: readonly [number, number]): number {
  return Math.max(0, low - b, a - high);
}

function partText({ name, diameter, above }: HolderPart): string {
  return `${name}, ${diameter.text("mm")} wide and ${above.text("mm")} above the tip`;
}
