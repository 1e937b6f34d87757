import { MeasurementError } from "../measurement-error.js";
import type { Length } from "../quantity/index.js";
import { climbMilling } from "./climb.js";
import type { FacingJob } from "./program-job.js";
import { laneEnds, laneFrame, lanesOf, sidesMm } from "./program-lanes.js";
import { areaText } from "./reach.js";

/** Refuses a job that no program should be written for, each with its own sentence. */
export function checkJob(job: FacingJob): void {
  checkFrame(job);
  checkNumbers(job);
  checkRounds(job);
  checkHeights(job);
  checkCutter(job);
  checkTravel(job);
  checkScrews(job);
  checkObstacles(job);
}

/** Program coordinates move the tool relative to the work, so X to Y turns as X to Y of a right-handed frame. */
function checkFrame({ frame }: FacingJob): void {
  const sameHand = (["right back", "left front", "back left", "front right"] as const).some(
    (pair) => pair === `${frame.plusX} ${frame.plusY}`,
  );
  if (sameHand) return;
  refuse(
    "frame",
    `+X points ${frame.plusX} and +Y points ${frame.plusY}, a mirror image of the axes of ISO 841 (the sheet counts the table's own motion); give the places as the tool moves over the work`,
  );
}

function checkNumbers(job: FacingJob): void {
  const { diameter, teeth } = job.cutter;
  for (const [name, value] of Object.entries({
    "cutter.diameter": diameter,
    speed: job.speed,
    "cutter.greatestSpeed": job.cutter.greatestSpeed,
    feedPerTooth: job.feedPerTooth,
    feedDown: job.feedDown,
    stepOver: job.stepOver,
    runOut: job.runOut,
    spinUp: job.spinUp,
    margin: job.margin,
  })) {
    if (!(value.si > 0)) refuse("not-positive", `${name} is ${value.text()}; give a value above zero`);
  }
  if (!(Number.isInteger(teeth) && teeth > 0)) {
    refuse("not-positive", `cutter.teeth is ${teeth}; give a whole number of teeth`);
  }
  const { x, y } = sidesMm(job.plate);
  if (!(x[1] > x[0] && y[1] > y[0])) {
    refuse("area", `plate runs ${areaText(job.plate)}, which has no size; give xFrom below xTo and yFrom below yTo`);
  }
}

/** a finishing cut thinner than this rubs and copies the old form; common practice, no source */
const leastFinishMm = 0.1;

function checkRounds({ rounds }: FacingJob): void {
  if (rounds.length === 0) refuse("rounds", "no round was given; give the depth of each, from the first to the last");
  let before = 0;
  for (const [i, { depth, offsetByHalfStep }] of rounds.entries()) {
    const more = depth.in("mm") - before;
    if (!(depth.si > 0) || !(more > -1e-9)) {
      refuse(
        "rounds",
        `round ${i + 1} is ${depth.text("mm")} deep after ${before} mm; give depths below Z0 above zero, none shallower than the one before`,
      );
    }
    if (more > 1e-9 && !(more > leastFinishMm - 1e-9)) {
      refuse(
        "finish",
        `round ${i + 1} takes ${Number(more.toFixed(4))} mm; a cut thinner than ${leastFinishMm} mm rubs: take more, or repeat the depth of the round before`,
      );
    }
    if (offsetByHalfStep && more > 1e-9) {
      refuse(
        "half-step",
        `round ${i + 1} is offset by half a step and deeper than what was cut before, so its own ridges stay; repeat the depth of the round before`,
      );
    }
    before = depth.in("mm");
  }
}

function checkHeights(job: FacingJob): void {
  const deepest = job.rounds.at(-1)!.depth;
  if (!(-deepest.si >= job.floor.si)) {
    refuse(
      "floor",
      `the last round goes ${deepest.text("mm")} below Z0 and the floor is at ${job.floor.text("mm")}; cut less, or deepen the counterbores and lower the floor`,
    );
  }
  if (!(job.clearance.si > 0 && job.retract.si >= job.clearance.si)) {
    refuse(
      "clearance",
      `clearance ${job.clearance.text("mm")} and retract ${job.retract.text("mm")}; give a clearance above Z0 and a retract not below it`,
    );
  }
  const highest = highestOnTable(job);
  if (highest && !(job.clearance.si >= highest.top.si + job.margin.si)) {
    refuse(
      "clearance",
      `${highest.name} stands ${highest.top.text("mm")} over Z0, and a clearance of ${job.clearance.text("mm")} does not leave the margin of ${job.margin.text("mm")}; raise clearance and retract`,
    );
  }
}

function highestOnTable({ obstacles = [] }: FacingJob): { readonly name: string; readonly top: Length } | undefined {
  return obstacles.toSorted((a, b) => b.top.si - a.top.si)[0];
}

function checkCutter(job: FacingJob): void {
  const { diameter, greatestSpeed } = job.cutter;
  if (!(job.stepOver.si < diameter.si)) {
    refuse(
      "step-over",
      `a step-over of ${job.stepOver.text()} leaves strips uncut under a cutter of ${diameter.text()}; keep it below the diameter`,
    );
  }
  if (!(job.speed.si <= greatestSpeed.si)) {
    refuse(
      "speed",
      `a speed of ${job.speed.text("1/min")} is above the ${greatestSpeed.text("1/min")} marked on the cutter; turn slower`,
    );
  }
  if (job.milling !== "climb") {
    checkLastLane(job);
    return;
  }
  const { isAllowed, because } = climbMilling(job.feedPerTooth, job.play);
  if (!isAllowed) refuse("climb", because);
}

/** The strip left for the last lane begins a step less a radius before its centre and ends at the plate's edge: the part
 * before the centre is cut by teeth that climb. */
function checkLastLane(job: FacingJob): void {
  const frame = laneFrame(job);
  const lanes = lanesOf(frame, { depth: job.rounds[0]!.depth });
  if (lanes.length < 2) return;
  const climbing = lanes[1]! - lanes[0]! - frame.radiusMm;
  const conventional = frame.radiusMm - frame.runOutMm;
  if (climbing <= conventional) return;
  refuse(
    "climb",
    `steps of ${Number((lanes[1]! - lanes[0]!).toFixed(2))} mm with a run-out of ${job.runOut.text("mm")} leave the last pass a strip that is cut mostly by climbing teeth; take a step-over up to the radius of ${Number(frame.radiusMm.toFixed(3))} mm, or less run-out`,
  );
}

function checkTravel(job: FacingJob): void {
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
  const text = (value: number) => Number(value.toFixed(3));
  refuse(
    "travel",
    `to run clear of the plate the cutter has to go from ${axis} ${text(low)} mm to ${text(high)} mm, and the travel is ${text(travel[0])} mm to ${text(travel[1])} mm; take a smaller cutter, less run-out or a smaller plate`,
  );
}

function checkScrews({ screws, rounds, margin }: FacingJob): void {
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
function checkObstacles(job: FacingJob): void {
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
    const rounded = (value: number) => Number(value.toFixed(3));
    refuse(
      "obstacle",
      `${name} stands at ${areaText(area)}, where the rim comes: it sweeps x ${rounded(x[0])} mm to ${rounded(x[1])} mm, y ${rounded(y[0])} mm to ${rounded(y[1])} mm; move it away, or take less run-out or a smaller cutter`,
    );
  }
}

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `facing.program: ${sentence}`);
}
