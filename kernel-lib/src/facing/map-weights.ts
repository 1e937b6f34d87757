import type { Surface } from "../survey/surface.js";
import { nearestPlaces } from "./cell-area.js";

/** Shares of the places of a map in the height at a spot. */
export type PlaceWeights = readonly { readonly index: number; readonly weight: number }[];

/**
 * How the height between the places follows from them: bilinear in a cell of a grid, otherwise from the four nearest
 * places. Beyond the outermost places their height is carried on.
 */
export function mapWeights(map: Pick<Surface, "places">): (xMm: number, yMm: number) => PlaceWeights {
  const xs = distinct(map.places.map((p) => p.xMm));
  const ys = distinct(map.places.map((p) => p.yMm));
  const known = new Map(map.places.map((p, index) => [`${p.xMm} ${p.yMm}`, index]));
  const isGrid = xs.length > 1 && ys.length > 1 && map.places.length >= 0.5 * xs.length * ys.length;
  return (xMm, yMm) => {
    const corners = isGrid ? cornersOf(xs, ys, xMm, yMm) : [];
    const found = corners.flatMap(({ x, y, weight }) => {
      const index = known.get(`${x} ${y}`);
      return index === undefined ? [] : [{ index, weight }];
    });
    return found.length === 4 ? found : nearestPlaces(map as Surface, xMm, yMm);
  };
}

function cornersOf(xs: readonly number[], ys: readonly number[], xMm: number, yMm: number) {
  const [a, b] = [cell(xs, xMm), cell(ys, yMm)];
  return [
    { x: a.from, y: b.from, weight: (1 - a.part) * (1 - b.part) },
    { x: a.to, y: b.from, weight: a.part * (1 - b.part) },
    { x: a.from, y: b.to, weight: (1 - a.part) * b.part },
    { x: a.to, y: b.to, weight: a.part * b.part },
  ];
}

function cell(lines: readonly number[], value: number) {
  const above = lines.findIndex((line) => line > value);
  const i = above < 0 ? lines.length - 2 : Math.max(0, above - 1);
  const [from, to] = [lines[i]!, lines[i + 1]!];
  return { from, to, part: Math.min(1, Math.max(0, (value - from) / (to - from))) };
}

function distinct(values: readonly number[]): readonly number[] {
  return [...new Set(values)].toSorted((a, b) => a - b);
}
