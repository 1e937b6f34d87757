import type { Surface } from "../survey/surface.js";
import { Figure } from "./figure.js";
import { heightLimit } from "./height-map.js";
import type { MapOptions } from "./options.js";
import { stillSurface } from "./still/surface.js";
import { liveSurface } from "./surface-live.js";
import { planSurface } from "./surface-plan.js";

/**
 * Surface in three dimensions, seen from FRONT, with every place as a point on a stem from zero.
 *
 * Heights are drawn larger than lengths by the factor stated in the subtitle; between the places the skin goes straight.
 * A complete or nearly complete grid is drawn cell by cell and left open next to blanks; scattered places by triangles.
 *
 * @param surface heights in µm over places in mm
 * @throws MeasurementError `frame`, `shape`, `not-finite`, `too-few-places`
 */
export function heightSurface(surface: Surface, options: Omit<MapOptions, "outlines"> = {}): Figure {
  const values = options.residuals?.heightsUm ?? surface.places.map(({ zUm }) => zUm);
  const plan = planSurface(surface, values, options.limitUm ?? heightLimit(values, surface), options);
  return new Figure({ texts: plan.texts, alt: plan.alt, ...liveSurface(plan), still: stillSurface(plan) });
}
