import type { Surface } from "../survey/surface.js";
import { heightScale, uncertaintyScale } from "./colour.js";
import { Figure, type FigureContent } from "./figure.js";
import { liveMap } from "./map-live.js";
import { type MapInput, planMap } from "./map-plan.js";
import { heightTitles, type MapOptions } from "./options.js";
import type { PrintUnits } from "./print-units.js";
import { stillMap } from "./still/map.js";
import { roundUp } from "./ticks.js";

/**
 * Contour map of a surface as the operator at FRONT sees it, with the figure at each place where there is room.
 *
 * Between the places the picture goes straight; blanks and what lies outside the probed places stay white. Colours run
 * symmetrically about zero; give two maps the same `limitUm` to compare them.
 *
 * @param surface heights in µm over places in mm
 * @throws MeasurementError `frame`, `shape`, `not-finite`, `too-few-places`
 * @example
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: i * j, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } };
 * figure.heightMap(map).texts.edges.join() // => "FRONT,BACK,LEFT,RIGHT"
 */
export function heightMap(surface: Surface, options: MapOptions = {}): Figure {
  const values = options.residuals?.heightsUm ?? surface.places.map(({ zUm }) => zUm);
  const titles = heightTitles(surface, options, []);
  return Figure.drawn((units) => {
    const limit = heightLimit(values, surface, units, options.limitUm);
    const span = [-limit, limit] as const;
    return drawMap({ surface, values, titles, quantity: "height", scale: heightScale, span, options, units });
  });
}

/**
 * Map of a standard uncertainty in µm, one a place, in one grey scale from zero up.
 *
 * @throws MeasurementError as `heightMap`
 * @example
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: i * j, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } };
 * figure.uncertaintyMap(map, places.map(() => 0.5)).texts.subtitle // => "standard uncertainty of the height"
 */
export function uncertaintyMap(surface: Surface, uncertaintiesUm: readonly number[], options: MapOptions = {}): Figure {
  const titles = [options.title ?? surface.name, "standard uncertainty of the height"] as const;
  return Figure.drawn((units) => {
    const span = [0, heightLimit(uncertaintiesUm, surface, units, options.limitUm)] as const;
    const values = uncertaintiesUm;
    return drawMap({ surface, values, titles, quantity: "u", scale: uncertaintyScale, span, options, units });
  });
}

/** The limit given, or a round one that holds every height (the gauge's resolution where all are zero), in print units. */
export function heightLimit(
  valuesUm: readonly number[],
  surface: Surface,
  { height }: PrintUnits,
  givenUm?: number,
): number {
  if (givenUm !== undefined) return height.of(givenUm);
  const largest = valuesUm.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const resolution = surface.gauge.resolution.in("um");
  // what a plane leaves of equal heights is the last digit of a double, and no height
  return roundUp(height.of(largest > 1e-9 * resolution ? largest : resolution));
}

/** A map, live and still. */
export function drawMap(input: MapInput): FigureContent {
  const plan = planMap(input);
  return { texts: plan.texts, alt: plan.alt, ...liveMap(plan), still: stillMap(plan) };
}
