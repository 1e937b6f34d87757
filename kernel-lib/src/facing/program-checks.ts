import type { Length } from "../quantity/index.js";
import { climbMilling } from "./climb.js";
import { checkHolder } from "./program-holder.js";
import type { FacingJob } from "./program-job.js";
import { laneFrame, lanesOf, sidesMm } from "./program-lanes.js";
import { refuse } from "./program-refusal.js";
import { checkObstacles, checkScrews, checkTravel } from "./program-room.js";
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
  checkHolder(job);
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
  const { diameter, teeth, greatestSpeed } = job.cutter;
  const { speed, feedPerTooth, feedDown, stepOver, runOut, spinUp, margin } = job;
  const lengths = { "cutter.diameter": diameter, feedPerTooth, stepOver, runOut, margin };
  for (const [name, value] of Object.entries(lengths)) needAboveZero(name, value.si, value.text("mm"));
  needAboveZero("speed", speed.si, speed.text("1/min"));
  needAboveZero("cutter.greatestSpeed", greatestSpeed.si, greatestSpeed.text("1/min"));
  needAboveZero("feedDown", feedDown.si, feedDown.text("mm/min"));
  needAboveZero("spinUp", spinUp.si, spinUp.text("s"));
  if (!(Number.isInteger(teeth) && teeth > 0)) {
    refuse("not-positive", `cutter.teeth is ${teeth}; give a whole number of teeth`);
  }
  const { x, y } = sidesMm(job.plate);
  if (!(x[1] > x[0] && y[1] > y[0])) {
    refuse("area", `plate runs ${areaText(job.plate)}, which has no size; give xFrom below xTo and yFrom below yTo`);
  }
}

function needAboveZero(name: string, value: number, text: string): void {
  if (!(value > 0)) refuse("not-positive", `${name} is ${text}; give a value above zero`);
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
  if (highest && !(job.clearance.si >= highest.top.si + job.margin.si - 1e-12)) {
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
