import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { degC, kelvin, plain, um } from "../../kernel-lib/src/quantity/index.js";
import {
  CorrelatedGroup,
  correlated,
  degreesOfFreedomFromDoubt,
  input,
  Measured,
  pooledSpread,
} from "../../kernel-lib/src/uncertainty/index.js";
import { refusal } from "../refusal.js";

const said = (act: () => unknown) => refusal(act).message;
const three = { label: "x", estimate: um(5), halfWidth: um(3) };

describe("the law of an input", () => {
  it("holds place, width and shape in SI", () => {
    expect(input.rectangular(three).law).toEqual({ name: "rectangular", location: 5e-6, halfWidth: 3e-6 });
    expect(input.trapezoidal({ ...three, topHalfWidth: um(1) }).law).toEqual({
      name: "trapezoidal",
      location: 5e-6,
      halfWidth: 3e-6,
      topHalfWidth: 1e-6,
    });
    expect(input.inexactLimits({ ...three, limitDoubt: um(0.5) }).law).toEqual({
      name: "curvilinear trapezoid",
      location: 5e-6,
      halfWidth: 3e-6,
      limitDoubt: 0.5e-6,
    });
    const air = input.normal({ label: "air", estimate: degC(20), standardUncertainty: kelvin(0.5) });
    expect(air.law).toEqual({ name: "normal", location: 293.15, standardDeviation: 0.5 });
    expect(input.fromReadings({ label: "x", readings: [plain(1), plain(3)] }).law).toEqual({
      name: "t",
      location: 2,
      scale: 1,
      degreesOfFreedom: 1,
    });
  });

  it("is Student's t where the degrees of freedom of a normal u are stated (JCGM 101, 6.4.9.7)", () => {
    const read = input.normal({ label: "x", estimate: um(1), standardUncertainty: um(1), degreesOfFreedom: 18 });
    expect([read.law.name, read.distribution]).toEqual(["t", "t"]);
  });

  it("has the u that JCGM 101 prints: trapezoid (6.4.4.4), inexact limits (6.4.3.4)", () => {
    const u = (x: { standardUncertainty: { in(unit: "um"): number } }) => x.standardUncertainty.in("um");
    // half-width 3, top 1: β = 1/3, u² = a² (1 + β²) / 6
    expect(u(input.trapezoidal({ ...three, topHalfWidth: um(1) }))).toBeCloseTo(3 * Math.sqrt((1 + 1 / 9) / 6), 12);
    expect(u(input.inexactLimits({ ...three, limitDoubt: um(0.5) }))).toBeCloseTo(Math.sqrt(9 / 3 + 0.25 / 9), 12);
    expect(u(input.trapezoidal({ ...three, topHalfWidth: um(0) }))).toBeCloseTo(u(input.triangular(three)), 12);
    expect(u(input.trapezoidal({ ...three, topHalfWidth: um(3) }))).toBeCloseTo(u(input.rectangular(three)), 12);
    expect(u(input.inexactLimits({ ...three, limitDoubt: um(0) }))).toBeCloseTo(u(input.rectangular(three)), 12);
  });

  it("takes two limits for an estimate and a half-width", () => {
    const read = input.rectangular({ label: "x", lower: um(2), upper: um(8) });
    expect(read.estimate.in("um")).toBeCloseTo(5, 12);
    expect(read.standardUncertainty.in("um")).toBeCloseTo(Math.sqrt(3), 12);
  });

  it("of a cut normal input has the mean and u of what is left: half a normal law, and no cut worth the name", () => {
    const cut = (lower: number) =>
      input.truncatedNormal({ label: "x", estimate: um(0), standardUncertainty: um(1), lower: um(lower) });
    expect(cut(0).estimate.in("um")).toBeCloseTo(Math.sqrt(2 / Math.PI), 9);
    expect(cut(0).standardUncertainty.in("um")).toBeCloseTo(Math.sqrt(1 - 2 / Math.PI), 9);
    expect(cut(-8).estimate.in("um")).toBeCloseTo(0, 9);
    expect(cut(-8).standardUncertainty.in("um")).toBeCloseTo(1, 9);
    const window = input.truncatedNormal({
      label: "x",
      estimate: um(0),
      standardUncertainty: um(1000),
      lower: um(-1),
      upper: um(1),
    });
    expect(window.standardUncertainty.in("um")).toBeCloseTo(1 / Math.sqrt(3), 6);
  });

  it("of a cut normal input agrees with a seeded simulation", () => {
    const cut = input.truncatedNormal({
      label: "x",
      estimate: um(1),
      standardUncertainty: um(2),
      lower: um(0),
      upper: um(4),
    });
    const stream = randomStream(5);
    const kept: number[] = [];
    while (kept.length < 100_000) {
      const value = 1 + 2 * stream.normal();
      if (value >= 0 && value <= 4) kept.push(value);
    }
    const mean = kept.reduce((sum, v) => sum + v, 0) / kept.length;
    const u = Math.sqrt(kept.reduce((sum, v) => sum + (v - mean) ** 2, 0) / kept.length);
    expect(Math.abs(cut.estimate.in("um") - mean)).toBeLessThan((4 * u) / Math.sqrt(kept.length));
    expect(Math.abs(cut.standardUncertainty.in("um") / u - 1)).toBeLessThan(0.01);
  });
});

