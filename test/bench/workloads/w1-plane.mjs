import { readFileSync } from "node:fs";
import { checksum, planePoints } from "../generate.mjs";

/** Least-squares plane and peak to valley of its residuals, points in three arrays. */
export default {
  id: "W1",
  variant: "plane",
  against: { python: "w1_plane.py", variant: "normal-equations-blocked", ratio: 1 },
  sizes: [1e4, 1e5, 1e6],
  relative: 1e-10,
  expected: JSON.parse(readFileSync(new URL("../expected/w1-plane.json", import.meta.url), "utf8")),

  make(size) {
    const points = planePoints(101, size);
    return { inputs: points, checksum: checksum(points.x, points.y, points.z) };
  },

  run: ({ x, y, z }, { numerics }) => numerics.leastSquaresPlane(x, y, z),

  result: ({ slopeX, slopeY, offset, highest, lowest }) => ({
    a: slopeX,
    b: slopeY,
    c: offset,
    pv: highest - lowest,
  }),
};
