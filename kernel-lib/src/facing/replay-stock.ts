import type { Surface } from "../survey/surface.js";
import { nearestPlaces } from "./cell-area.js";
import type { ReplayShop } from "./replay-shop.js";

/** The plate's top as a grid of heights: rows along the feed, one height a cell, in mm over Z0. */
export interface Stock {
  readonly pitchMm: number;
  /** middles of the cells along the feed and across it, in mm of the map */
  readonly along: readonly number[];
  readonly across: readonly number[];
  /** as found; cell (i along, j across) at j × along.length + i */
  readonly foundMm: Float64Array;
  readonly heightMm: Float64Array;
  /** cells between the outermost places probed; nothing is known outside */
  readonly isProbed: Uint8Array;
  /** cells that the rim passed at the last planned depth */
  readonly isSwept: Uint8Array;
  /** highest found, over Z0 */
  readonly topMm: number;
}

/** As found: the map's heights over Z0, between the places by distance; outside the probed ones the nearest go on. */
export function stockOf(surface: Surface, touchOffUm: number, shop: ReplayShop, pitchMm: number): Stock {
  const [s, t] = shop.feedAlong === "x" ? [shop.plate.x, shop.plate.y] : [shop.plate.y, shop.plate.x];
  const along = middles(s, pitchMm);
  const across = middles(t, pitchMm);
  const count = along.length * across.length;
  const foundMm = new Float64Array(count);
  const isProbed = new Uint8Array(count);
  const xs = surface.places.map((p) => p.xMm);
  const ys = surface.places.map((p) => p.yMm);
  const [left, right, front, back] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const coarse = coarseHeights(surface, touchOffUm, shop, Math.min(48, Math.max(along.length, across.length)));
  for (const [j, b] of across.entries()) {
    for (const [i, a] of along.entries()) {
      const [x, y] = shop.feedAlong === "x" ? [a, b] : [b, a];
      const cell = j * along.length + i;
      foundMm[cell] = coarse(x, y);
      isProbed[cell] = x >= left && x <= right && y >= front && y <= back ? 1 : 0;
    }
  }
  return {
    pitchMm,
    along,
    across,
    foundMm,
    heightMm: Float64Array.from(foundMm),
    isProbed,
    isSwept: new Uint8Array(count),
    topMm: foundMm.reduce((most, z) => Math.max(most, z), Number.NEGATIVE_INFINITY),
  };
}

function middles([from, to]: readonly [number, number], pitchMm: number): number[] {
  const count = Math.max(2, Math.round((to - from) / pitchMm));
  return Array.from({ length: count }, (_, i) => from + ((i + 0.5) * (to - from)) / count);
}

/** Heights at the nodes of a raster no finer than the map needs, bilinear between them: the search for neighbours is
 * made once a node, not once a cell. */
function coarseHeights(
  surface: Surface,
  touchOffUm: number,
  { plate }: ReplayShop,
  steps: number,
): (x: number, y: number) => number {
  const node = (side: readonly [number, number], i: number) => side[0] + ((side[1] - side[0]) * i) / steps;
  const heights = Array.from({ length: (steps + 1) ** 2 }, (_, k) => {
    const near = nearestPlaces(surface, node(plate.x, k % (steps + 1)), node(plate.y, Math.floor(k / (steps + 1))));
    return (near.reduce((sum, { index, weight }) => sum + weight * surface.places[index]!.zUm, 0) - touchOffUm) / 1000;
  });
  const at = (i: number, j: number) => heights[j * (steps + 1) + i]!;
  return (x, y) => {
    const u = (steps * (x - plate.x[0])) / (plate.x[1] - plate.x[0]);
    const v = (steps * (y - plate.y[0])) / (plate.y[1] - plate.y[0]);
    const [i, j] = [Math.min(steps - 1, Math.floor(u)), Math.min(steps - 1, Math.floor(v))];
    const [p, q] = [u - i, v - j];
    return (1 - q) * ((1 - p) * at(i, j) + p * at(i + 1, j)) + q * ((1 - p) * at(i, j + 1) + p * at(i + 1, j + 1));
  };
}
