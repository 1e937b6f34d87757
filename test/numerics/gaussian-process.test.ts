import { describe, expect, it } from "vitest";
import { boundedMinimum } from "../../kernel-lib/src/numerics/bounded-minimum.js";
import { chebyshevSheet } from "../../kernel-lib/src/numerics/chebyshev-sheet.js";
import { families } from "../../kernel-lib/src/numerics/covariance-family.js";
import type { FittedProcess } from "../../kernel-lib/src/numerics/fitted-gaussian.js";
import { logLikelihood } from "../../kernel-lib/src/numerics/gaussian-likelihood.js";
import { gaussianProcess, kriging, randomStream } from "../../kernel-lib/src/numerics/index.js";
import type { KrigingSystem } from "../../kernel-lib/src/numerics/kriging-system.js";
import { processBound } from "../../kernel-lib/src/numerics/process-bound.js";
import { TrendSpace } from "../../kernel-lib/src/numerics/trend-space.js";
import { refusal } from "../refusal.js";

const scattered = (seed: number, n = 40) => {
  const stream = randomStream(seed);
  const x = Float64Array.from({ length: n }, () => 100 * stream.uniform());
  const y = Float64Array.from({ length: n }, () => 60 * stream.uniform());
  return { x, y, z: x.map((v, i) => 5 * Math.sin(v / 25) + 3 * Math.cos(y[i]! / 20) + 0.3 * stream.normal()) };
};

describe.each(["matern 5/2", "squared exponential"] as const)("a Gaussian process, %s", (covariance) => {
  it("has the slopes of its likelihood, with a trend, shared errors and without", () => {
    for (const columns of [0, 3]) {
      const { x, y, z } = scattered(4, 30);
      const trend = new TrendSpace([x.map(() => 1), x, y].slice(0, columns), 30, "test");
      const modes = columns === 0 ? [] : [x.map((v) => v / 200)];
      const parts = { x, y, z, family: families[covariance], trend, nugget: x.map(() => 0.02), modes };
      const logs = [2, 3, 3.3, -2];
      const at = ([a, b, c, d]: readonly number[]) =>
        logLikelihood(parts, {
          variance: Math.exp(a!),
          lengthX: Math.exp(b!),
          lengthY: Math.exp(c!),
          noise: Math.exp(d!),
        })!;
      at(logs).gradient.forEach((slope, k) => {
        const moved = (by: number) => at(logs.map((v, i) => (i === k ? v + by : v))).value;
        expect((moved(1e-4) - moved(-1e-4)) / 2e-4).toBeCloseTo(slope, 5);
      });
    }
  });

  it("scales with its heights and is the same in inches and in another order", () => {
    const { x, y, z } = scattered(7);
    const one = gaussianProcess({ x, y, z }, { covariance, nugget: 0.09 });
    const changed = {
      x: [...x].reverse().map((v) => v / 25.4),
      y: [...y].reverse().map((v) => v / 25.4),
      z: [...z].reverse().map((v) => 3 * v),
    };
    const other = gaussianProcess(changed, { covariance, nugget: 0.81 });
    const [a, b] = [one.predict([50], [30]), other.predict([50 / 25.4], [30 / 25.4])];
    expect(b.mean[0]! / a.mean[0]!).toBeCloseTo(3, 3);
    expect(b.standardUncertainty[0]! / a.standardUncertainty[0]!).toBeCloseTo(3, 2);
    expect(other.size.lengthX * 25.4).toBeCloseTo(one.size.lengthX, 1);
  });

  it("predicts as kriging with its own covariance does, when the sizes are taken as known", () => {
    const { x, y, z } = scattered(9);
    const start = { variance: 10, lengthX: 40, lengthY: 30 };
    const bounds = { variance: [10, 10], lengthX: [40, 40], lengthY: [30, 30] } as const;
    const process = gaussianProcess({ x, y, z }, { covariance, nugget: 0.09, start, bounds });
    const likeness = (q: number) => {
      const d = Math.sqrt(5 * q);
      return covariance === "matern 5/2" ? (1 + d + (d * d) / 3) * Math.exp(-d) : Math.exp(-q / 2);
    };
    const law = (dx: number, dy: number) => 10 * likeness((dx / 40) ** 2 + (dy / 30) ** 2);
    const plain = kriging({ x, y, z }, { covariance: law, nugget: 0.09, trend: "plane" }).at(70, 10);
    const { mean, standardUncertainty } = process.predict([70], [10]);
    expect(mean[0]).toBeCloseTo(plain.value, 8);
    expect(standardUncertainty[0]! ** 2).toBeCloseTo(plain.variance, 8);
  });
});

