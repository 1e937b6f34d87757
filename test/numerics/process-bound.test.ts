import { describe, expect, it } from "vitest";
import { families } from "../../kernel-lib/src/numerics/covariance-family.js";
import type { FittedProcess } from "../../kernel-lib/src/numerics/fitted-gaussian.js";
import { gaussianProcess, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { trendColumns } from "../../kernel-lib/src/numerics/kriging.js";
import { processBound, type Sized } from "../../kernel-lib/src/numerics/process-bound.js";
import { TrendSpace } from "../../kernel-lib/src/numerics/trend-space.js";

const random = randomStream(12);
const x = Array.from({ length: 25 }, () => 300 + 100 * random.uniform());
const y = Array.from({ length: 25 }, () => 60 * random.uniform());
const z = x.map((v, i) => 3 * Math.sin(v / 30) - y[i]! / 40 + 0.2 * random.normal());

/** e^(a + ib), real and imaginary part */
const exponential = (a: number, b: number) => [Math.exp(a) * Math.cos(b), Math.exp(a) * Math.sin(b)] as const;

/** size of the height where x (or y) has an imaginary part, by the sum over the places */
function heightAt({ size, system }: Sized, re: readonly [number, number], im: readonly [number, number]): number {
  const [c0, cx, cy] = system.coefficients as [number, number, number];
  let [real, imaginary] = [c0 + cx * re[0] + cy * re[1], cx * im[0] + cy * im[1]];
  system.weights.forEach((w, i) => {
    const [u, v] = [(re[0] - x[i]!) / size.lengthX, (re[1] - y[i]!) / size.lengthY];
    const [p, q] = [im[0] / size.lengthX, im[1] / size.lengthY];
    const [a, b] = exponential((p * p - u * u + q * q - v * v) / 2, -(u * p + v * q));
    real += w * size.variance * a;
    imaginary += w * size.variance * b;
  });
  return Math.hypot(real, imaginary);
}

describe("the bound of a process on an ellipse", () => {
  const process = gaussianProcess({ x, y, z }, { covariance: "squared exponential", nugget: 0.04 }) as FittedProcess;
  const places = { x: Float64Array.of(300, 400), y: Float64Array.of(0, 60) };
  const [px, py] = [Float64Array.from(x), Float64Array.from(y)];
  const parts = {
    x: px,
    y: py,
    z: Float64Array.from(z),
    family: families["squared exponential"],
    trend: new TrendSpace(trendColumns("plane", px, py), 25, "test"),
    nugget: px.map(() => 0.04),
    modes: [],
  };
  const bound = processBound(parts, process, places);
  const least = 1 / (1 / process.size.variance + 25 / (0.04 + process.size.noise));

  it.each(["x", "y"] as const)("is passed by no height where %s is complex", (axis) => {
    for (const rho of [1.3, 2, 4]) {
      const allowed = 1e-6 * Math.sqrt(least) * bound(axis, rho);
      const half = axis === "x" ? 50 : 30;
      for (let k = 0; k < 24; k++) {
        const [cos, sin] = [Math.cos((k * Math.PI) / 12), Math.sin((k * Math.PI) / 12)];
        const [along, aside] = [(half * (rho + 1 / rho) * cos) / 2, (half * (rho - 1 / rho) * sin) / 2];
        for (const other of [0, 0.5, 1]) {
          const re = axis === "x" ? ([350 + along, 60 * other] as const) : ([300 + 100 * other, 30 + along] as const);
          const im = axis === "x" ? ([aside, 0] as const) : ([0, aside] as const);
          expect(heightAt(process, re, im)).toBeLessThan(allowed);
        }
      }
    }
  });

  it("takes the least noise where it is not the same everywhere", () => {
    const uneven = { ...parts, nugget: parts.nugget.map((v, i) => (i === 7 ? v : 3 * v)) };
    // every part of the formula grows with the noise of a place, but for the least noise, which stays
    expect(processBound(uneven, process, places)("x", 2)).toBeGreaterThanOrEqual(bound("x", 2));
  });

  it("is what its formula says, written out", () => {
    const { size, system } = process;
    const noise = 0.04 + size.noise;
    const rho = 2;
    for (const axis of ["x", "y"] as const) {
      // (ρ + 1/ρ)/2 and (ρ − 1/ρ)/2 of the half range
      const reach = axis === "x" ? [1, 350 + 50 * 1.25, 60] : [1, 400, 30 + 30 * 1.25];
      const imaginary = (own: Sized["size"]) => (axis === "x" ? 37.5 / own.lengthX : 22.5 / own.lengthY);
      const growth = (own: Sized["size"]) => Math.exp(imaginary(own) ** 2 / 2);
      const height = (own: Sized) => {
        const sum = own.system.weights.reduce((s, w) => s + Math.abs(w), 0) * own.size.variance * growth(own.size);
        return own.system.coefficients.reduce((s, c, k) => s + Math.abs(c) * reach[k]!, sum);
      };
      const h = [0, 1, 2].reduce((s, k) => {
        const unit = [0, 1, 2].map((i) => (i === k ? 1 : 0));
        return s + reach[k]! * Math.hypot(...parts.trend.weights(unit));
      }, 0);
      const k = 5 * size.variance * growth(size);
      const trace = 25 * (size.variance + noise);
      const own = size.variance + 2 * h * k + h ** 2 * trace + (k + h * trace) ** 2 / noise;
      const variance = process.shifted.reduce((s, [less, more]) => s + ((height(less) + height(more)) / 2) ** 2, own);
      const expected = Math.max(variance / least, height({ size, system }) / Math.sqrt(least)) * 1e6;
      expect(bound(axis, rho) / expected).toBeCloseTo(1, 9);
    }
  });
});
