import { describe, expect, it } from "vitest";
import { families } from "../../kernel-lib/src/numerics/covariance-family.js";
import type { FittedProcess } from "../../kernel-lib/src/numerics/fitted-gaussian.js";
import { logLikelihood } from "../../kernel-lib/src/numerics/gaussian-likelihood.js";
import {
  bisquareFit,
  gaussianProcess,
  huberFit,
  leastSquares,
  minimumZonePlane,
  randomStream,
  trimmedPlane,
} from "../../kernel-lib/src/numerics/index.js";
import { minimumZoneWidths } from "../../kernel-lib/src/numerics/minimum-zone.js";
import { startContacts } from "../../kernel-lib/src/numerics/start-contacts.js";
import { TrendSpace } from "../../kernel-lib/src/numerics/trend-space.js";

const points = (seed: number, n: number) => {
  const random = randomStream(seed);
  const x = Array.from({ length: n }, () => 100 * random.uniform());
  const y = Array.from({ length: n }, () => 60 * random.uniform());
  return { x, y, z: x.map((v, i) => 3 * Math.sin(v / 30) - y[i]! / 40 + 0.2 * random.normal()), random };
};

describe("a trimmed plane", () => {
  it("leaves a damaged corner out where not every choice can be tried", () => {
    const { x, y, random } = points(4, 40);
    const bad = [3, 8, 15, 16, 22, 31, 33, 37];
    const z = x.map((v, i) => 5 + v / 50 - y[i]! / 20 + 0.01 * random.normal() + (bad.includes(i) ? 3 + i / 10 : 0));
    const got = trimmedPlane(x, y, z, 32);
    expect(got.exact).toBe(false);
    expect(got.kept).toEqual(x.map((_, i) => i).filter((i) => !bad.includes(i)));
    expect([got.slopeX, got.slopeY].map((v) => v.toFixed(3))).toEqual(["0.020", "-0.050"]);
    expect(trimmedPlane(x, y, z, 32)).toEqual(got);
  });

  it("passes over a choice whose points lie on one line", () => {
    const got = trimmedPlane([0, 1, 2, 3, 4, 0], [0, 0, 0, 0, 0, 1], [0, 1, 2, 3, 9, 5], 5);
    // without the fifth the others lie on z = x + 5 y
    expect(got.kept).toEqual([0, 1, 2, 3, 5]);
    expect([got.slopeX, got.slopeY].map((v) => v.toFixed(9))).toEqual(["1.000000000", "5.000000000"]);
  });
});

describe("least squares of columns far apart in size", () => {
  it("squares neither what is too large nor what is too small for it", () => {
    const x = [0, 1, 2, 3];
    for (const size of [1e200, 1e-200]) {
      const fit = leastSquares([[1, 1, 1, 1], x.map((v) => v * size)], [1, 3, 5, 7]);
      expect(fit.coefficients[0]!).toBeCloseTo(1, 9);
      expect(fit.coefficients[1]! * size).toBeCloseTo(2, 9);
      const down = leastSquares([x.map((v) => -v * size)], [0, 2, 4, 6]);
      expect(down.coefficients[0]! * size).toBeCloseTo(-2, 9);
    }
  });
});

describe("robust fits", () => {
  it("of readings that most lie on one line are that line", () => {
    const x = [0, 1, 2, 3, 4, 5, 6, 7];
    const y = x.map((v) => (v === 5 ? 90 : 3 + 2 * v));
    for (const robust of [huberFit, bisquareFit]) {
      const { coefficients, scale } = robust([x.map(() => 1), x], y);
      expect(scale).toBeCloseTo(0, 8);
      expect(coefficients[0]!).toBeCloseTo(3, 8);
      expect(coefficients[1]!).toBeCloseTo(2, 8);
    }
    const exact = bisquareFit([x.map(() => 1)], [0, 0, 0, 0, 0, 0, 0, 0]);
    expect([exact.coefficients[0], exact.scale]).toEqual([0, 0]);
    expect(huberFit([[1, 1, 1, 1]], [0, 0, 0, 0]).weights).toEqual([1, 1, 1, 1]);
  });
});

describe("Huber's estimate", () => {
  it("is nothing for readings that lie alike on both sides of nothing", () => {
    const fit = huberFit([[1, 1, 1, 1]], [-3, -1, 1, 3]);
    expect(fit.coefficients[0]!).toBe(0);
    // the median of |r| is 2, and its ratio to the deviation of a normal law 0.6745 (published to four digits)
    expect((2 / fit.scale).toFixed(4)).toBe("0.6745");
  });

  it("is reached in a few steps, as Newton's are", () => {
    const { x, y, random } = points(9, 300);
    const z = x.map((v, i) => 2 + v / 10 - y[i]! / 5 + random.normal() + (i % 7 === 0 ? 30 : 0));
    const fit = huberFit([x.map(() => 1), x, y], z);
    expect(fit.iterations).toBeLessThan(16);
    expect(fit.leverages.reduce((a, b) => a + b, 0)).toBeCloseTo(3, 9);
  });

  it("of many rows is found where a tenth of them does not tell the columns apart", () => {
    const { x, y, random } = points(10, 6000);
    const z = x.map((v, i) => 2 + v / 10 - y[i]! / 5 + random.normal() + (i % 7 === 0 ? 30 : 0));
    const one = x.map(() => 1);
    // a column of one row takes that row out of the fit of the others
    const alone = huberFit([one, x, y, x.map((_, i) => (i === 4321 ? 1 : 0))], z);
    const rest = (list: readonly number[]) => list.filter((_, i) => i !== 4321);
    const others = huberFit([rest(one), rest(x), rest(y)], rest(z));
    expect(alone.scale / others.scale).toBeCloseTo(1, 3);
    for (const k of [0, 1, 2]) expect(alone.coefficients[k]! / others.coefficients[k]!).toBeCloseTo(1, 4);
    expect(alone.residuals[4321]!).toBeCloseTo(0, 9);
  });
});

