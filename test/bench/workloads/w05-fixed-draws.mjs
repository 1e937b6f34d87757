import { readFileSync } from "node:fs";
import { checksum, uniforms } from "../generate.mjs";
import { comparison, estimates, widths } from "./shared/comparison.mjs";

const turn = 2 * Math.PI;

/** The same figures from draws that are the same bits in every language: for the results, not for a claim of speed. */
export default {
  id: "W5",
  variant: "fixed-draws",
  against: { python: "w05_fixed_draws.py", variant: "fixed-draws", ratio: "none" },
  sizes: [1e5, 1e6],
  relative: 1e-9,
  expected: JSON.parse(readFileSync(new URL("../expected/w05-fixed-draws.json", import.meta.url), "utf8")),

  make(size) {
    const draws = Array.from({ length: 19 }, (_, j) => uniforms(505, j * size, size));
    return { inputs: draws, checksum: checksum(...draws) };
  },

  run(draws, { numerics }) {
    const values = new Float64Array(draws[0].length);
    for (let i = 0; i < values.length; i++) values[i] = trial(draws, i);
    return numerics.summariseSample(values);
  },

  result: ({ mean, standardDeviation, shortest: [low, high] }) => ({
    mean,
    u: standardDeviation,
    width: high - low,
    low,
    high,
  }),
};

function trial(u, i) {
  const radius = Math.sqrt(-2 * Math.log(1 - u[0][i]));
  const first = radius * Math.cos(turn * u[1][i]);
  const second = radius * Math.sin(turn * u[1][i]);
  const third = Math.sqrt(-2 * Math.log(1 - u[2][i])) * Math.cos(turn * u[3][i]);
  let product = 1 - u[4][i];
  for (let j = 5; j < 13; j++) product *= 1 - u[j][i];
  const chiSquared = -2 * Math.log(product);
  return comparison(
    estimates[0] + widths[0] * (first / Math.sqrt(chiSquared / 18)),
    estimates[1] + widths[1] * second,
    widths[2] * (2 * u[13][i] - 1),
    estimates[3] + widths[3] * third,
    widths[4] * Math.sin(turn * u[14][i]),
    estimates[5] + widths[5] * (2 * u[15][i] - 1),
    widths[6] * (u[16][i] + u[17][i] - 1),
    widths[7] * (2 * u[18][i] - 1),
  );
}
