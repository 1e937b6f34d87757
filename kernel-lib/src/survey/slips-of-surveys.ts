import { MeasurementError } from "../measurement-error.js";
import { stepOf } from "./gauge.js";
import { Health } from "./health.js";
import type { Sheet } from "./sheet.js";
import { mapOf, type SlipMap } from "./slip-maps.js";
import { slipsBetween } from "./slips.js";
import { surfaceOf } from "./survey-surface.js";

/** Slips that would make the first survey agree with the second, of the same table. */
export function slipsOfSurveys(sheet: Sheet, other: Sheet): Health {
  const [ours, theirs] = [sheet.preamble.frame, other.preamble.frame];
  const fields = ["relativeTo", "front", "plusX", "plusY"] as const;
  const unlike = fields.find((field) => ours[field] !== theirs[field]);
  if (unlike) {
    const said = { relativeTo: "relative to", front: "front", plusX: "+x", plusY: "+y" }[unlike];
    throw new MeasurementError(
      "frames-differ",
      `slips: ${sheet.name} says "${said}: ${ours[unlike]}" and ${other.name} says "${said}: ${theirs[unlike]}"; give two surveys of one frame`,
    );
  }
  const step = Math.max(...[sheet, other].map(({ preamble: { gauge } }) => stepOf(gauge).in("um")));
  const found = slipsBetween(mapOfSurvey(other), mapOfSurvey(sheet), step);
  return Health.from(`${sheet.name} against ${other.name}`, found, undefined);
}

function mapOfSurvey(sheet: Sheet): SlipMap {
  const { places } = surfaceOf(sheet, undefined);
  const columns = {
    labels: places.map(({ label }) => label),
    x: Float64Array.from(places, ({ xMm }) => xMm),
    y: Float64Array.from(places, ({ yMm }) => yMm),
  };
  return mapOf(columns, sheet.name, [...places.keys()], (i) => places[i]!.zUm);
}