describe("many places on a squared exponential", () => {
  const grid = (side: number) => ({
    x: Array.from({ length: side * side }, (_, k) => (100 * (k % side)) / (side - 1)),
    y: Array.from({ length: side * side }, (_, k) => (60 * Math.floor(k / side)) / (side - 1)),
  });

  it.each(["none", "constant", "plane"] as const)("stand where each by itself does, trend %s", (trend) => {
    const process = gaussianProcess(scattered(3, 60), { covariance: "squared exponential", trend, nugget: 0.09 });
    const places = grid(70);
    const together = process.predict(places.x, places.y);
    const some = [0, 69, 700, 2415, 4899];
    // one by one no polynomial is laid: it would take more crossings than there are places
    const single = some.map((i) => process.predict([places.x[i]!], [places.y[i]!]));
    expect(some.map((i) => together.mean[i])).not.toEqual(single.map(({ mean }) => mean[0]));
    single.forEach(({ mean, standardUncertainty }, k) => {
      const u = standardUncertainty[0]!;
      expect(Math.abs(together.standardUncertainty[some[k]!]! - u)).toBeLessThan(1e-6 * u);
      expect(Math.abs(together.mean[some[k]!]! - mean[0]!)).toBeLessThan(1e-6 * u);
    });
  });

  it("are taken from polynomials through fewer crossings where that is proven, and one by one elsewhere", () => {
    const { x, y } = grid(100);
    const [px, py] = [Float64Array.from(x), Float64Array.from(y)];
    const system = (length: number, noise: number) => {
      const { x: sx, y: sy, z } = scattered(5, 60);
      const size = { variance: 10, lengthX: length, lengthY: length, noise };
      return { size, points: { x: sx, y: sy, z } };
    };
    const crossings = (length: number, noise: number) => {
      const { size, points } = system(length, noise);
      const trend = new TrendSpace([], 60, "test");
      const parts = {
        ...points,
        family: families["squared exponential"],
        trend,
        nugget: points.x.map(() => 0),
        modes: [],
      };
      const solved = { weights: points.x.map(() => 1), coefficients: [], parts: { trendAt: () => [] } };
      const bound = processBound(
        parts,
        { size, system: solved as unknown as KrigingSystem, shifted: [] },
        { x: px, y: py },
      );
      return chebyshevSheet(px, py, bound)?.x.length;
    };
    expect(crossings(40, 0.1)).toBeLessThan(1200);
    expect(crossings(40, 0.1)).toBeGreaterThan(crossings(60, 0.1)!);
    expect(crossings(4, 0.1)).toBeUndefined();
    expect(crossings(40, 0)).toBeUndefined();
  });
});

it("finds the top of the likelihood of many points by way of fewer", () => {
  const points = scattered(12, 200);
  const { size, logLikelihood: top, evaluations } = gaussianProcess(points, { fitNoise: true });
  const trend = new TrendSpace([points.x.map(() => 1), points.x, points.y], 200, "test");
  const parts = { ...points, family: families["matern 5/2"], trend, nugget: points.x.map(() => 0), modes: [] };
  const { value, gradient } = logLikelihood(parts, size)!;
  expect(value).toBe(top);
  for (const slope of gradient) expect(Math.abs(slope)).toBeLessThan(2e-3);
  expect(evaluations).toBeLessThan(30);
});

