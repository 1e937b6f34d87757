import { colourAt, heightScale } from "../colour.js";
import type { Projection } from "../projection.js";
import type { SurfacePlan } from "../surface-plan.js";
import type { ViewPlace } from "../view.js";
import { closedPath, element } from "./svg.js";

/** a corner, or a place between corners */
interface Spot {
  readonly u: number;
  readonly v: number;
  readonly value: number;
}

/** The skin over the places: each piece split small for its colour, farther pieces first. */
export function skin(plan: SurfacePlan, projection: Projection): string {
  const { places, facets } = plan.sheet;
  const parts = facets.length <= 160 ? 3 : facets.length <= 600 ? 2 : 1;
  return facets
    .map((facet) => facet.map((i) => places[i]!))
    .map((corners) => ({ corners, far: projection.depth(mean(corners, "u"), mean(corners, "v")) }))
    .sort((a, b) => b.far - a.far)
    .map(({ corners }) => piece(plan, projection, corners, parts))
    .join("");
}

function piece(plan: SurfacePlan, projection: Projection, corners: readonly ViewPlace[], parts: number): string {
  const rim = { stroke: "#3c3c3c", "stroke-width": 0.4, "stroke-opacity": 0.45 };
  const colour = (part: readonly Spot[]) => colourAt(heightScale, (mean(part, "value") / plan.limit + 1) / 2);
  if (parts === 1) return element("path", { d: path(projection, corners), fill: colour(corners), ...rim });
  const small = split(corners, parts).sort(
    (a, b) => projection.depth(mean(b, "u"), mean(b, "v")) - projection.depth(mean(a, "u"), mean(a, "v")),
  );
  const fills = small.map((part) => {
    const fill = colour(part);
    return element("path", { d: path(projection, part), fill, stroke: fill, "stroke-width": 0.5 });
  });
  return [...fills, element("path", { d: path(projection, corners), fill: "none", ...rim })].join("");
}

function path({ to }: Projection, spots: readonly Spot[]): string {
  return closedPath(spots.map(({ u, v, value }) => to(u, v, value)));
}

/** A four-sided piece into parts × parts; a triangle into parts² triangles. */
function split(corners: readonly Spot[], parts: number): Spot[][] {
  const [a, b, c, d] = corners as readonly [Spot, Spot, Spot, Spot?];
  const steps = Array.from({ length: parts }, (_, i) => i);
  const at = (i: number, j: number): Spot =>
    d === undefined ? inTriangle(a, b, c, i / parts, j / parts) : inCell(a, b, c, d, i / parts, j / parts);
  return steps.flatMap((i) =>
    steps.flatMap((j) => {
      if (d !== undefined) return [[at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)]];
      if (i + j >= parts) return [];
      const lower = [at(i, j), at(i + 1, j), at(i, j + 1)];
      return i + j + 1 < parts ? [lower, [at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)]] : [lower];
    }),
  );
}

function inCell(a: Spot, b: Spot, c: Spot, d: Spot, p: number, q: number): Spot {
  return blend([a, b, c, d], [(1 - p) * (1 - q), p * (1 - q), p * q, (1 - p) * q]);
}

function inTriangle(a: Spot, b: Spot, c: Spot, p: number, q: number): Spot {
  return blend([a, b, c], [1 - p - q, p, q]);
}

function blend(spots: readonly Spot[], weights: readonly number[]): Spot {
  const sum = (of: (spot: Spot) => number): number =>
    spots.reduce((total, spot, i) => total + weights[i]! * of(spot), 0);
  return { u: sum(({ u }) => u), v: sum(({ v }) => v), value: sum(({ value }) => value) };
}

function mean(spots: readonly Spot[], of: "u" | "v" | "value"): number {
  return spots.reduce((sum, spot) => sum + spot[of], 0) / spots.length;
}
