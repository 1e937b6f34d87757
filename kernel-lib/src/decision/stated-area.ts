import { type Area, area } from "../facing/index.js";
import { mm } from "../quantity/index.js";
import type { SurfacePlace } from "../survey/surface.js";

/** Peak to valley of heights in the minimum zone, µm, for the places with the indices given. */
export type FlatnessOver = (indices: readonly number[]) => number;

export interface StatedArea {
  readonly area: Area;
  /** the places of the map that lie in it */
  readonly indices: readonly number[];
}

/** lines between which rectangles are tried, at most, in each direction */
const mostLines = 16;

/**
 * Rectangles of a map with flatness within a limit, the largest one: sides on lines of probed places.
 *
 * A rectangle inside another is never less flat, so each is let grow as far back as it can.
 *
 * @returns undefined where no rectangle of at least two lines by two is within the limit
 */
export function largestArea(
  places: readonly SurfacePlace[],
  flatness: FlatnessOver,
  limitUm: number,
): StatedArea | undefined {
  const xs = lines(places.map((p) => p.xMm));
  const ys = lines(places.map((p) => p.yMm));
  let best: StatedArea | undefined;
  let bestSize = 0;
  for (let left = 0; left < xs.length - 1; left++) {
    for (let right = xs.length - 1; right > left; right--) {
      const width = xs[right]! - xs[left]!;
      let front = 0;
      let back = 1;
      while (back < ys.length) {
        const size = width * (ys[back]! - ys[front]!);
        const indices = within(places, xs[left]!, xs[right]!, ys[front]!, ys[back]!);
        const grows = size > bestSize && indices.length >= 4;
        if (!grows) {
          back += 1;
        } else if (flatness(indices) <= limitUm) {
          bestSize = size;
          best = { area: area(mm(xs[left]!), mm(xs[right]!), mm(ys[front]!), mm(ys[back]!)), indices };
          back += 1;
        } else {
          front += 1;
          back = Math.max(back, front + 1);
        }
      }
    }
  }
  return best;
}

function within(places: readonly SurfacePlace[], x1: number, x2: number, y1: number, y2: number): number[] {
  const inside = (p: SurfacePlace) => p.xMm >= x1 && p.xMm <= x2 && p.yMm >= y1 && p.yMm <= y2;
  return places.flatMap((p, i) => (inside(p) ? [i] : []));
}

/** the different coordinates; thinned evenly where there are many, the outermost kept */
function lines(values: readonly number[]): number[] {
  const all = [...new Set(values)].sort((a, b) => a - b);
  if (all.length <= mostLines) return all;
  return Array.from({ length: mostLines }, (_, i) => all[Math.round((i * (all.length - 1)) / (mostLines - 1))]!);
}
