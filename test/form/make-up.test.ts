import { describe, expect, it } from "vitest";
import { localHighs, makeUp } from "../../kernel-lib/src/form/index.js";
import { grid, mapOf, planted } from "./planted.js";

describe("makeUp", () => {
  it("gives back the planted terms in the trade's names: rise per length, middle above the ends, corner out of plane", () => {
    // a table that rises 30 µm/m in x, falls 20 µm/m in y, is 15 µm hollow along x, 8 µm round along y, twisted by 12 µm
    const form = (x: number, y: number) => {
      const [u, v] = [(x - 225) / 225, (y - 160) / 160];
      return 0.03 * x - 0.02 * y - 15 * (1 - u * u) + 8 * (1 - v * v) + 3 * u * v;
    };
    const found = makeUp(planted({ form, noiseUm: 1e-6, passes: 2, seed: 1 }).surface);
    expect(found.tiltX.amplitude.in("um/m")).toBeCloseTo(30, 3);
    expect(found.tiltY.amplitude.in("um/m")).toBeCloseTo(-20, 3);
    expect(found.bowX.amplitude.in("um")).toBeCloseTo(-15, 3);
    expect(found.bowY.amplitude.in("um")).toBeCloseTo(8, 3);
    expect(found.twist.amplitude.in("um")).toBeCloseTo(12, 3);
    const corner = (x: number, y: number) =>
      form(x, y) + 15 * (1 - ((x - 225) / 225) ** 2) - 8 * (1 - ((y - 160) / 160) ** 2);
    expect(corner(450, 320) - corner(450, 0) - corner(0, 320) + corner(0, 0)).toBeCloseTo(12, 9);
    expect(found.terms.reduce((sum, t) => sum + t.share, found.rest.share)).toBeCloseTo(1, 12);
  });

  it("holds planted terms within U, and finds p-values of nothing spread evenly over 0 to 1", () => {
    let held = 0;
    let below = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const found = makeUp(planted({ form: (x) => 0.05 * x, noiseUm: 2, passes: 2, seed }).surface);
      const off = Math.abs(found.tiltX.amplitude.in("um/m") - 50);
      held += off <= found.tiltX.amplitude.expandedUncertainty().in("um/m") ? 1 : 0;
      below += found.twist.beyondGauge.p < 0.5 ? 1 : 0;
      expect(found.tiltX.beyondGauge.p).toBeLessThan(1e-6);
    }
    console.log(`tilt held ${held} of 100, p of no twist below one half ${below} of 100`);
    // 99.9 % bands of 100 at 0.95 and at 0.5
    expect(held).toBeGreaterThanOrEqual(87);
    expect(Math.abs(below - 50)).toBeLessThanOrEqual(16);
  });

  it("refuses places in two rows only, and too few", () => {
    const places = (count: number) => grid.slice(0, count).map((p) => ({ ...p, zUm: p.xMm % 7, count: 2 }));
    expect(() => makeUp(mapOf(places(8)))).toThrow("makeUp: planted map has 8 places; 9 are needed at least");
    expect(() => makeUp(mapOf(places(20)))).toThrow(
      "makeUp: planted map has 2 rows along y; a bow needs three at least, measure one between",
    );
  });

  it("refuses a hole across the whole table and says which term cannot be told across it", () => {
    const apart = grid.filter((p) => p.xMm <= 100 || p.xMm >= 350).map((p) => ({ ...p, zUm: p.xMm % 7, count: 2 }));
    expect(() => makeUp(mapOf(apart))).toThrow(
      "makeUp: planted map has no place between x 150 and 300 mm, its places fall apart into two groups; bow x cannot be told across the hole, probe places in it or take the groups one by one",
    );
    expect(() => localHighs(mapOf(apart))).toThrow("localHighs: planted map has no place between x 150 and 300 mm");
  });
});
