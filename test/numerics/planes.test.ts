import { describe, expect, it } from "vitest";
import { Concentration, everyChoice } from "../../kernel-lib/src/numerics/concentration.js";
import {
  bisquareFit,
  huberFit,
  leastSquares,
  orthogonalPlane,
  trimmedPlane,
} from "../../kernel-lib/src/numerics/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";

function sheet(seed: number, count: number, noise: number) {
  const stream = randomStream(seed);
  const x = Array.from({ length: count }, () => 100 * stream.uniform());
  const y = Array.from({ length: count }, () => 60 * stream.uniform());
  const z = x.map((v, i) => 2 + 0.1 * v - 0.05 * y[i]! + noise * stream.normal());
  return { x, y, z, stream };
}

describe("orthogonalPlane", () => {
  it("leaves a sum of squared distances that no plane near it undercuts", () => {
    const { x, y, z } = sheet(2, 40, 1);
    const sum = (a: number, b: number, c: number) =>
      z.reduce((s, v, i) => s + (v - a * x[i]! - b * y[i]! - c) ** 2, 0) / (1 + a * a + b * b);
    const { slopeX: a, slopeY: b, offset: c } = orthogonalPlane(x, y, z);
    for (const [da, db, dc] of [
      [1, 0, 0],
      [-1, 0, 0],
      [0, 1, 0],
      [0, -1, 0],
      [0, 0, 1],
      [0, 0, -1],
    ] as const) {
      expect(sum(a + 1e-4 * da, b + 1e-4 * db, c + 1e-3 * dc)).toBeGreaterThan(sum(a, b, c));
    }
  });

  it("turns with the points: the same plane seen from a table turned about y", () => {
    const { x, y, z } = sheet(3, 60, 0.5);
    const turn = 0.05;
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const flat = orthogonalPlane(x, y, z);
    const turned = orthogonalPlane(
      x.map((v, i) => c * v - s * z[i]!),
      y,
      x.map((v, i) => s * v + c * z[i]!),
    );
    expect(turned.highest - turned.lowest).toBeCloseTo(flat.highest - flat.lowest, 10);
    expect(Math.atan(turned.slopeX) - Math.atan(flat.slopeX)).toBeCloseTo(turn, 3);
  });

  it("refuses where it might turn on edge", () => {
    expect(() => orthogonalPlane([0, 1, 0, 1], [0, 0, 1, 1], [1, -1, -1, 1])).toThrow(
      "orthogonalPlane: z ranges over 2.00 where the places are about 1.73 across the narrower way; a plane of least distances square to it may turn on edge, take distances along z, or look for a wrong unit",
    );
    expect(() => orthogonalPlane([0, 1, 2], [0, 1, 2], [0, 0, 1])).toThrow("the 3 points lie on one line");
    expect(() => orthogonalPlane([0, 1, 0], [0, 0, 1], [0, Number.POSITIVE_INFINITY, 0])).toThrow(
      "orthogonalPlane: point 2 of 3 is (1, 0, Infinity); leave out a point that was not measured",
    );
  });
});

describe("trimmedPlane", () => {
  it("finds by restarts what trying every choice finds", () => {
    for (let seed = 1; seed <= 5; seed++) {
      const { x, y, z } = sheet(seed, 20, 1);
      for (const i of [2, 7, 11, 13]) z[i] = 30 + 5 * i;
      const found = trimmedPlane(x, y, z, 13);
      expect(found.exact).toBe(false);
      const all = new Concentration(x, y, z, 13);
      everyChoice(20, 13, (chosen) => all.offer(chosen));
      expect(found.kept).toEqual(all.best());
    }
  });

  it("tries every choice where there are few", () => {
    const { x, y, z } = sheet(8, 16, 1);
    [z[2], z[7], z[11]] = [40, 55, -30];
    const { exact, kept } = trimmedPlane(x, y, z, 12);
    expect(exact).toBe(true);
    expect([2, 7, 11].filter((i) => kept.includes(i))).toEqual([]);
  });

  it("keeps all points when asked to, as least squares, and refuses fewer than half", () => {
    const { x, y, z } = sheet(5, 30, 1);
    const fit = leastSquares([x, y, x.map(() => 1)], z);
    expect(trimmedPlane(x, y, z, 30).slopeX).toBeCloseTo(fit.coefficients[0]!, 12);
    expect(() => trimmedPlane(x, y, z, 12)).toThrow(
      "trimmedPlane: 12 of 30 points to keep; give a whole number from 17 to 30",
    );
  });
});

describe("bisquareFit and huberFit", () => {
  it("satisfy their own equations at the scale they state, in well and badly scaled columns", () => {
    const { x, y, z, stream } = sheet(6, 200, 1);
    for (let i = 0; i < 200; i += 9) z[i] = z[i]! + 30 * stream.uniform();
    const plain = [x.map(() => 1), x, y];
    const bad = [x.map(() => 1), x.map((v) => 1e6 + 1e-3 * v), y];
    for (const columns of [plain, bad]) {
      for (const fit of [huberFit(columns, z), bisquareFit(columns, z)]) {
        for (const column of columns) {
          const size = Math.hypot(...column);
          const sum = column.reduce((s, v, i) => s + fit.weights[i]! * fit.residuals[i]! * v, 0);
          expect(Math.abs(sum) / size).toBeLessThan(1e-6);
        }
      }
    }
    expect(bisquareFit(bad, z).coefficients[2]!).toBeCloseTo(bisquareFit(plain, z).coefficients[2]!, 7);
  });

  it("takes the same fixed point from a part of many rows as from all", () => {
    const { x, y, z, stream } = sheet(7, 30_000, 1);
    for (let i = 0; i < z.length; i += 11) z[i] = z[i]! + 20 * stream.uniform();
    const fit = huberFit([x.map(() => 1), x, y], z);
    const limit = 1.345 * fit.scale;
    const clipped = fit.residuals.map((r) => Math.max(-limit, Math.min(limit, r)));
    expect(Math.abs(clipped.reduce((s, v) => s + v, 0)) / z.length).toBeLessThan(1e-9);
    const sizes = fit.residuals.map(Math.abs).sort((a, b) => a - b);
    expect(fit.scale / ((sizes[14_999]! + sizes[15_000]!) / 2 / 0.6744897501960817)).toBeCloseTo(1, 8);
  });
});
