import { MeasurementError } from "../measurement-error.js";
import type { Frame, Surface } from "../survey/surface.js";
import type { FacingJob } from "./program-job.js";

/**
 * The map that a cut is worked out on: relative to travel, in the frame that the job's places are counted in.
 *
 * @throws MeasurementError `wrong-frame`, `frames-differ`
 */
export function needJobFrame(where: string, { frame }: FacingJob, { frame: own, name }: Surface): void {
  if (own.relativeTo !== "travel") {
    throw new MeasurementError(
      "wrong-frame",
      `${where}: ${name} is relative to ${own.relativeTo}, and a cut follows the travel; give a map probed from the spindle`,
    );
  }
  if (sameSides(own, frame)) return;
  throw new MeasurementError(
    "frames-differ",
    `${where}: ${name} has ${sidesText(own)} and the job ${sidesText(frame)}; give both in the same frame`,
  );
}

/** FRONT, +X and +Y are stated alike. */
export function sameSides(a: Frame, b: Frame): boolean {
  return a.front === b.front && a.plusX === b.plusX && a.plusY === b.plusY;
}

/** "FRONT y−, +X right, +Y back" */
export function sidesText({ front, plusX, plusY }: Frame): string {
  return `FRONT ${front.replace("-", "−")}, +X ${plusX}, +Y ${plusY}`;
}
