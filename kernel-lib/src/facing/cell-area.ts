import type { Surface } from "../survey/surface.js";

/** Area in mm² that each place of a map stands for: what of the probed rectangle is nearest to it, on a raster. */
export function cellAreasMm2({ places }: Surface): readonly number[] {
  const xs = places.map((p) => p.xMm);
  const ys = places.map((p) => p.yMm);
  const [left, front] = [Math.min(...xs), Math.min(...ys)];
  const [width, height] = [Math.max(...xs) - left, Math.max(...ys) - front];
  const steps = 120;
  const cell = (width * height) / steps ** 2;
  const areas = places.map(() => 0);
  for (let i = 0; i < steps; i++) {
    for (let j = 0; j < steps; j++) {
      const k = nearest(places, left + ((i + 0.5) * width) / steps, front + ((j + 0.5) * height) / steps);
      areas[k] = areas[k]! + cell;
    }
  }
  return areas;
}

function nearest(places: Surface["places"], x: number, y: number): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (const [k, p] of places.entries()) {
    const distance = (p.xMm - x) ** 2 + (p.yMm - y) ** 2;
    if (distance < least) {
      least = distance;
      best = k;
    }
  }
  return best;
}

/** the four nearest places with weights by the square of their distance; a place that is hit counts alone */
export function nearestPlaces({ places }: Surface, x: number, y: number): { index: number; weight: number }[] {
  const near = places
    .map((p, index) => ({ index, square: (p.xMm - x) ** 2 + (p.yMm - y) ** 2 }))
    .toSorted((a, b) => a.square - b.square)
    .slice(0, 4);
  if (near[0]!.square < 1e-12) return [{ index: near[0]!.index, weight: 1 }];
  const total = near.reduce((sum, { square }) => sum + 1 / square, 0);
  return near.map(({ index, square }) => ({ index, weight: 1 / square / total }));
}