describe("certificates and degrees of freedom", () => {
  it("reads U with k, and U with a level, with and without ν (JCGM 100, 4.3.4, from memory)", () => {
    const of = (how: { coverageFactor: number } | { level: number; degreesOfFreedom?: number }) =>
      input
        .fromCertificate({ label: "block", estimate: um(0), expandedUncertainty: um(129), ...how })
        .standardUncertainty.in("um");
    // 4.3.4: a resistor of 10 Ω, U = 129 µΩ at 99 %: u = 50 µΩ
    expect(of({ level: 0.99 }).toFixed(0)).toBe("50");
    expect(of({ coverageFactor: 2 })).toBe(64.5);
    expect((129 / of({ level: 0.95, degreesOfFreedom: 5 })).toFixed(2)).toBe("2.57");
  });

  it("takes ν from how far u is believed: 25 % is 8, 10 % is 50, 50 % is 2 (JCGM 100, G.4.2 and H.1.6)", () => {
    expect([0.25, 0.1, 0.5].map((doubt) => degreesOfFreedomFromDoubt(doubt).toFixed(6))).toEqual([
      "8.000000",
      "50.000000",
      "2.000000",
    ]);
    expect(input.rectangular({ ...three, relativeDoubt: 0.25 }).degreesOfFreedom).toBe(8);
  });

  it("pools groups, from readings and as stated: s² is the mean of the variances weighted by ν", () => {
    const pooled = pooledSpread([[um(10), um(12)], { standardDeviation: um(2), degreesOfFreedom: 9 }]);
    expect(pooled.degreesOfFreedom).toBe(10);
    expect(pooled.standardDeviation.in("um")).toBeCloseTo(Math.sqrt((2 + 9 * 4) / 10), 12);
    const a = input.fromReadings({ label: "a", readings: [um(1), um(2), um(3), um(4)], pooled });
    const b = input.fromReadings({ label: "b", readings: [um(7)], pooled });
    expect(a.standardUncertainty.in("um")).toBeCloseTo(pooled.standardDeviation.in("um") / 2, 12);
    // one estimate of spread: the ν of the pool, not twice that
    expect(Measured.from(a).plus(Measured.from(b)).effectiveDegreesOfFreedom).toBeCloseTo(10, 9);
    expect(`${b}`).toBe("b: 7 µm, u = 1.94936 µm (t, type A)");
    expect(a.source).toBe("4 readings, scatter pooled over 2 groups");
  });
});

