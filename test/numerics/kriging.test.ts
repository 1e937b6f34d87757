import { describe, expect, it } from "vitest";
import { kriging, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { decimalsOf, fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

interface Published {
  readonly x: string[];
  readonly y: string[];
  readonly value: string[];
  readonly at: [string, string];
  readonly models: {
    readonly sill: string;
    readonly nugget: string;
    readonly rate: string;
    readonly estimate: string;
    readonly variance: string;
    readonly digits: [string, string];
  }[];
}

const published = fixture<Published>("./form/kriging.json");
const points = { x: published.x.map(Number), y: published.y.map(Number), z: published.value.map(Number) };
const [px, py] = published.at.map(Number) as [number, number];

describe("kriging", () => {
  it.each(published.models)("gives the published estimate, sill $sill, nugget $nugget", (model) => {
    const [sill, nugget, rate] = [Number(model.sill), Number(model.nugget), Number(model.rate)];
    const covariance = (dx: number, dy: number) => sill * Math.exp(-rate * Math.hypot(dx, dy));
    const { value, variance } = kriging(points, { covariance, nugget }).at(px, py);
    // the book's variance is that of a new sample, with its nugget
    for (const [found, printed] of [
      [value, model.estimate],
      [variance + nugget, model.variance],
      [value, model.digits[0]],
      [variance + nugget, model.digits[1]],
    ] as const) {
      expect(found.toFixed(decimalsOf(printed))).toBe(printed);
    }
  });

  const covariance = (dx: number, dy: number) => 4 * Math.exp(-((dx / 30) ** 2 + (dy / 20) ** 2) / 2);
  const scattered = (seed: number, n = 40) => {
    const stream = randomStream(seed);
    const draw = (scale: number) => Array.from({ length: n }, () => scale * stream.uniform());
    return { x: draw(100), y: draw(60), z: draw(10) };
  };

  it("follows a change of scale: heights times three, estimate times three, variance with the covariance alone", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const set = scattered(seed);
      const one = kriging(set, { covariance, nugget: 0.3 }).at(50, 30);
      const scaled = kriging(
        { ...set, z: set.z.map((z) => 3 * z) },
        { covariance: (dx, dy) => 7 * covariance(dx, dy), nugget: 2.1 },
      ).at(50, 30);
      expect(scaled.value / one.value).toBeCloseTo(3, 9);
      expect(scaled.variance / one.variance).toBeCloseTo(7, 9);
    }
  });

  it("is the same in another order, in inches, and moved aside", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const set = scattered(seed);
      const one = kriging(set, { covariance, nugget: 0.3, trend: "plane" }).at(20, 40);
      const turned = { x: [...set.x].reverse(), y: [...set.y].reverse(), z: [...set.z].reverse() };
      const inches = {
        x: turned.x.map((v) => (v + 1000) / 25.4),
        y: turned.y.map((v) => v / 25.4),
        z: turned.z,
      };
      const options = { covariance: (dx: number, dy: number) => covariance(25.4 * dx, 25.4 * dy), nugget: 0.3 };
      const other = kriging(inches, { ...options, trend: "plane" }).at(1020 / 25.4, 40 / 25.4);
      expect(other.value).toBeCloseTo(one.value, 8);
      expect(other.variance).toBeCloseTo(one.variance, 8);
    }
  });

  it("goes through readings without noise, reproduces a plane, and is least sure far away", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const { x, y } = scattered(seed, 15);
      const z = x.map((v, i) => 1 + 0.1 * v - 0.2 * y[i]!);
      const found = kriging(
        { x, y, z },
        { covariance: (dx, dy) => Math.exp(-Math.hypot(dx, dy) / 30), trend: "plane" },
      );
      expect(found.at(x[3]!, y[3]!).variance).toBeCloseTo(0, 10);
      expect(found.at(200, -70).value).toBeCloseTo(1 + 20 + 14, 7);
      expect(found.at(300, 300).variance).toBeGreaterThan(found.at(50, 30).variance);
    }
  });

  it("refuses points at one place without noise, too few and missing ones", () => {
    const exponential = { covariance: (dx: number, dy: number) => Math.exp(-Math.hypot(dx, dy)) };
    const act = (x: number[]) => () => kriging({ x, y: [0, 0, 1, 2], z: [1, 2, 3, 4] }, exponential);
    expect(refusal(act([0, 0, 1, 2]))).toEqual({
      code: "same-place",
      message:
        "kriging: points 1 and 2 are both at x 0, y 0; leave one out, or give the readings a noise greater than zero",
    });
    const upsideDown = { covariance: (dx: number, dy: number) => -Math.exp(-Math.hypot(dx, dy)) };
    expect(refusal(() => kriging({ x: [0, 1, 2, 3], y: [0, 1, 0, 1], z: [1, 2, 3, 4] }, upsideDown))).toEqual({
      code: "not-positive-definite",
      message:
        "kriging: the covariance of the 4 places is not positive definite, one place follows from the others; leave out one of two places that lie together, or give the readings a noise greater than zero",
    });
    expect(refusal(act([0, 1, 2]))).toEqual({
      code: "too-few-points",
      message: "kriging: 3 x, 4 y and 4 z; give at least 4 points, one of each a point",
    });
    expect(refusal(act([0, Number.NaN, 1, 2]))).toEqual({
      code: "not-finite",
      message: "kriging: point 2 is x NaN, y 0, z 2; leave it out if it was not measured",
    });
  });
});
