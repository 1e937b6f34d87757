import { readFileSync } from "node:fs";
import { checksum, quadraticPoints } from "../generate.mjs";

/** Huber's estimate of a quadratic surface: columns 1, x, y, x², xy, y²; one reading in twenty stands 2 to 5 too high. */
export default {
  id: "W9",
  variant: "robust-surface",
  against: { python: "w9_robust_surface.py", variant: "numpy-irls-blocked", ratio: 1 },
  sizes: [1e4, 1e5],
  relative: { b0: 1e-9, b1: 1e-9, b2: 1e-9, b3: 1e-9, b4: 1e-9, b5: 1e-9, scale: 1e-8 },
  expected: JSON.parse(readFileSync(new URL("../expected/w9-robust-surface.json", import.meta.url), "utf8")),

  make(size) {
    const points = quadraticPoints(909, size);
    return { inputs: points, checksum: checksum(points.x, points.y, points.z) };
  },

  run({ x, y, z }, { numerics }) {
    const columns = Array.from({ length: 6 }, () => new Float64Array(z.length));
    const [one, cx, cy, xx, xy, yy] = columns;
    for (let i = 0; i < z.length; i++) {
      one[i] = 1;
      cx[i] = x[i];
      cy[i] = y[i];
      xx[i] = x[i] * x[i];
      xy[i] = x[i] * y[i];
      yy[i] = y[i] * y[i];
    }
    return numerics.huberFit(columns, z);
  },

  result: ({ coefficients: [b0, b1, b2, b3, b4, b5], scale }) => ({ b0, b1, b2, b3, b4, b5, scale }),
};