it("asks for few likelihoods: of several starts the best are followed, many points begin where a quarter of them ended", () => {
  const asked = (n: number) => (gaussianProcess(scattered(13, n), { nugget: 0.09 }) as FittedProcess).evaluations;
  // nine starts, of which two are followed
  expect(asked(40)).toBeLessThan(60);
  // 120 points are the first to begin on a quarter
  expect(asked(120)).toBeLessThan(0.6 * asked(119));
});

it("names itself where the points it is fitted on lie on a line", () => {
  const { x, y, z } = scattered(14, 30);
  const level = y.map((v, i) => (i < 10 ? 0 : v));
  const fitOn = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
  const { code, message } = refusal(() => gaussianProcess({ x, y: level, z }, { nugget: 0.09, fitOn }));
  expect(code).toBe("rank-deficient");
  expect(message).toMatch(/^gaussianProcess: column 3 of 3 is a sum/);
});

it("leaves a point out by formula as by leaving it out", () => {
  const { x, y, z } = scattered(11, 25);
  const law = (dx: number, dy: number) => 10 * Math.exp(-((dx / 40) ** 2 + (dy / 30) ** 2) / 2);
  const known = { variance: [10, 10], lengthX: [40, 40], lengthY: [30, 30] } as const;
  const start = { variance: 10, lengthX: 40, lengthY: 30 };
  const options = { covariance: "squared exponential", nugget: 0.09, start, bounds: known } as const;
  const { residuals, standardDeviations } = gaussianProcess({ x, y, z }, options).leaveOneOut();
  for (const i of [0, 12, 24]) {
    const rest = { x: x.filter((_, k) => k !== i), y: y.filter((_, k) => k !== i), z: z.filter((_, k) => k !== i) };
    const { value, variance } = kriging(rest, { covariance: law, nugget: 0.09, trend: "plane" }).at(x[i]!, y[i]!);
    expect(z[i]! - value).toBeCloseTo(residuals[i]!, 8);
    expect(Math.sqrt(variance + 0.09)).toBeCloseTo(standardDeviations[i]!, 8);
  }
});

it("doubts no size by more than its limits leave open", () => {
  const { x, y, z } = scattered(9, 30);
  const bounds = { variance: [8, 12], lengthX: [35, 45], lengthY: [25, 35] } as const;
  const process = gaussianProcess({ x, y, z }, { nugget: 0.09, bounds }) as FittedProcess;
  expect(process.evaluations).toBeGreaterThan(6);
  for (const name of ["variance", "lengthX", "lengthY"] as const) {
    // a rectangle's standard deviation is its width over √12
    const most = Math.log(bounds[name][1] / bounds[name][0]) / Math.sqrt(12);
    const off = process.shifted.map(([less, more]) =>
      Math.max(
        Math.abs(Math.log(more.size[name] / process.size[name])),
        Math.abs(Math.log(process.size[name] / less.size[name])),
      ),
    );
    expect(Math.hypot(...off)).toBeLessThan(most * 1.000001);
  }
});

it("refuses points without noise at one place", () => {
  const points = { x: [0, 0, 1, 2, 5], y: [0, 0, 3, 2, 1], z: [1, 2, 3, 4, 5] };
  expect(refusal(() => gaussianProcess(points))).toEqual({
    code: "same-place",
    message:
      "gaussianProcess: points 1 and 2 are both at x 0, y 0; leave one out, or give the readings a noise greater than zero",
  });
});

describe("the least value within limits", () => {
  const valley = ([x, y]: readonly number[]) => ({
    value: (1 - x!) ** 2 + 100 * (y! - x! * x!) ** 2,
    gradient: [-2 * (1 - x!) - 400 * x! * (y! - x! * x!), 200 * (y! - x! * x!)],
  });

  it("is found in a bent valley (Rosenbrock) and at a limit", () => {
    const wide = { low: -5, high: 5 };
    const free = boundedMinimum(valley, [-1.2, 1], [wide, wide])!;
    expect(free.at.map((v) => v.toFixed(4))).toEqual(["1.0000", "1.0000"]);
    const held = boundedMinimum(valley, [-1.2, 1], [{ low: -5, high: 0.5 }, wide])!;
    expect(held.at.map((v) => v.toFixed(4))).toEqual(["0.5000", "0.2500"]);
  });
});
