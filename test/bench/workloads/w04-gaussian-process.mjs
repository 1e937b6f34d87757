import { readFileSync } from "node:fs";
import { checksum, scatteredPoints, unitGrid } from "../generate.mjs";

/** Gaussian process, squared exponential with fitted noise; mean and standard deviation of a new reading on 100 × 100 crossings. */
export default {
  id: "W4",
  variant: "gaussian-process",
  against: { python: "w04_gaussian_process.py", variant: "sklearn-gpr", ratio: 1 },
  sizes: [150, 300, 600],
  /** above 3,000 places a Gaussian process is refused */
  growth: [30, 300, 3000],
  slowFrom: 3000,
  relative: {
    lml: 1e-7,
    amplitude2: 5e-3,
    length: 5e-3,
    noise2: 5e-3,
    mean_of_mean: 1e-3,
    mean_50_50: 1e-3,
    mean_of_sd: 1e-3,
    sd_0_0: 1e-3,
    sd_50_50: 1e-3,
  },
  expected: JSON.parse(readFileSync(new URL("../expected/w04-gaussian-process.json", import.meta.url), "utf8")),

  make(size) {
    const points = scatteredPoints(404, size, 0.1);
    return { inputs: { points, grid: unitGrid(100) }, checksum: checksum(points.x, points.y, points.z) };
  },

  run({ points: { x, y, z }, grid }, { numerics }) {
    const middle = z.reduce((s, v) => s + v, 0) / z.length;
    const found = numerics.gaussianProcess(
      { x, y, z: z.map((v) => v - middle) },
      {
        covariance: "squared exponential",
        trend: "none",
        isotropic: true,
        fitNoise: true,
        nugget: 1e-10,
        start: { variance: 1, lengthX: 0.3, noise: 0.01 },
        bounds: { variance: [1e-3, 1e3], lengthX: [1e-2, 10], noise: [1e-6, 10] },
      },
    );
    return { middle, found, grid: found.predict(grid.x, grid.y) };
  },

  result({ middle, found: { size, logLikelihood }, grid: { mean, standardUncertainty } }) {
    const average = (values) => values.reduce((s, v) => s + v, 0) / values.length;
    const sd = standardUncertainty.map((u) => Math.sqrt(u * u + size.noise));
    return {
      lml: logLikelihood,
      amplitude2: size.variance,
      length: size.lengthX,
      noise2: size.noise,
      mean_of_mean: average(mean) + middle,
      mean_50_50: mean[5050] + middle,
      mean_of_sd: average(sd),
      sd_0_0: sd[0],
      sd_50_50: sd[5050],
    };
  },
};
