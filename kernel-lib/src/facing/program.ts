import { display, type Feed, type Length, type MimeBundle, mm } from "../quantity/index.js";
import { cutCautions } from "./cautions.js";
import { checkJob } from "./program-checks.js";
import type { FacingJob, HolderPart } from "./program-job.js";
import { type LaneFrame, laneEnds, laneFrame, lanesOf } from "./program-lanes.js";
import { comments, word } from "./program-words.js";

/** One round of a written program. */
export interface ProgramRound {
  readonly depth: Length;
  readonly lanes: number;
  /** from one lane to the next, the widest */
  readonly stepOver: Length;
}

/** A facing program as text; made by `facing.program`. */
export class CuttingProgram {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly cautions: readonly string[] = cutCautions;

  constructor(
    readonly name: string,
    /** lines end in a line feed; the cautions stand at the head */
    readonly text: string,
    readonly rounds: readonly ProgramRound[],
    readonly feed: Feed,
  ) {
    Object.freeze(this);
  }

  get lineCount(): number {
    return this.text.split("\n").length - 1;
  }

  toString(): string {
    const rounds = this.rounds.map(({ depth, lanes }) => `${lanes} lanes at ${depth.text("mm")} below Z0`);
    return `${this.name}: program of ${this.lineCount} lines, ${rounds.join(", ")}; replay it before it goes to the machine`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * The program that faces a plate, in words of ISO 6983 only: G0 G1 G4 G17 G21 G40 G80 G90 G94, one work offset, F S, M0
 * M3 M5 M30 and comments.
 *
 * The cautions head the text. Every number has a decimal point. The first move is Z up alone; the spindle starts above
 * the work and waits; the cutter goes down to depth outside the plate, cuts one way along one axis and returns above the
 * work. Where the job gives the parts above the cutter, they stay clear of plate and obstacles too.
 * Between two rounds the spindle stops at M0 for chips and checks. The dwell is P in seconds: prove on your control
 * that it waits as long as it says. What the control wants besides (a number, a % at the ends) is for its owner to add.
 *
 * Nothing here proves the text: `facing.replay` reads it as a control would and does.
 *
 * @throws MeasurementError `frame`, `not-positive`, `area`, `rounds`, `finish`, `half-step`, `floor`, `clearance`, `step-over`, `speed`,
 * `climb`, `travel`, `screw`, `obstacle`, `holder`
 * @see ISO 6983-1, words and addresses (from memory; controls differ, the maker's manual decides)
 * @example
 * const job = { name: "club plate", frame: { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" }, travel: facing.area(mm(0), mm(520), mm(0), mm(230)), travelZ: { from: mm(-20), to: mm(200) }, plate: facing.area(mm(40), mm(480), mm(20), mm(220)), zero: { x: mm(40), y: mm(20) }, workOffset: "G54", cutter: { diameter: mm(50), teeth: 1, greatestSpeed: perMin(1200) }, speed: perMin(600), feedPerTooth: mm(0.1), feedDown: mmPerMin(100), stepOver: mm(30), runOut: mm(3), feedAlong: "x", rounds: [{ depth: mm(0.3) }, { depth: mm(0.5) }, { depth: mm(0.5), offsetByHalfStep: true }], floor: mm(-1), clearance: mm(5), retract: mm(50), spinUp: seconds(5), screws: [], margin: mm(0.5) };
 * facing.program(job).rounds.map((round) => round.lanes) // => [7, 7, 8]
 */
export function program(job: FacingJob): CuttingProgram {
  checkJob(job);
  const frame = laneFrame(job);
  const feed = job.speed.times(job.feedPerTooth.times(job.cutter.teeth));
  const lines = [...head(job), ...opening(job), ...job.rounds.flatMap((_, i) => roundLines(job, frame, i)), "M30"];
  return new CuttingProgram(
    job.name,
    `${lines.join("\n")}\n`,
    job.rounds.map((round) => {
      const lanes = lanesOf(frame, round);
      const gaps = lanes.slice(1).map((lane, i) => lane - lanes[i]!);
      return { depth: round.depth, lanes: lanes.length, stepOver: mm(Math.max(0, ...gaps)) };
    }),
    feed,
  );
}

function head(job: FacingJob): readonly string[] {
  const { frame, zero, cutter, screws } = job;
  const along = job.feedAlong.toUpperCase();
  return [
    `FACING PROGRAM: ${job.name}`,
    "CAUTION: READ ALL OF THIS BEFORE THE FIRST BLOCK",
    ...cutCautions,
    `FRONT IS THE EDGE ${frame.front}, +X POINTS ${frame.plusX}, +Y POINTS ${frame.plusY}`,
    `${job.workOffset}: X0 Y0 AT MAP X ${zero.x.text("mm")} Y ${zero.y.text("mm")}. Z0 IS THE TOUCH-OFF ON THE HIGHEST PLACE OF THE PLATE`,
    `CUTTER ${cutter.diameter.text("mm")}, ${cutter.teeth === 1 ? "1 TOOTH" : `${cutter.teeth} TEETH`}, ${job.milling ?? "conventional"}, ONE WAY ALONG ${along}, RETURN ABOVE THE WORK`,
    ...aboveTheCutter(cutter.holder ?? []),
    ...screws.map(
      ({ label, x, y, headTop }) =>
        `SCREW ${label}: MAP X ${x.text("mm")} Y ${y.text("mm")}, HEAD TOP Z ${headTop.text("mm")}`,
    ),
    "DWELL P IS IN SECONDS: PROVE IT ON THIS CONTROL. LOCK THE IDLE AXIS IN EACH PASS",
  ].flatMap(comments);
}

function aboveTheCutter(holder: readonly HolderPart[]): readonly string[] {
  if (holder.length === 0) {
    return ["THE HOLDER IS NOT GIVEN: LOOK THAT NOTHING ABOVE THE CUTTER MEETS PLATE, HEADS OR STOPS"];
  }
  return holder.map(
    ({ name, diameter, above }) =>
      `ABOVE THE CUTTER: ${name}, ${diameter.text("mm")} WIDE, ${above.text("mm")} ABOVE THE TIP`,
  );
}

function opening({ workOffset, retract }: FacingJob): readonly string[] {
  return ["G17 G21 G40 G80 G90 G94", workOffset, "M5", `G0 ${word("Z", retract.in("mm"))}`];
}

function roundLines(job: FacingJob, frame: LaneFrame, index: number): readonly string[] {
  const round = job.rounds[index]!;
  const lanes = lanesOf(frame, round);
  const title = `ROUND ${index + 1} OF ${job.rounds.length}: ${lanes.length} PASSES AT Z ${round.depth.negated().text("mm")}`;
  const before =
    index === 0
      ? "TOUCH-OFF CHECKED, GUARD SHUT, GIBS SNUG: THEN START"
      : "CHIPS BRUSHED OUT, HEADS AND SCREWS LOOKED AT: THEN START";
  const [first, ...rest] = lanes;
  return [
    ...comments(title),
    ...comments(before),
    "M0",
    `G0 ${place(job, laneEnds(frame)[0], first!)}`,
    `G0 ${word("Z", job.clearance.in("mm"))}`,
    `${word("S", job.speed.in("1/min"))} M3`,
    `G4 ${word("P", job.spinUp.in("s"))}`,
    ...laneLines(job, frame, round.depth, first!),
    ...rest.flatMap((lane) => [
      `G0 ${place(job, laneEnds(frame)[0], lane)}`,
      ...laneLines(job, frame, round.depth, lane),
    ]),
    `G0 ${word("Z", job.retract.in("mm"))}`,
    "M5",
  ];
}

/** down outside the plate, through it, up outside it again */
function laneLines(job: FacingJob, frame: LaneFrame, depth: Length, lane: number): readonly string[] {
  const feed = job.speed.in("1/min") * job.cutter.teeth * job.feedPerTooth.in("mm");
  return [
    `G1 ${word("Z", -depth.in("mm"))} ${word("F", job.feedDown.in("mm/min"))}`,
    `G1 ${place(job, laneEnds(frame)[1], lane)} ${word("F", feed)}`,
    `G0 ${word("Z", job.clearance.in("mm"))}`,
  ];
}

function place(job: FacingJob, alongMm: number, acrossMm: number): string {
  const [x, y] = job.feedAlong === "x" ? [alongMm, acrossMm] : [acrossMm, alongMm];
  return `${word("X", x - job.zero.x.in("mm"))} ${word("Y", y - job.zero.y.in("mm"))}`;
}
