import { readFileSync } from "node:fs";
import { checksum, planePoints } from "../generate.mjs";

/** Minimum zone plane, exact; `range` is max less min of the residuals over all points: no more than the zone. */
export default {
  id: "W2",
  variant: "minimum-zone",
  against: { python: "w2_minimum_zone.py", variant: "constraint-generation", ratio: 1 },
  sizes: [100, 1e4, 1e6],
  relative: { zone: 1e-11, range: 1e-11, a: 1e-9, b: 1e-9 },
  expected: JSON.parse(readFileSync(new URL("../expected/w2-minimum-zone.json", import.meta.url), "utf8")),

  make(size) {
    const points = planePoints(202, size);
    return { inputs: points, checksum: checksum(points.x, points.y, points.z) };
  },

  run: (points, { numerics }) => ({ points, found: numerics.minimumZonePlane(points.x, points.y, points.z) }),

  result({ points: { x, y, z }, found: { zone, slopeX, slopeY } }) {
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = 0; i < z.length; i++) {
      const r = z[i] - slopeX * x[i] - slopeY * y[i];
      low = Math.min(low, r);
      high = Math.max(high, r);
    }
    return { zone, range: high - low, a: slopeX, b: slopeY };
  },
};
