import { type Length, mm } from "../quantity/index.js";
import type { FacingJob } from "./program-job.js";
import { laneFrame, lanesOf } from "./program-lanes.js";

/** How the cutter stands in its widest pass. */
export interface Engagement {
  readonly width: Length;
  readonly meanChip: Length;
  /** the thickest chip that a tooth meets on its way */
  readonly greatestChip: Length;
  /** teeth in the metal on the average of a turn; below 1 for a fly cutter */
  readonly meanTeeth: number;
}

/** The first pass is the widest: its rim clears the side edge by the run-out only, later ones cut a step-over. A single
 * pass runs over the middle of the plate. */
export function engagementOf(job: FacingJob): Engagement {
  const frame = laneFrame(job);
  const { across, radiusMm, runOutMm } = frame;
  const plateMm = across[1] - across[0];
  const isSingle = lanesOf(frame, { depth: job.rounds[0]!.depth }).length === 1;
  const widthMm = isSingle ? plateMm : Math.min(plateMm, 2 * radiusMm - runOutMm);
  const angle = isSingle ? 2 * Math.asin(widthMm / radiusMm / 2) : Math.acos(1 - widthMm / radiusMm);
  const passesMiddle = isSingle || widthMm >= radiusMm;
  return {
    width: mm(widthMm),
    meanChip: job.feedPerTooth.times(widthMm / radiusMm / angle),
    greatestChip: job.feedPerTooth.times(passesMiddle ? 1 : Math.sin(angle)),
    meanTeeth: (job.cutter.teeth * angle) / (2 * Math.PI),
  };
}
