import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { leastSquares } from "../../kernel-lib/src/numerics/least-squares.js";
import { leastSquaresPlane } from "../../kernel-lib/src/numerics/least-squares-plane.js";
import { minimumZonePlane } from "../../kernel-lib/src/numerics/minimum-zone.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { decimalsOf, fixture } from "../reference/digits.js";

interface Case {
  points: string[];
  leastSquares: string;
  minimumZone: string;
  normalToPlane?: string;
}
const { cases } = fixture<{ cases: Record<string, Case> }>("form/flatness.json");

function columns(points: readonly string[]): [number[], number[], number[]] {
  const rows = points.map((row) => row.split(" ").map(Number));
  return [0, 1, 2].map((k) => rows.map((row) => row[k]!)) as [number[], number[], number[]];
}

/** points on a grid, some repeated heights, so that ties and collinear contacts happen */
function cloud(seed: number, count: number, steps: number): [number[], number[], number[]] {
  const stream = randomStream(seed);
  const on = (n: number) => Math.floor(stream.uniform() * n);
  const take = (n: number) => Array.from({ length: count }, () => on(n));
  // the first three never on one line
  const x = take(steps).map((v, i) => (i < 3 ? (i % 2) * steps : v));
  const y = take(steps).map((v, i) => (i < 3 ? (i === 1 ? 0 : i + steps) : v));
  return [x, y, take(7)];
}

