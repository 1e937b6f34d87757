import { readFileSync } from "node:fs";
import { checksum, scatteredPoints, unitGrid } from "../../generate.mjs";

/** Thin-plate spline through scattered places, heights on 200 × 200 crossings; fit and heights are both timed. */
export function spline(variant, smoothing, against) {
  return {
    id: "W3",
    variant,
    against,
    sizes: [500, 2000],
    relative: { mean: 1e-8, min: 1e-8, max: 1e-8, g_100_100: 1e-8, g_17_150: 1e-8 },
    expected: JSON.parse(readFileSync(new URL(`../../expected/w03-${variant}.json`, import.meta.url), "utf8")),

    make(size) {
      const points = scatteredPoints(303, size, 0.05);
      return { inputs: { points, grid: unitGrid(200) }, checksum: checksum(points.x, points.y, points.z) };
    },

    run: ({ points, grid }, { numerics }) => numerics.thinPlateSpline(points, { smoothing }).heights(grid.x, grid.y),

    result: (heights) => ({
      mean: heights.reduce((s, v) => s + v, 0) / heights.length,
      min: heights.reduce((least, v) => Math.min(least, v)),
      max: heights.reduce((most, v) => Math.max(most, v)),
      g_100_100: heights[100 * 200 + 100],
      g_17_150: heights[150 * 200 + 17],
    }),
  };
}
