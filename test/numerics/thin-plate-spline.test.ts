import { describe, expect, it } from "vitest";
import { withDense } from "../../kernel-lib/src/numerics/dense.js";
import { randomStream, thinPlateSpline } from "../../kernel-lib/src/numerics/index.js";
import { directSums } from "../../kernel-lib/src/numerics/radial-sums.js";
import { treeSums } from "../../kernel-lib/src/numerics/radial-tree.js";
import { refusal } from "../refusal.js";

const scattered = (seed: number, n: number) => {
  const stream = randomStream(seed);
  const x = Array.from({ length: n }, () => 400 * stream.uniform());
  const y = Array.from({ length: n }, () => 150 * stream.uniform());
  return { x, y, z: x.map((v, i) => 10 * Math.sin(v / 90) - y[i]! / 30 + stream.normal()) };
};

describe("a thin-plate spline", () => {
  it("reproduces any plane and passes through its nodes to 1e-10 (identities)", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const { x, y, z } = scattered(seed, 12 + seed);
      const plane = (px: number, py: number) => 2 + 0.03 * px - 0.05 * py;
      const flat = { x, y, z: x.map((v, i) => plane(v, y[i]!)) };
      for (const options of [{ smoothing: 0 }, { smoothing: 50 }, {}]) {
        const [height] = thinPlateSpline(flat, options).heights([500], [-100]);
        expect(Math.abs(height! - plane(500, -100))).toBeLessThan(1e-8);
      }
      const through = thinPlateSpline({ x, y, z }, { smoothing: 0 }).heights(x, y);
      expect(Math.max(...z.map((v, i) => Math.abs(v - through[i]!)))).toBeLessThan(1e-10);
    }
  });

  it("scales with its heights, turns with its places, and is the same in another order", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const { x, y, z } = scattered(seed, 30);
      const [one] = thinPlateSpline({ x, y, z }).heights([200], [75]);
      const [tripled] = thinPlateSpline({ x, y, z: z.map((v) => 3 * v) }).heights([200], [75]);
      expect(tripled! / one!).toBeCloseTo(3, 9);
      const turned = { x: [...y].reverse().map((v) => -v), y: [...x].reverse(), z: [...z].reverse() };
      expect(thinPlateSpline(turned).heights([-75], [200])[0]).toBeCloseTo(one!, 8);
    }
  });

  it("leaves a point out by formula as by leaving it out", () => {
    const { x, y, z } = scattered(5, 20);
    const { residuals } = thinPlateSpline({ x, y, z }, { smoothing: 100 }).leaveOneOut();
    for (const i of [0, 7, 19]) {
      const rest = [x, y, z].map((list) => list.filter((_, k) => k !== i)) as [number[], number[], number[]];
      const without = thinPlateSpline({ x: rest[0], y: rest[1], z: rest[2] }, { smoothing: 100 });
      expect(z[i]! - without.heights([x[i]!], [y[i]!])[0]!).toBeCloseTo(residuals[i]!, 8);
    }
  });

  it("smooths by cross-validation nearly as well as the best smoothing would have done", () => {
    let [chosen, best] = [0, 0];
    for (let seed = 100; seed < 130; seed++) {
      const { x, y, z } = scattered(seed, 60);
      const missed = (smoothing?: number) => {
        const found = thinPlateSpline({ x, y, z }, smoothing === undefined ? {} : { smoothing }).heights(x, y);
        return x.reduce((s, v, i) => s + (found[i]! - 10 * Math.sin(v / 90) + y[i]! / 30) ** 2, 0);
      };
      chosen += missed();
      best += Math.min(...[1, 10, 100, 1e3, 1e4, 1e5, 1e6].map((smoothing) => missed(smoothing)));
    }
    expect(chosen / best).toBeLessThan(1.35);
  });

  describe("sums through series what it sums term by term, to 1e-15 of the sizes", () => {
    const stream = randomStream(3);
    const draw = (n: number, low = 0, high = 1) =>
      Float64Array.from({ length: n }, () => low + (high - low) * stream.uniform());
    const sources = { x: draw(400), y: draw(400), weights: draw(400, -0.5, 0.5) };
    const own = (k: number) => [sources.x[k % 400]!, sources.y[k % 400]!] as const;
    const raster = Float64Array.from({ length: 2500 }, (_, k) => k);
    it.each([
      ["at random", draw(3000), draw(3000)],
      ["a few", draw(30), draw(30)],
      ["on crossings", raster.map((k) => (k % 50) / 49), raster.map((k) => Math.floor(k / 50) / 49)],
      ["on a long field", draw(3000, -4, 8), draw(3000, 0.4, 0.5)],
      ["on a line", draw(500), new Float64Array(500).fill(0.3)],
      ["in one place", new Float64Array(500).fill(0.3), new Float64Array(500).fill(0.3)],
      ["in the place of a source", new Float64Array(500).fill(own(0)[0]), new Float64Array(500).fill(own(0)[1])],
      ["on the sources", raster.map((k) => own(k)[0]), raster.map((k) => own(k)[1])],
      ["crowded", draw(3000).map((v) => v ** 9), draw(3000).map((v) => v ** 9)],
      ["far away", draw(3000, 50, 51), draw(3000, -71, -70)],
    ])("%s", (_, x, y) => {
      const [each, series] = [directSums(sources, x, y), treeSums(sources, x, y)];
      each.forEach((value, i) => {
        const size = sources.weights.reduce((sum, w, k) => {
          const square = (x[i]! - sources.x[k]!) ** 2 + (y[i]! - sources.y[k]!) ** 2;
          return sum + Math.abs(w) * square * (1 + Math.abs(Math.log(square || 1)));
        }, 0);
        expect(Math.abs(value - series[i]!)).toBeLessThan(1e-15 * size);
      });
    });

    it("in plain numbers as in compiled ones", () => {
      const [x, y] = [draw(2000), draw(2000)];
      const plain = withDense(1, 1, () => treeSums(sources, x, y));
      for (const [i, value] of treeSums(sources, x, y).entries()) expect(value).toBeCloseTo(plain[i]!, 13);
    });
  });

  it("refuses points on a line, two at one place, and a negative smoothing", () => {
    const z = [1, 2, 3, 4];
    expect(refusal(() => thinPlateSpline({ x: [0, 1, 2, 3], y: [0, 1, 2, 3], z }))).toEqual({
      code: "rank-deficient",
      message:
        "thinPlateSpline: column 3 of 3 is a sum of the columns before it; leave it out, or add readings that tell them apart",
    });
    expect(
      refusal(() => thinPlateSpline({ x: [0, 0, 1, 2, 5], y: [0, 0, 3, 2, 1], z: [...z, 5] }, { smoothing: 0 })).code,
    ).toBe("same-place");
    expect(refusal(() => thinPlateSpline({ x: [0, 0, 1, 2], y: [0, 1, 3, 2], z }, { smoothing: -1 }))).toEqual({
      code: "smoothing",
      message: "thinPlateSpline: smoothing -1; give zero or a number above it, or leave it out for cross-validation",
    });
  });
});
