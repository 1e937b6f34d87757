import { describe, expect, it } from "vitest";
import { randomStream, thinPlateSpline } from "../../kernel-lib/src/numerics/index.js";
import { directSums } from "../../kernel-lib/src/numerics/radial-sums.js";
import { tiledSums } from "../../kernel-lib/src/numerics/radial-tiles.js";
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

  it("sums through tiles what it sums term by term, to 1e-13 of the sizes", () => {
    const stream = randomStream(3);
    const draw = (n: number) => Float64Array.from({ length: n }, () => stream.uniform());
    const sources = { x: draw(400), y: draw(400), weights: draw(400).map((v) => v - 0.5) };
    const [x, y] = [draw(30_000), draw(30_000)];
    const [near, far] = [directSums(sources, x, y), tiledSums(sources, x, y)];
    const size = sources.weights.reduce((s, w) => s + Math.abs(w), 0);
    let worst = 0;
    near.forEach((value, i) => {
      worst = Math.max(worst, Math.abs(value - far[i]!) / size);
    });
    expect(worst).toBeLessThan(1e-13);
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
