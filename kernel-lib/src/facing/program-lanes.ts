import type { FacingJob, FacingRound } from "./program-job.js";
import type { Area } from "./reach.js";

/** Plain numbers of a job in the direction of the feed and across it, in mm of the map. */
export interface LaneFrame {
  readonly along: readonly [from: number, to: number];
  readonly across: readonly [from: number, to: number];
  readonly radiusMm: number;
  readonly runOutMm: number;
  readonly stepMm: number;
  /** +1 where the feed grows the coordinate */
  readonly direction: 1 | -1;
}

export function laneFrame(job: FacingJob): LaneFrame {
  const { x, y } = sidesMm(job.plate);
  const [along, across] = job.feedAlong === "x" ? [x, y] : [y, x];
  // lanes come in rising order; with a spindle turning clockwise the uncut side is then on the left of a feed to +X or −Y
  const conventional = job.feedAlong === "x" ? 1 : -1;
  return {
    along,
    across,
    radiusMm: job.cutter.diameter.in("mm") / 2,
    runOutMm: job.runOut.in("mm"),
    stepMm: job.stepOver.in("mm"),
    direction: (job.milling ?? "conventional") === "conventional" ? conventional : conventional === 1 ? -1 : 1,
  };
}

/** Lines of the cutter's centre, across the feed: evenly spread, no wider than asked; the first and the last clear the
 * side edges by the run-out. Offset by half a step, the outermost two stay, so that nothing more of the travel is needed. */
export function lanesOf(frame: LaneFrame, round: FacingRound): readonly number[] {
  const first = frame.across[0] - frame.runOutMm + frame.radiusMm;
  const last = frame.across[1] + frame.runOutMm - frame.radiusMm;
  if (last <= first) return [(frame.across[0] + frame.across[1]) / 2];
  const gaps = Math.ceil((last - first) / frame.stepMm - 1e-9);
  const step = (last - first) / gaps;
  if (!round.offsetByHalfStep) return Array.from({ length: gaps + 1 }, (_, i) => first + i * step);
  return [first, ...Array.from({ length: gaps }, (_, i) => first + (i + 0.5) * step), last];
}

/** Where a lane begins and ends: rim and run-out outside the plate. */
export function laneEnds({ along, radiusMm, runOutMm, direction }: LaneFrame): readonly [start: number, end: number] {
  const clear = radiusMm + runOutMm;
  const [low, high] = [along[0] - clear, along[1] + clear];
  return direction === 1 ? [low, high] : [high, low];
}

export function sidesMm(a: Area): { readonly x: readonly [number, number]; readonly y: readonly [number, number] } {
  return { x: [a.xFrom.in("mm"), a.xTo.in("mm")], y: [a.yFrom.in("mm"), a.yTo.in("mm")] };
}
