import type { SurfaceSource } from "../form/index.js";
import { MeasurementError } from "../measurement-error.js";
import type { Surface, SurfacePlace } from "../survey/surface.js";

/** the same place in both surveys */
export interface Pair {
  readonly before: SurfacePlace;
  readonly after: SurfacePlace;
}

/** Places closer than this count as one: what a stylus is put back to by hand, common practice, no source. */
const samePlaceMm = 1;

export function surfaceOf(source: SurfaceSource): Surface {
  return "surface" in source ? source.surface() : source;
}

/** Refuses two maps whose heights mean different things, then pairs their places by coordinates. */
export function pairs(before: Surface, after: Surface): readonly Pair[] {
  needOneFrame(before, after);
  const found = before.places.flatMap((place) => {
    const match = after.places.find((p) => Math.hypot(p.xMm - place.xMm, p.yMm - place.yMm) <= samePlaceMm);
    return match ? [{ before: place, after: match }] : [];
  });
  const unmatched = before.places.length - found.length;
  if (found.length >= 6 && found.length >= 0.8 * before.places.length) return found;
  throw new MeasurementError(
    "other-places",
    `proof.difference: ${unmatched} of ${before.places.length} places of ${before.name} were not probed again in ${after.name}; probe the same places, or compare the two forms by their own flatness`,
  );
}

function needOneFrame(before: Surface, after: Surface): void {
  const [a, b] = [before.frame, after.frame];
  if (a.relativeTo !== b.relativeTo) {
    throw new MeasurementError(
      "two-frames",
      `proof.difference: ${before.name} is relative to ${a.relativeTo} and ${after.name} to ${b.relativeTo}; a difference across two frames means nothing, survey both the same way`,
    );
  }
  if (a.front !== b.front || a.plusX !== b.plusX || a.plusY !== b.plusY) {
    const words = ({ front, plusX, plusY }: Surface["frame"]) => `FRONT ${front}, +X ${plusX}, +Y ${plusY}`;
    throw new MeasurementError(
      "two-frames",
      `proof.difference: ${before.name} has ${words(a)} and ${after.name} ${words(b)}; check whether one sheet is mirrored or turned round, and state both the same way`,
    );
  }
}
