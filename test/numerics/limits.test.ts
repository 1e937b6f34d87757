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

  it("square to itself is found and refused alike", () => {
    for (const length of [1e-3, 1, 1e3]) {
      const flat = (breadth: number) => {
        const { x, y } = strip(length, breadth);
        return orthogonalPlane(
          x,
          y,
          x.map((_, k) => (k % 2) * 1e-9 * length),
        );
      };
      expect(flat(1e-5 * length).slopeX).toBeCloseTo(1e-4, 6);
      expect(refusal(() => flat(1e-7 * length)).code).toBe("on-a-line");
    }
  });

  it("square to itself is refused where heights range over half the breadth, not half the length", () => {
    const x = [0, 20, 40, 60, 80, 100, 0, 20, 40, 60, 80, 100];
    const y = x.map((_, k) => (k < 6 ? 0 : 10));
    const high = (h: number) =>
      orthogonalPlane(
        x,
        y,
        x.map((_, k) => (k % 2) * h),
      );
    // places on two lines 10 apart spread as an even rectangle 17.3 across does
    expect(high(8.6).offset).toBeGreaterThan(0);
    expect(refusal(() => high(8.7)).message).toContain("about 17.3 across the narrower way");
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

describe("a trimmed plane of many points", () => {
  it("keeps as many as it was asked for where more lie on it", () => {
    const at = Array.from({ length: 30 }, (_, i) => i);
    const [x, y] = [at.map((i) => i % 6), at.map((i) => Math.floor(i / 6))];
    // 24 on one plane, in numbers that are exact; 20 to keep
    const plane = trimmedPlane(
      x,
      y,
      at.map((i) => (i % 5 === 2 ? 64 : 2 * x[i]! - y[i]!)),
      20,
    );
    expect(plane.exact).toBe(false);
    expect(plane.sumOfSquares).toBeLessThan(1e-24);
    expect(plane.kept).toHaveLength(20);
  });

  it("rests on the points that lie nearest to it, and is not led away by others on a plane of their own", () => {
    for (let seed = 1; seed <= 6; seed++) {
      const [x, y, e] = [drawn(seed, 60, 10), drawn(seed + 40, 60, 10), drawn(seed + 80, 60)];
      // 34 on a steep plane, 26 flat and high
      const z = x.map((v, i) => (i < 34 ? 9 * v - 7 * y[i]! : 30) + 0.5 * e[i]!);
      const plane = trimmedPlane(x, y, z, 34);
      expect(plane.exact).toBe(false);
      const off = z.map((h, i) => Math.abs(h - plane.slopeX * x[i]! - plane.slopeY * y[i]! - plane.offset));
      const furthest = Math.max(...plane.kept.map((i) => off[i]!));
      for (const i of x.keys()) if (!plane.kept.includes(i)) expect(off[i]!).toBeGreaterThanOrEqual(furthest);
      expect(plane.slopeX).toBeCloseTo(9, 0);
      expect(plane.slopeY).toBeCloseTo(-7, 0);
      // noise alone: no fixed point is found that an end of the search would have left
      const noise = trimmedPlane(x, y, e, 34);
      const away = e.map((h, i) => Math.abs(h - noise.slopeX * x[i]! - noise.slopeY * y[i]! - noise.offset));
      const last = Math.max(...noise.kept.map((i) => away[i]!));
      for (const i of x.keys()) if (!noise.kept.includes(i)) expect(away[i]!).toBeGreaterThanOrEqual(last);
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
