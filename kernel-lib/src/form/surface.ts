import { MeasurementError } from "../measurement-error.js";
import { leastSquaresPlane } from "../numerics/index.js";
import { resolutionUncertainty } from "../survey/index.js";
import type { Surface } from "../survey/surface.js";
import { FittedSurface, type HeightReference } from "./fitted-surface.js";
import { pitchOf } from "./neighbours.js";
import { listed, needMiddle, type Places, placesOf, type SurfaceSource, surfaceOf } from "./places.js";
import { type Domain, domainOf, type GapOptions, gapAt } from "./surface-domain.js";
import { gaussianMethod, splineMethod } from "./surface-gaussian.js";
import type { FittedMethod, MethodInput, SurfaceMethod } from "./surface-method.js";
import { SurfaceRaster } from "./surface-raster.js";
import { bilinearMethod, triangulatedMethod } from "./surface-straight.js";

/** Slots, holes and what stood on the table are left out of the surface and drawn as gaps. */
export interface SurfaceOptions extends GapOptions {
  /** "gaussian process" unless said otherwise */
  readonly method?: SurfaceMethod;
  /** what heights are counted from: the least-squares plane of the readings unless said otherwise */
  readonly reference?: HeightReference["name"];
}

const methods: { readonly [M in SurfaceMethod]: (input: MethodInput) => FittedMethod } = {
  "gaussian process": gaussianMethod,
  "thin-plate spline": splineMethod,
  triangulated: triangulatedMethod,
  bilinear: bilinearMethod,
};

/** beyond this a dense matrix of all places against all is no longer quick */
const most = 3000;

/**
 * The surface between the places of a map, with a standard uncertainty everywhere.
 *
 * Gaussian process: Matérn 5/2 of a length of its own along x and y, never below the pitch, with a plane in the mean; sizes by restricted maximum
 * likelihood from several starts; the noise of each place is the survey's, not below the resolution of the gauge, the drift apart; what the
 * sizes may be wrong by is in the doubt. Thin-plate spline: smoothed by generalised cross-validation. Triangulated and bilinear: straight from
 * place to place, doubt from the places left out by turns.
 *
 * The band of 95 % of the Gaussian process held 95.4 % of the spots of 1,000 simulated surveys of slowly varying forms: 97.0 % of forms that
 * are smooth throughout (bows, twist, a long wave), 94.2 % of worn parts with ends. A ding smaller than the pitch is not in it.
 *
 * @param source a map, or a survey that gives one
 * @throws MeasurementError `too-few-places`, `not-finite`, `same-place`, `on-a-line`, `steep`, `hole`, `noise`, `too-many-places`, `no-grid`, `method`, `outline`, `in-a-gap` (a reading in a slot, a hole or under an obstacle), `no-surface`
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 80 * j, zUm: i * j, count: 2 })));
 * const map = { name: "map", frame, gauge: gauge({ resolution: um(0.1), maximumPermissibleError: um(0.5) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 12 } };
 * form.surface(map, { method: "bilinear", reference: "zero" }).at({ x: mm(150), y: mm(40) }).in("um").toFixed(2) // => "0.75"
 */
export function surface(source: SurfaceSource, options: SurfaceOptions = {}): FittedSurface {
  const { method = "gaussian process", reference = "plane" } = options;
  const map = surfaceOf(source);
  const places = placesOf("surface", map, 6);
  needMiddle("surface", map, places);
  needNoise(map);
  const fit = methods[method];
  if (fit === undefined) {
    const known = Object.keys(methods).map((name) => `"${name}"`);
    throw new MeasurementError("method", `surface: method ${String(method)}; take one of ${known.join(", ")}`);
  }
  if (!(places.z.length <= most)) {
    throw new MeasurementError(
      "too-many-places",
      `surface: ${map.name} has ${places.z.length} places, ${most} are the most; keep ${everyNth(Math.ceil(Math.sqrt(places.z.length / most)))} row and column, or take the table in parts`,
    );
  }
  const domain = domainOf(places, options);
  needOnTable(map, domain);
  const input = { surface: map, places, pitch: pitchOf(places), nugget: nuggetOf(map) };
  const found = new FittedSurface(map, domain, referenceOf(reference, places), input.pitch, fit(input));
  // refuses where gaps leave nothing
  SurfaceRaster.over(domain, 40, (x) => ({ meanUm: x, uUm: x }));
  return found;
}

/** a reading where the table has no surface is of something else, or its place or the gap's is wrong */
function needOnTable({ name, places }: Surface, { gaps }: Domain): void {
  const found = places.flatMap(({ label, xMm, yMm }) => {
    const gap = gapAt(gaps, xMm, yMm);
    return gap === undefined ? [] : [`${label} ${gap}`];
  });
  if (found.length === 0) return;
  const one = found.length === 1;
  throw new MeasurementError(
    "in-a-gap",
    `surface: ${found.length} of ${places.length} places of ${name} lie${one ? "s" : ""} where the table has no surface (${listed(found)}); leave ${one ? "this reading" : "these readings"} out, or correct the place${one ? "" : "s"} or what is said of slots, holes and obstacles`,
  );
}

function everyNth(n: number): string {
  return n === 2 ? "every second" : `one in ${n} of each`;
}

function needNoise({ name, noise: { standardUncertaintyUm, degreesOfFreedom } }: Surface): void {
  if (standardUncertaintyUm > 0 && degreesOfFreedom > 0) return;
  throw new MeasurementError(
    "noise",
    `surface: the noise of ${name} is ${standardUncertaintyUm} µm with ${degreesOfFreedom} degrees of freedom; both must be greater than zero, repeat some places`,
  );
}

/** variance of each height: the noise of the survey for as many readings, not below what the gauge resolves */
function nuggetOf({ places, noise, gauge }: Surface): readonly number[] {
  const usual = places.length / places.reduce((s, { count }) => s + 1 / count, 0);
  const floor = resolutionUncertainty(gauge).in("um") ** 2;
  return places.map(({ count }) => Math.max((noise.standardUncertaintyUm ** 2 * usual) / count, floor));
}

function referenceOf(name: HeightReference["name"], { x, y, z }: Places): HeightReference {
  if (name === "zero") return { name, slopeX: 0, slopeY: 0, offset: 0 };
  const { slopeX, slopeY, offset } = leastSquaresPlane(x, y, z);
  return { name, slopeX, slopeY, offset };
}