describe("leastSquaresPlane and minimumZonePlane", () => {
  for (const [name, { points, leastSquares: ls, minimumZone: mz, normalToPlane }] of Object.entries(cases)) {
    it(`give the known widths of the ${name}: ${ls} and ${mz}`, () => {
      const [x, y, z] = columns(points);
      const plane = leastSquaresPlane(x, y, z);
      const zone = minimumZonePlane(x, y, z);
      expect((plane.highest - plane.lowest).toFixed(decimalsOf(ls))).toBe(ls);
      expect(zone.zone.toFixed(decimalsOf(mz))).toBe(mz);
      expect(zone.certificate.gap).toBeLessThan(1e-12);
      expect(zone.certificate.excess).toBeLessThan(1e-12);
      if (normalToPlane) {
        const normal = zone.zone / Math.hypot(1, zone.slopeX, zone.slopeY);
        expect(normal.toFixed(decimalsOf(normalToPlane))).toBe(normalToPlane);
        expect([zone.upper, zone.lower]).toEqual([
          [0, 4],
          [1, 2],
        ]);
      }
    });
  }

  it("agree with the general least-squares fit on scattered points far from the origin", () => {
    const stream = randomStream(3);
    const x = Array.from({ length: 5000 }, () => 1e5 + 400 * stream.uniform());
    const y = Array.from({ length: 5000 }, () => -3e4 + 200 * stream.uniform());
    const z = x.map((v, i) => 1000 + 0.02 * v - 0.01 * y[i]! + stream.normal());
    const plane = leastSquaresPlane(x, y, z);
    const fit = leastSquares([x, y, x.map(() => 1)], z);
    expect(plane.slopeX / fit.coefficients[0]!).toBeCloseTo(1, 10);
    expect(plane.slopeY / fit.coefficients[1]!).toBeCloseTo(1, 10);
    expect(plane.highest).toBeCloseTo(Math.max(...fit.residuals), 9);
    expect(plane.lowest).toBeCloseTo(Math.min(...fit.residuals), 9);
  });

  it("prove the minimum zone on any cloud: no point outside, shares that meet, never wider than least squares", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e6 }), fc.integer({ min: 4, max: 60 }), (seed, count) => {
        const [x, y, z] = cloud(seed, count, 9);
        const zone = minimumZonePlane(x, y, z);
        const residuals = z.map((v, i) => v - zone.slopeX * x[i]! - zone.slopeY * y[i]! - zone.offset);
        expect(Math.max(...residuals.map(Math.abs))).toBeLessThanOrEqual(zone.zone / 2 + 1e-10);
        const { shares, gap } = zone.certificate;
        const sum = (side: string) => shares.filter((c) => c.side === side).reduce((s, c) => s + c.share, 0);
        expect(sum("upper")).toBeCloseTo(0.5, 10);
        expect(sum("lower")).toBeCloseTo(0.5, 10);
        expect(Math.min(...shares.map((c) => c.share))).toBeGreaterThan(0);
        expect(gap).toBeLessThan(1e-9);
        const plane = leastSquaresPlane(x, y, z);
        expect(zone.zone).toBeLessThanOrEqual(plane.highest - plane.lowest + 1e-10);
      }),
      { numRuns: 300 },
    );
  });

  it("leave the zone alone when a plane is added, and scale it with the heights", () => {
    const [x, y, z] = cloud(11, 90, 40);
    const zone = minimumZonePlane(x, y, z).zone;
    const tilted = z.map((v, i) => 3 * (v + 0.7 * x[i]! - 2.2 * y[i]! + 5));
    expect(minimumZonePlane(x, y, tilted).zone).toBeCloseTo(3 * zone, 10);
    const plane = leastSquaresPlane(x, y, tilted);
    const before = leastSquaresPlane(x, y, z);
    expect(plane.highest - plane.lowest).toBeCloseTo(3 * (before.highest - before.lowest), 10);
  });

  it("find and prove the same zone in any unit of the places and of the heights", () => {
    const [x, y, flat] = cloud(12, 60, 40);
    const z = flat.map((v, i) => v + 0.7 * x[i]! - 0.3 * y[i]!);
    const one = minimumZonePlane(x, y, z);
    for (const [place, height] of [
      [1e-9, 1],
      [1e9, 1],
      [1, 1e-9],
      [1, 1e9],
    ] as const) {
      const many = (list: number[], unit: number) => list.map((v) => v * unit);
      const other = minimumZonePlane(many(x, place), many(y, place), many(z, height));
      expect(other.zone / height / one.zone).toBeCloseTo(1, 11);
      expect((other.slopeX * place) / height / one.slopeX).toBeCloseTo(1, 9);
      expect([other.upper, other.lower]).toEqual([one.upper, one.lower]);
      expect(other.certificate.gap).toBeLessThan(1e-9);
      expect(other.certificate.shares.map(({ share }) => share.toFixed(9))).toEqual(
        one.certificate.shares.map(({ share }) => share.toFixed(9)),
      );
    }
  });

  it("refuse what has no plane", () => {
    expect(() => leastSquaresPlane([0, 1, 2], [0, 1, 2], [0, 0, 1])).toThrow(
      "leastSquaresPlane: the 3 points lie on one line seen from above; measure at least one place beside it",
    );
    expect(() => leastSquaresPlane([0, 1, 0], [0, 0, 1], [0, Number.NaN, 1])).toThrow(
      "leastSquaresPlane: point 2 of 3 is (1, 0, NaN); leave out a point that was not measured",
    );
    expect(() => leastSquaresPlane([0, 1], [0, 0], [0, 0])).toThrow(
      "leastSquaresPlane: 2 x, 2 y and 2 z; give at least three points, each with all three",
    );
    expect(() => minimumZonePlane([0, 1, 2, 3], [0, 1, 2, 3], [0, 0, 1, 0])).toThrow(
      "minimumZonePlane: the 4 points lie on one line seen from above; measure at least one place beside it",
    );
    expect(() => minimumZonePlane([0, 1, 0, 1], [0, 0, 1, 1], [0, Number.NaN, 1, 1])).toThrow(
      "minimumZonePlane: point 2 of 4 is (1, 0, NaN); leave out a point that was not measured",
    );
    expect(() => minimumZonePlane([0, 1, 2], [0, 1, 0], [0, 0, 0])).toThrow(
      "minimumZonePlane: 3 x, 3 y and 3 z; give at least four points, each with all three",
    );
  });
});
