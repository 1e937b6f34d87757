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
 * @example
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: i * j, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } };
 * figure.heightSurface(map).texts.axes.join() // => "x/mm,y/mm,height/µm"
 */
export function heightSurface(surface: Surface, options: Omit<MapOptions, "outlines"> = {}): Figure {
  const values = options.residuals?.heightsUm ?? surface.places.map(({ zUm }) => zUm);
  return Figure.drawn((units) => {
    const limit = heightLimit(values, surface, units, options.limitUm);
    const plan = planSurface(surface, values, limit, options, units);
    return { texts: plan.texts, alt: plan.alt, ...liveSurface(plan), still: stillSurface(plan) };
  });
}
