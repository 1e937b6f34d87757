import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { minimumZonePlane, minimumZoneWidths } from "../../kernel-lib/src/numerics/minimum-zone.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { type Columns, pointSet } from "./point-sets.js";

/**
 * The minimum zone by trying everything: the slab of all points is as thick as the thickest slab that four of them need
 * (duality). Four points need |Σ λ z| / Σ |λ| × 2, where λ makes a nothing of their places; λ by determinants.
 */
function thickestFour([x, y, z]: Columns): number {
  const area = (i: number, j: number, k: number) =>
    (x[j]! - x[i]!) * (y[k]! - y[i]!) - (x[k]! - x[i]!) * (y[j]! - y[i]!);
  let thickest = 0;
  for (let i = 0; i < x.length; i++)
    for (let j = 0; j < i; j++)
      for (let k = 0; k < j; k++)
        for (let l = 0; l < k; l++) {
          const four = [i, j, k, l];
          const lambda = [area(j, k, l), -area(i, k, l), area(i, j, l), -area(i, j, k)];
          const sum = lambda.reduce((s, v) => s + Math.abs(v), 0);
          if (sum > 1e-12)
            thickest = Math.max(thickest, Math.abs(lambda.reduce((s, v, m) => s + v * z[four[m]!]!, 0)) / sum);
        }
  return 2 * thickest;
}

describe("minimumZonePlane", () => {
  it("is as thick as the thickest slab that any four points need, on 1,000 random and degenerate sets", () => {
    for (let seed = 1; seed <= 1000; seed++) {
      const set = pointSet(seed, 4 + (seed % 9));
      const wanted = thickestFour(set);
      const found = minimumZonePlane(...set);
      expect(Math.abs(found.zone - wanted), `seed ${seed}`).toBeLessThan(1e-11 * (1 + wanted));
      expect(found.certificate.gap, `seed ${seed}`).toBeLessThan(1e-9);
    }
  });

  it("gives the same zone whatever the order of the points, and scaled with the units", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 4, max: 40 }), (seed, count) => {
        const set = pointSet(seed, count);
        const { zone } = minimumZonePlane(...set);
        const turned = [set[0].toReversed(), set[1].toReversed(), set[2].toReversed()] as const;
        expect(Math.abs(minimumZonePlane(...turned).zone - zone)).toBeLessThan(1e-11 * (1 + zone));
        const [x, y, z] = set;
        const inches = minimumZonePlane(
          x.map((v) => v / 25.4),
          y.map((v) => v / 25.4),
          z.map((v, i) => v / 25.4 + 3e-3 * x[i]! - 7e-4 * y[i]! + 11),
        ).zone;
        expect(Math.abs(inches * 25.4 - zone)).toBeLessThan(1e-10 * (1 + zone));
      }),
      { numRuns: 200 },
    );
  });

  it("solves 20,000 points on a part of them and proves it on all, wherever the highest place hides", () => {
    const stream = randomStream(4);
    const x = Array.from({ length: 20_000 }, (_, i) => i % 200);
    const y = Array.from({ length: 20_000 }, (_, i) => Math.floor(i / 200));
    const z = x.map((v, i) => 0.3 * v - 0.1 * y[i]! + stream.normal());
    z[12_345] = 0.3 * x[12_345]! - 0.1 * y[12_345]! + 40;
    const found = minimumZonePlane(x, y, z);
    const residuals = z.map((v, i) => v - found.slopeX * x[i]! - found.slopeY * y[i]! - found.offset);
    expect(residuals.reduce((most, r) => Math.max(most, Math.abs(r)), 0)).toBeCloseTo(found.zone / 2, 9);
    expect(found.upper).toContain(12_345);
    expect(found.certificate.gap).toBeLessThan(1e-9);
    z[19_999] = Number.NaN;
    expect(() => minimumZonePlane(x, y, z)).toThrow("minimumZonePlane: point 20000 of 20000 is (199, 99, NaN)");
  });

  it("finds three points off a line among 20,000 on it", () => {
    const x = Array.from({ length: 20_000 }, (_, i) => i);
    const y = x.map((_, i) => (i === 7777 ? 5 : 0));
    expect(
      minimumZonePlane(
        x,
        y,
        x.map((v) => (v === 7777 ? 9 : 0)),
      ).zone,
    ).toBeLessThan(1e-9);
    expect(() => minimumZonePlane(x, x, x)).toThrow("the 20000 points lie on one line seen from above");
  });
});

describe("minimumZoneWidths", () => {
  it("gives for one set of heights after another what each alone gives", () => {
    const [x, y] = pointSet(3, 30);
    const widths = minimumZoneWidths(x, y);
    const stream = randomStream(5);
    for (let turn = 0; turn < 200; turn++) {
      const z = x.map(() => (turn % 3 === 0 ? Math.floor(4 * stream.uniform()) : stream.normal()));
      expect(widths(z)).toBeCloseTo(minimumZonePlane(x, y, z).zone, 11);
    }
  });
});
