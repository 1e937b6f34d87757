import { MeasurementError } from "../measurement-error.js";
import type { Surface } from "../survey/surface.js";
import { caveatSentences, withCaveats } from "../uncertainty/caveat.js";
import { counted } from "../words.js";

/** A map of heights, or whatever gives one: a survey sheet does. */
export type SurfaceSource = Surface | { surface(): Surface };

/** The places of a map as columns. */
export interface Places {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly z: readonly number[];
}

export function surfaceOf(source: SurfaceSource): Surface {
  return "surface" in source ? source.surface() : source;
}

/** A sentence about a map, with what is open in the health check of its survey behind it. */
export function withOpenFindings(sentence: string, { caveat }: Pick<Surface, "caveat">): string {
  return withCaveats(sentence, caveatSentences([caveat]));
}

/** A map of some of its places, with their part of the drift. */
export function partOf(surface: Surface, kept: readonly number[]): Surface {
  const { drift } = surface;
  return {
    ...surface,
    places: kept.map((i) => surface.places[i]!),
    ...(drift && { drift: { ...drift, modesUm: drift.modesUm.map((mode) => kept.map((i) => mode[i]!)) } }),
  };
}

/**
 * The places of a map, refused where no plane can be told from them.
 *
 * @throws MeasurementError `too-few-places`, `not-finite`, `same-place`, `on-a-line`, `steep`
 */
export function placesOf(where: string, surface: Surface, least = 4): Places {
  const { name, places } = surface;
  if (!(places.length >= least)) {
    throw new MeasurementError(
      "too-few-places",
      `${where}: ${name} has ${counted(places.length, "place")}; ${least} are needed at least, measure more`,
    );
  }
  const bad = places.filter((p) => !Number.isFinite(p.xMm + p.yMm + p.zUm)).map((p) => p.label);
  if (bad.length > 0) {
    throw new MeasurementError(
      "not-finite",
      `${where}: ${bad.length} of ${places.length} places of ${name} have no height or no place (${listed(bad)}); measure them, or leave them out of the list`,
    );
  }
  refuseDoubles(where, surface);
  const columns = { x: places.map((p) => p.xMm), y: places.map((p) => p.yMm), z: places.map((p) => p.zUm) };
  refuseLine(where, surface, columns);
  const plan = Math.max(range(columns.x), range(columns.y));
  if (!(range(columns.z) / 1000 < plan / 10)) {
    throw new MeasurementError(
      "steep",
      `${where}: the heights of ${name} range over ${(range(columns.z) / 1000).toPrecision(3)} mm where the places range over ${plan} mm; heights are in µm and places in mm, look for a wrong unit`,
    );
  }
  return columns;
}

/**
 * Refuses a map with a hole across its whole middle: its ends alone say nothing sure of what bends between them.
 *
 * @throws MeasurementError `hole`
 */
export function needMiddle(where: string, { name }: Surface, { x, y }: Places): void {
  for (const [axis, values] of [
    ["x", x],
    ["y", y],
  ] as const) {
    const low = Math.min(...values);
    const span = range(values);
    const middle = (v: number) => v >= low + span / 3 - 1e-9 * span && v <= low + (2 * span) / 3 + 1e-9 * span;
    if (values.some(middle)) continue;
    const [from, to] = [low + span / 3, low + (2 * span) / 3].map((v) => v.toFixed(0));
    throw new MeasurementError(
      "hole",
      `${where}: ${name} has no place between ${axis} ${from} and ${to} mm, its places fall apart into two groups; bow ${axis} cannot be told across the hole, probe places in it or take the groups one by one`,
    );
  }
}

/** greatest less least */
export function range(values: ArrayLike<number>): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const v = values[i]!;
    if (v < low) low = v;
    if (v > high) high = v;
  }
  return high - low;
}

function refuseDoubles(where: string, { name, places }: Surface): void {
  const seen = new Map<string, string>();
  for (const { label, xMm, yMm } of places) {
    const place = `${xMm} ${yMm}`;
    const before = seen.get(place);
    if (before !== undefined) {
      throw new MeasurementError(
        "same-place",
        `${where}: ${before} and ${label} of ${name} are both at x ${xMm} mm, y ${yMm} mm; give repeats of a place as passes, not as places`,
      );
    }
    seen.set(place, label);
  }
}

function refuseLine(where: string, { name, places }: Surface, { x, y }: Places): void {
  const mean = (v: readonly number[]) => v.reduce((s, a) => s + a, 0) / v.length;
  const [mx, my] = [mean(x), mean(y)];
  const moment = (a: readonly number[], b: readonly number[], ma: number, mb: number) =>
    a.reduce((s, v, i) => s + (v - ma) * (b[i]! - mb), 0);
  const [xx, yy, xy] = [moment(x, x, mx, mx), moment(y, y, my, my), moment(x, y, mx, my)];
  // smaller over larger principal spread of the places
  const larger = (xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy);
  if ((xx * yy - xy * xy) / larger > 1e-9 * larger) return;
  throw new MeasurementError(
    "on-a-line",
    `${where}: the ${places.length} places of ${name} lie on one line; measure at least one place beside it`,
  );
}

/** five at most, the others counted */
export function listed(labels: readonly string[]): string {
  return labels.length > 5 ? `${labels.slice(0, 5).join(", ")} and ${labels.length - 5} more` : labels.join(", ");
}
