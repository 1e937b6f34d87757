import { mm } from "../quantity/index.js";
import type { FacingJob } from "./program-job.js";
import { laneEnds, laneFrame, lanesOf, sidesMm } from "./program-lanes.js";
import { refuse } from "./program-refusal.js";
import { areaText } from "./reach.js";

/** The cutter stays inside the travel on its way through all lanes. */
export function checkTravel(job: FacingJob): void {
  const frame = laneFrame(job);
  const ends = laneEnds(frame);
  const lanes = lanesOf(frame, { depth: job.rounds[0]!.depth });
  const travel = sidesMm(job.travel);
  const [along, across] = job.feedAlong === "x" ? [travel.x, travel.y] : [travel.y, travel.x];
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const other = job.feedAlong === "x" ? "y" : "x";
  needInside(job.feedAlong, [low, high], along);
  needInside(other, [lanes[0]!, lanes.at(-1)!], across);
  const [from, to] = [job.travelZ.from, job.travelZ.to];
  if (!(job.rounds.at(-1)!.depth.negated().si >= from.si && job.retract.si <= to.si)) {
    refuse(
      "travel",
      `the cutter has to go from ${job.rounds.at(-1)!.depth.negated().text("mm")} to ${job.retract.text("mm")} over Z0, and z reaches from ${from.text("mm")} to ${to.text("mm")}; change the retract, the tool or the packing`,
    );
  }
}

function needInside(axis: string, [low, high]: readonly [number, number], travel: readonly [number, number]): void {
  if (low >= travel[0] - 1e-9 && high <= travel[1] + 1e-9) return;
  refuse(
    "travel",
    `to run clear of the plate the cutter has to go from ${axis} ${mmText(low)} to ${mmText(high)}, and the travel is ${mmText(travel[0])} to ${mmText(travel[1])}; take a smaller cutter, less run-out or a smaller plate`,
  );
}

/** Every head stays below the last round by the margin. */
export function checkScrews({ screws, rounds, margin }: FacingJob): void {
  const deepest = rounds.at(-1)!.depth;
  for (const { label, headTop } of screws) {
    if (-deepest.si - margin.si >= headTop.si - 1e-12) continue;
    refuse(
      "screw",
      `the head of ${label} reaches ${headTop.text("mm")} over Z0 and the last round goes ${deepest.text("mm")} below it, with a margin of ${margin.text("mm")}; cut less or deepen the counterbore`,
    );
  }
}

/** what the rim comes over on its way through all lanes, against what stands on the table */
export function checkObstacles(job: FacingJob): void {
  const frame = laneFrame(job);
  const lanes = lanesOf(frame, { depth: job.rounds[0]!.depth });
  const [start, end] = laneEnds(frame);
  const r = frame.radiusMm;
  const along = [Math.min(start, end) - r, Math.max(start, end) + r] as const;
  const across = [lanes[0]! - r, lanes.at(-1)! + r] as const;
  const [x, y] = job.feedAlong === "x" ? [along, across] : [across, along];
  const deepest = job.rounds.at(-1)!.depth.si;
  for (const { name, area, top } of job.obstacles ?? []) {
    const at = sidesMm(area);
    const isApart = at.x[1] <= x[0] || at.x[0] >= x[1] || at.y[1] <= y[0] || at.y[0] >= y[1];
    if (isApart || top.si <= -deepest - job.margin.si) continue;
    refuse(
      "obstacle",
      `${name} stands at ${areaText(area)}, where the rim comes: it sweeps x ${mmText(x[0])} to ${mmText(x[1])}, y ${mmText(y[0])} to ${mmText(y[1])}; move it away, or take less run-out or a smaller cutter`,
    );
  }
}

/** to a thousandth */
function mmText(value: number): string {
  return mm(Number(value.toFixed(3))).text("mm");
}