describe("correlated inputs", () => {
  const of = (label: string, u: number, degreesOfFreedom = Number.POSITIVE_INFINITY) =>
    input.normal({ label, estimate: plain(1), standardUncertainty: plain(u), degreesOfFreedom });

  it("add up in full at r = 1 and cancel in full at r = −1, for any u", () => {
    const u = fc.double({ min: 1e-3, max: 1e3, noNaN: true });
    fc.assert(
      fc.property(u, u, (ua, ub) => {
        const pair = (r: number) =>
          correlated(
            [of("a", ua), of("b", ub)],
            [
              [1, r],
              [r, 1],
            ],
          );
        const [a, b] = pair(1);
        const [c, d] = pair(-1);
        expect(a.plus(b).standardUncertainty.in("1") / (ua + ub)).toBeCloseTo(1, 9);
        expect(c.plus(d).standardUncertainty.in("1") - Math.abs(ua - ub)).toBeCloseTo(0, 6);
      }),
      { seed: 21, numRuns: 100 },
    );
  });

  it("are kept as a group with their joint law", () => {
    const [a, b] = correlated(
      [of("a", 2, 4), of("b", 3, 4)],
      [
        [1, 0.5],
        [0.5, 1],
      ],
    );
    const { group, law } = b.terms[1]!.input;
    expect(group).toBe(a.terms[0]!.input.group);
    expect(law).toEqual({ name: "t", location: 0, scale: 1, degreesOfFreedom: 4 });
    if (!(group instanceof CorrelatedGroup)) throw new Error("no group");
    expect(group.covariance).toEqual([
      [4, 3],
      [3, 9],
    ]);
    expect(`${group}`).toBe("correlated: a, b (joint t with 4 degrees of freedom)");
    expect(a.plus(b).effectiveDegreesOfFreedom).toBeCloseTo(4, 9);
  });

  it("are refused where the matrix is none, each with its place", () => {
    const ab = [of("a", 1), of("b", 1)] as const;
    expect(said(() => correlated(ab, [[1, 0.5]]))).toBe(
      "correlated: 2 inputs need a 2 × 2 matrix of coefficients, given are rows of 2; write one row for each input",
    );
    expect(
      said(() =>
        correlated(ab, [
          [0.9, 0.5],
          [0.5, 1],
        ]),
      ),
    ).toBe("correlated: row 1, column 1 is 0.9; an input is wholly correlated with itself, write 1");
    const abc = [of("a", 1), of("b", 1), of("c", 1)];
    expect(
      said(() =>
        correlated(abc, [
          [1, 0.9, 0.9],
          [0.9, 1, -0.9],
          [0.9, -0.9, 1],
        ]),
      ),
    ).toBe(
      'correlated: the coefficients contradict each other (the matrix is not positive semidefinite): what "c" shares with the inputs before it is more than its whole variance; check signs, or take them all from the same readings',
    );
    expect(said(() => correlated([ab[0], ab[0]], []))).toBe(
      'correlated: "a" stands twice in the list; an input is wholly correlated with itself, name it once',
    );
    expect(said(() => correlated([ab[0]], [[1]]))).toBe("correlated: 1 input; give two at least");
  });
});

describe("bad inputs", () => {
  it("are refused with a sentence to act on", () => {
    const spread = { label: "x", estimate: um(1), standardUncertainty: um(1) };
    expect(said(() => input.normal({ ...spread, degreesOfFreedom: 0.5 }))).toBe(
      'input "x": 0.5 degrees of freedom; give 1 or more, or leave them out where the uncertainty is exactly known',
    );
    expect(said(() => input.normal({ ...spread, degreesOfFreedom: 5, relativeDoubt: 0.2 }))).toBe(
      'input "x": degrees of freedom 5 and a relative doubt 0.2 are both given; each follows from the other, leave one out',
    );
    expect(said(() => degreesOfFreedomFromDoubt(1.5))).toBe(
      "degreesOfFreedomFromDoubt: a doubt of 1.5 of u; give a part between 0 and 0.7, such as 0.25 for 25 %",
    );
    expect(said(() => input.rectangular({ label: "x", lower: um(3), upper: um(2) }))).toBe(
      'input "x": the lower limit 3 µm is not below the upper limit 2 µm; exchange them',
    );
    expect(said(() => input.rectangular({ ...three, halfWidth: um(-1) }))).toBe(
      'input "x": its half-width is −1 µm; give one greater than zero, or use the plain quantity where the value is exact',
    );
    expect(said(() => input.trapezoidal({ ...three, topHalfWidth: um(4) }))).toBe(
      'input "x": the top reaches beyond the half-width; give a top no wider than the limits',
    );
    expect(said(() => input.inexactLimits({ ...three, limitDoubt: um(4) }))).toBe(
      'input "x": the doubt of the limits reaches beyond the half-width; give a doubt no greater than the half-width',
    );
    expect(said(() => input.truncatedNormal(spread))).toBe(
      'input "x": no limit is given; give lower, upper or both, or use normal',
    );
    expect(said(() => input.truncatedNormal({ ...spread, lower: um(9) }))).toBe(
      'input "x": the limits leave nothing of the law: at least 9 µm lies more than 6 u from the estimate 1 µm; correct the estimate, its u or the limit',
    );
    expect(
      said(() => input.fromCertificate({ label: "x", estimate: um(1), expandedUncertainty: um(1), level: 95 })),
    ).toBe('input "x": level 95; give the level of confidence of the certificate between 0 and 1, such as 0.95');
    expect(said(() => pooledSpread([[um(1)]]))).toBe(
      "pooledSpread: group 1 has 1 reading; a scatter needs two at least",
    );
    const pooled = pooledSpread([[degC(20), degC(21)]]);
    expect(said(() => input.fromReadings({ label: "x", readings: [um(1)], pooled: pooled as never }))).toBe(
      'input "x": the pooled scatter is a temperature difference, the readings need a length; pool readings of the same kind',
    );
  });
});