describe("a process", () => {
  const { x, y, z } = points(12, 30);

  it.each(["matern 5/2", "squared exponential"] as const)(
    "of the family %s adds what its sizes may be off by",
    (covariance) => {
      const process = gaussianProcess({ x, y, z }, { covariance, nugget: 0.04 }) as FittedProcess;
      expect(process.covariance).toBe(covariance);
      expect(process.shifted).toHaveLength(3);
      const [px, py] = [Float64Array.of(20, 70, 140), Float64Array.of(10, 50, 90)];
      const { mean, standardUncertainty } = process.predict(px, py);
      const own = process.system.predict(px, py);
      const halves = process.shifted.map(([less, more]) => {
        const [low, high] = [less.system.means(px, py), more.system.means(px, py)];
        return high.map((h, i) => (h - low[i]!) / 2);
      });
      const found = process.covariances(px, py);
      for (const i of [0, 1, 2]) {
        expect(mean[i]!).toBeCloseTo(own.mean[i]!, 9);
        const variance = halves.reduce((s, half) => s + half[i]! ** 2, own.variance[i]!);
        expect(standardUncertainty[i]! ** 2 / variance).toBeCloseTo(1, 9);
        expect(found[4 * i]! / variance).toBeCloseTo(1, 6);
      }
      const between = process.system.covariances(px, py)[1]!;
      expect(found[1]!).toBeCloseTo(
        halves.reduce((s, half) => s + half[0]! * half[1]!, between),
        9,
      );
      // one standard uncertainty either way: no size is thought to be surer than it is
      for (const [less, more] of process.shifted) {
        expect(
          Math.abs(Math.log(more.size.variance / less.size.variance)) +
            Math.abs(Math.log(more.size.lengthX / less.size.lengthX)) +
            Math.abs(Math.log(more.size.lengthY / less.size.lengthY)),
        ).toBeGreaterThan(0.01);
      }
    },
  );

  it("takes two readings at one place where they are noisy, or where the noise is to be found", () => {
    const doubled = { x: [...x, x[0]!], y: [...y, y[0]!], z: [...z, z[0]! + 0.3] };
    const start = { variance: 4, lengthX: 30, lengthY: 30 };
    for (const options of [
      { nugget: 0.04, start },
      { fitNoise: true, start },
    ]) {
      expect(gaussianProcess(doubled, options).predict([x[0]!], [y[0]!]).mean[0]!).toBeCloseTo(z[0]! + 0.15, 0);
    }
  });

  it("has the slopes of its likelihood with errors that readings share", () => {
    const few = points(5, 12);
    const [fx, fy, fz] = [few.x, few.y, few.z].map((v) => Float64Array.from(v)) as [
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    const modes = [fx.map((v) => v / 60), fy.map((v) => 0.5 - v / 50)];
    for (const name of ["matern 5/2", "squared exponential"] as const) {
      const parts = {
        x: fx,
        y: fy,
        z: fz,
        family: families[name],
        trend: new TrendSpace([fx.map(() => 1)], 12, "test"),
        nugget: fx.map(() => 0.03),
        modes,
      };
      const at = ([a, b, c, d]: readonly number[]) =>
        logLikelihood(parts, {
          variance: Math.exp(a!),
          lengthX: Math.exp(b!),
          lengthY: Math.exp(c!),
          noise: Math.exp(d!),
        })!;
      const logs = [1, 3, 3.2, -2];
      at(logs).gradient.forEach((slope, k) => {
        const moved = (by: number) => at(logs.map((v, i) => (i === k ? v + by : v))).value;
        expect((moved(1e-4) - moved(-1e-4)) / 2e-4).toBeCloseTo(slope, 5);
      });
    }
  });
});

describe("a minimum zone of many points", () => {
  it("is found on a part and holds for all, whatever the heights are counted from", () => {
    const { x, y, random } = points(6, 3000);
    const z = x.map((v, i) => 1000 + v / 3 - y[i]! / 7 + random.normal());
    const zone = minimumZonePlane(x, y, z);
    const off = z.map((v, i) => v - zone.slopeX * x[i]! - zone.slopeY * y[i]! - zone.offset);
    expect(Math.max(...off)).toBeCloseTo(zone.zone / 2, 8);
    expect(Math.min(...off)).toBeCloseTo(-zone.zone / 2, 8);
    expect(zone.upper.length + zone.lower.length).toBe(4);
    expect(minimumZoneWidths(x, y)(z)).toBeCloseTo(zone.zone, 8);
  });

  it("begins from contacts that do not hang on the height of the whole", () => {
    const [x, y] = [Float64Array.of(-1, 1, 0, 0), Float64Array.of(-1, -1, 1, 0)];
    const sides = (up: number, fourth: number) => {
      const { index, side } = startContacts(x, y, Float64Array.of(up, up, up, up + fourth));
      return side[index.indexOf(3)];
    };
    for (const up of [-9, 0, 9]) expect([sides(up, 2), sides(up, -2)]).toEqual([1, -1]);
  });
});
