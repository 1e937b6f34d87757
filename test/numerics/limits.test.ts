import { describe, expect, it } from "vitest";
import { chebyshevSheet } from "../../kernel-lib/src/numerics/chebyshev-sheet.js";
import {
  fCdf,
  leastSquaresPlane,
  orthogonalPlane,
  randomStream,
  thinPlateSpline,
  trimmedPlane,
} from "../../kernel-lib/src/numerics/index.js";
import { refusal } from "../refusal.js";

const drawn = (seed: number, n: number, size = 1) => {
  const random = randomStream(seed);
  return Array.from({ length: n }, () => size * random.uniform());
};

describe("a plane through points on a narrow strip", () => {
  // along the diagonal, every other one beside it
  const strip = (length: number, breadth: number) => {
    const t = [0, 1, 2, 3, 4, 5].map((k) => (k * length) / 5);
    const x = t.map((v, k) => v + (k % 2) * breadth);
    return { x, y: t, z: x.map((v, k) => 2 * v - 3 * t[k]!) };
  };

  it("is found where it is a hundred-thousandth as broad as long, in any unit", () => {
    for (const length of [1e-3, 1, 1e3]) {
      const { x, y, z } = strip(length, 1e-5 * length);
      const plane = leastSquaresPlane(x, y, z);
      expect(plane.slopeX).toBeCloseTo(2, 4);
      expect(plane.slopeY).toBeCloseTo(-3, 4);
    }
  });

  it("is refused where it is a ten-millionth, in any unit", () => {
    for (const length of [1e-3, 1, 1e3]) {
      const { x, y, z } = strip(length, 1e-7 * length);
      expect(refusal(() => leastSquaresPlane(x, y, z)).code).toBe("on-a-line");
    }
  });

  it("is found square to itself in any unit as well", () => {
    const [x, y] = [drawn(1, 20), drawn(2, 20)];
    const z = x.map((v, i) => 0.01 * v - 0.02 * y[i]! + 0.001 * Math.sin(i));
    const one = orthogonalPlane(x, y, z);
    for (const unit of [1e-5, 1e5]) {
      const other = orthogonalPlane(
        ...([x, y, z].map((list) => list.map((v) => unit * v)) as [number[], number[], number[]]),
      );
      expect(other.slopeX / one.slopeX).toBeCloseTo(1, 9);
      expect(other.slopeY / one.slopeY).toBeCloseTo(1, 9);
    }
  });
});

describe("a trimmed plane", () => {
  const leaves = (x: number[], y: number[], z: number[], kept: readonly number[]) => {
    const pick = (list: number[]) => kept.map((i) => list[i]!);
    const { slopeX, slopeY, offset } = leastSquaresPlane(pick(x), pick(y), pick(z));
    return kept.reduce((s, i) => s + (z[i]! - slopeX * x[i]! - slopeY * y[i]! - offset) ** 2, 0);
  };

  it("leaves no more than any other choice of as many points, each with its own plane", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const [x, y, e] = [drawn(seed, 8), drawn(seed + 100, 8), drawn(seed + 200, 8)];
      const z = x.map((v, i) => 40 * v - 25 * y[i]! + e[i]!);
      const { kept, sumOfSquares, exact } = trimmedPlane(x, y, z, 6);
      expect(exact).toBe(true);
      expect(leaves(x, y, z, kept)).toBeCloseTo(sumOfSquares, 12);
      for (let i = 0; i < 8; i++) {
        for (let j = i + 1; j < 8; j++) {
          const others = [...x.keys()].filter((k) => k !== i && k !== j);
          expect(leaves(x, y, z, others)).toBeGreaterThan(sumOfSquares * (1 - 1e-9));
        }
      }
    }
  });
});

describe("a spline", () => {
  const [x, y, z] = [drawn(3, 20, 8), drawn(4, 20, 8), drawn(5, 20)];
  // halves, quarters, eighths: moved by a whole number they lose no digit
  const steps = (list: number[]) => list.map((v) => Math.round(8 * v) / 8);
  const [sx, sy] = [
    [0, 8, ...steps(x)],
    [0, 8, ...steps(y)],
  ];
  const heights = [1, 2, ...z];

  it("is the same wherever the places lie", () => {
    const one = thinPlateSpline({ x: sx, y: sy, z: heights }, { smoothing: 0.5 });
    const far = (list: number[], by: number) => list.map((v) => v + by);
    const other = thinPlateSpline({ x: far(sx, 2 ** 30), y: far(sy, -(2 ** 30)), z: heights }, { smoothing: 0.5 });
    expect(other.heights(far([1, 5], 2 ** 30), far([2, 7], -(2 ** 30)))).toEqual(one.heights([1, 5], [2, 7]));
  });

  it("has left-out deviations that grow with the heights", () => {
    const one = thinPlateSpline({ x: sx, y: sy, z: heights }, { smoothing: 0.5 }).leaveOneOut();
    const tall = heights.map((v) => 7 * v);
    const other = thinPlateSpline({ x: sx, y: sy, z: tall }, { smoothing: 0.5 }).leaveOneOut();
    for (const [i, s] of one.standardDeviations.entries()) {
      expect(other.standardDeviations[i]! / s).toBeCloseTo(7, 9);
      expect(other.residuals[i]!).toBeCloseTo(7 * one.residuals[i]!, 9);
    }
  });
});

describe("the F distribution", () => {
  it("is χ² of one degree where the denominator's degrees are all but infinite: erf(1/√2) = 0.682689492137 below 1", () => {
    for (const degrees of [1e10, 1e12, 1e14]) expect(fCdf(1, 1, degrees)).toBeCloseTo(0.682689492137, 9);
  });
});

describe("Chebyshev lines over a rectangle", () => {
  const [x, y] = [Float64Array.from(drawn(6, 4000, 3)), Float64Array.from(drawn(7, 4000, 2))];
  const lines = (bound: (axis: "x" | "y", rho: number) => number) => {
    const sheet = chebyshevSheet(x, y, bound)!;
    return [new Set(sheet.x).size, new Set(sheet.y).size];
  };
  // degree n with 4 M ρ⁻ⁿ / (ρ − 1) within a half, the second way within a half of 1 + (2/π) ln(n + 1)
  const needed = (most: number, rho: number, error: number) =>
    Math.ceil(Math.log((4 * most) / ((rho - 1) * error)) / Math.log(rho));

  it("are as many as the theorem asks for at the best ellipse, one of which has no bound", () => {
    const rho = 1.2 * 1.15 ** 9;
    const only = (size: number) => (Math.abs(size / rho - 1) < 1e-9 ? 2e4 : size > rho ? Number.NaN : 1e300);
    const across = needed(2e4, rho, 1 / 2);
    const along = needed(2e4, rho, 1 / 2 / (1 + (2 / Math.PI) * Math.log(across + 1)));
    expect(lines((_, size) => only(size))).toEqual([across + 1, along + 1]);
    expect(along).toBeGreaterThan(across);
  });

  it("are five at least", () => {
    expect(lines(() => 1e-30)).toEqual([5, 5]);
  });
});
