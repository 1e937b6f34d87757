import { describe, expect, it } from "vitest";
import { MeasurementError } from "../../kernel-lib/src/measurement-error.js";
import { normalCdf } from "../../kernel-lib/src/numerics/index.js";
import { degC, kelvin, mm, plain, type Quantity, um } from "../../kernel-lib/src/quantity/index.js";
import { Evaluation, needQuantity } from "../../kernel-lib/src/uncertainty/evaluation.js";
import {
  budget,
  budgetOfNumbers,
  type CorrelatedGroup,
  correlated,
  degreesOfFreedomFromDoubt,
  input,
  type Law,
  lawOf,
  lawOfPropagation,
  Measured,
  momentsOf,
  pooledSpread,
} from "../../kernel-lib/src/uncertainty/index.js";
import { LawColumns } from "../../kernel-lib/src/uncertainty/law-columns.js";
import { secondOrder } from "../../kernel-lib/src/uncertainty/second-order.js";
import { sensitivities } from "../../kernel-lib/src/uncertainty/sensitivities.js";
import { refusal } from "../refusal.js";

const said = (act: () => unknown) => {
  const { code, message } = refusal(act);
  return `${code} | ${message}`;
};
const three = { label: "x", estimate: um(5), halfWidth: um(3) };
const spread = { label: "x", estimate: um(1), standardUncertainty: um(1) };

describe("laws", () => {
  it("have their half-width from u: √3, √6 and √2 times (JCGM 100, 4.3.7 and 4.3.9; JCGM 101, 6.4.6)", () => {
    const half = (name: "rectangular" | "triangular" | "arcsine") => lawOf(name, 5, 2, 9);
    expect(half("rectangular")).toEqual({
      name: "rectangular",
      location: 5,
      halfWidth: expect.closeTo(2 * Math.sqrt(3), 12),
    });
    expect(half("triangular")).toEqual({
      name: "triangular",
      location: 5,
      halfWidth: expect.closeTo(2 * Math.sqrt(6), 12),
    });
    expect(half("arcsine")).toEqual({ name: "arcsine", location: 5, halfWidth: expect.closeTo(2 * Math.SQRT2, 12) });
    expect(lawOf("normal", 5, 2, Number.POSITIVE_INFINITY)).toEqual({
      name: "normal",
      location: 5,
      standardDeviation: 2,
    });
    for (const name of ["normal", "t"] as const) {
      expect(lawOf(name, 5, 2, 9)).toEqual({ name: "t", location: 5, scale: 2, degreesOfFreedom: 9 });
    }
    expect(lawOf("t", 5, 2, Number.POSITIVE_INFINITY).name).toBe("normal");
  });

  it("have mean and u by their closed forms, those of a cut normal law by φ and Φ", () => {
    const of = (law: Law) => Object.values(momentsOf(law));
    const near = (mean: number, u: number) => [expect.closeTo(mean, 9), expect.closeTo(u, 9)];
    expect(of({ name: "normal", location: 5, standardDeviation: 2 })).toEqual([5, 2]);
    expect(of({ name: "t", location: 5, scale: 2, degreesOfFreedom: 3 })).toEqual([5, 2]);
    expect(of({ name: "rectangular", location: 5, halfWidth: 3 })).toEqual(near(5, 3 / Math.sqrt(3)));
    expect(of({ name: "triangular", location: 5, halfWidth: 3 })).toEqual(near(5, 3 / Math.sqrt(6)));
    expect(of({ name: "arcsine", location: 5, halfWidth: 3 })).toEqual(near(5, 3 / Math.SQRT2));
    expect(of({ name: "trapezoidal", location: 5, halfWidth: 3, topHalfWidth: 1 })).toEqual(near(5, Math.sqrt(10 / 6)));
    expect(of({ name: "curvilinear trapezoid", location: 5, halfWidth: 3, limitDoubt: 1.5 })).toEqual(
      near(5, Math.sqrt(3 + 2.25 / 9)),
    );
    const phi = (z: number) => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    for (const [lower, upper] of [
      [1, 4],
      [-3, 2],
      [3, 9],
    ] as const) {
      const [a, b] = [(lower - 1) / 2, (upper - 1) / 2];
      const whole = normalCdf(b) - normalCdf(a);
      const mean = (phi(a) - phi(b)) / whole;
      const variance = 1 + (a * phi(a) - b * phi(b)) / whole - mean ** 2;
      expect(of({ name: "truncated normal", location: 1, standardDeviation: 2, lower, upper })).toEqual(
        near(1 + 2 * mean, 2 * Math.sqrt(variance)),
      );
    }
  });

  it("are drawn with their mean, u and limits", () => {
    const at = { label: "x", estimate: plain(5), halfWidth: plain(3) };
    const cut = { label: "x", estimate: plain(1), standardUncertainty: plain(2) };
    const inputs = [
      input.rectangular(at),
      input.triangular(at),
      input.arcsine(at),
      input.trapezoidal({ ...at, topHalfWidth: plain(1) }),
      input.inexactLimits({ ...at, limitDoubt: plain(1.5) }),
      input.normal(cut),
      input.truncatedNormal({ ...cut, lower: plain(0), upper: plain(4) }),
      input.truncatedNormal({ ...cut, lower: plain(6), upper: plain(9) }),
      input.truncatedNormal({ ...cut, lower: plain(-7), upper: plain(-4) }),
    ];
    const limits = [3, 3, 3, 3, 4.5, 99, 4, 3, 3];
    const size = 8000;
    const columns = new LawColumns(inputs, size);
    const shifts = new Float64Array(inputs.length * size);
    columns.start(3, 0);
    columns.fill(shifts, size);
    inputs.forEach(({ uncertaintySi: u, estimate, law }, k) => {
      const row = [...shifts.subarray(k * size, (k + 1) * size)];
      const mean = row.reduce((a, b) => a + b, 0) / size;
      const deviation = Math.sqrt(row.reduce((sum, x) => sum + (x - mean) ** 2, 0) / size);
      expect(Math.abs(mean) / u, law.name).toBeLessThan(0.05);
      expect(Math.abs(deviation / u - 1), law.name).toBeLessThan(0.04);
      expect(row.every((x) => Math.abs(x) <= limits[k]!)).toBe(true);
      if (law.name !== "truncated normal") return;
      expect(row.every((x) => x + estimate.si >= law.lower - 1e-9 && x + estimate.si <= law.upper + 1e-9)).toBe(true);
    });
    // fewer at a time fill the beginning of each row and leave the rest alone
    const few = new Float64Array(inputs.length * size).fill(77);
    columns.start(3, 0);
    columns.fill(few, 10);
    expect(few[9]).not.toBe(77);
    expect(few[10]).toBe(77);
    expect(few[size]).not.toBe(77);
  });

  it("share their draw of χ² in a group of one ν, and are drawn apart otherwise", () => {
    const pool = pooledSpread([[um(0), um(1), um(3), um(4)]]);
    const read = (label: string) => input.fromReadings({ label, readings: [um(1)], pooled: pool });
    const apart = () => input.t({ label: "x", estimate: um(1), standardUncertainty: um(1), degreesOfFreedom: 3 });
    const size = 4000;
    /** correlation of the sizes of two rows, by their ranks above the median */
    const together = (a: ReturnType<typeof read>, b: ReturnType<typeof read>) => {
      const columns = new LawColumns([a, b], size);
      const shifts = new Float64Array(2 * size);
      columns.start(1, 0);
      columns.fill(shifts, size);
      const rows = [0, 1].map((k) => [...shifts.subarray(k * size, (k + 1) * size)].map(Math.abs));
      const middles = rows.map((row) => [...row].sort((x, y) => x - y)[size / 2]!);
      return rows[0]!.filter((x, i) => x > middles[0]! === rows[1]![i]! > middles[1]!).length / size;
    };
    expect(together(read("a"), read("b"))).toBeGreaterThan(0.55);
    expect(Math.abs(together(apart(), apart()) - 0.5)).toBeLessThan(0.03);
  });
});

describe("inputs by limits", () => {
  it("from a lower to an upper one lie in the middle", () => {
    const found = input.triangular({ label: "x", lower: um(-2), upper: um(8) });
    expect(found.law).toEqual({
      name: "triangular",
      location: expect.closeTo(3e-6, 15),
      halfWidth: expect.closeTo(5e-6, 15),
    });
    expect([found.source, found.evaluation, found.degreesOfFreedom]).toEqual([
      "not stated",
      "B",
      Number.POSITIVE_INFINITY,
    ]);
    expect(input.arcsine({ ...three, source: "log", degreesOfFreedom: 7 })).toMatchObject({
      source: "log",
      degreesOfFreedom: 7,
    });
  });
  it("take a top and a doubt up to the half-width, none for zero", () => {
    expect(input.trapezoidal({ ...three, topHalfWidth: um(3) }).distribution).toBe("trapezoidal");
    expect(input.inexactLimits({ ...three, limitDoubt: um(3) }).distribution).toBe("curvilinear trapezoid");
    expect(said(() => input.trapezoidal({ ...three, topHalfWidth: um(-1) }))).toBe(
      'input | input "x": the half-width of its top is −1 µm; give one of zero or more',
    );
    expect(said(() => input.inexactLimits({ ...three, limitDoubt: kelvin(1) as never }))).toBe(
      'input | input "x": the doubt of its limits is a temperature difference; give a length',
    );
  });
  it("are refused without two limits of one kind in their order, or an estimate with its width", () => {
    const one = "give two quantities of one kind, or an estimate and a half-width";
    expect(said(() => input.rectangular({ label: "x", lower: um(1), upper: kelvin(2) } as never))).toBe(
      `input | input "x": its limits are 1 µm and 2 K; ${one}`,
    );
    expect(said(() => input.rectangular({ label: "x", lower: 1, upper: um(2) } as never))).toBe(
      `input | input "x": its limits are 1 and 2 µm; ${one}`,
    );
    expect(said(() => input.rectangular({ label: "x", lower: um(1), upper: 2 } as never))).toBe(
      `input | input "x": its limits are 1 µm and 2; ${one}`,
    );
    expect(said(() => input.rectangular({ label: "x", lower: um(2), upper: um(2) }))).toBe(
      'input | input "x": the lower limit 2 µm is not below the upper limit 2 µm; exchange them',
    );
    expect(said(() => input.rectangular({ ...three, estimate: 5 as never }))).toBe(
      'input | input "x": its estimate is 5; give a quantity, such as um(12)',
    );
    expect(said(() => input.rectangular({ ...three, halfWidth: um(0) }))).toBe(
      'input | input "x": its half-width is 0 µm; give one greater than zero, or use the plain quantity where the value is exact',
    );
    expect(said(() => input.rectangular({ ...three, halfWidth: 3 as never }))).toBe(
      'input | input "x": its half-width is no quantity; give a length',
    );
    expect(said(() => input.rectangular({ label: "x", estimate: degC(20), halfWidth: degC(1) as never }))).toBe(
      'input | input "x": its half-width is a temperature; give a temperature difference',
    );
  });
});

describe("inputs by a spread", () => {
  it("from a certificate take its k, or its level with the normal law or t", () => {
    const of = (more: object) =>
      input.fromCertificate({ label: "x", estimate: um(1), expandedUncertainty: um(3), ...more } as never);
    expect(of({ coverageFactor: 1.5 }).standardUncertainty).toEqual(um(2));
    // tables: 1.645 at 90 %; t of 10 at 95 % 2.228
    expect((3 / (of({ level: 0.9 }).standardUncertainty as Quantity<"length">).in("um")).toFixed(3)).toBe("1.645");
    expect(
      (3 / (of({ level: 0.95, degreesOfFreedom: 10 }).standardUncertainty as Quantity<"length">).in("um")).toFixed(3),
    ).toBe("2.228");
    for (const k of [0, -2, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(said(() => of({ coverageFactor: k }))).toBe(
        `input | input "x": coverage factor ${k}; give the k of the certificate, usually 2`,
      );
    }
    for (const level of [0, 1, -0.5]) {
      expect(said(() => of({ level }))).toBe(
        `input | input "x": level ${level}; give the level of confidence of the certificate between 0 and 1, such as 0.95`,
      );
    }
    expect(said(() => of({ expandedUncertainty: um(0), coverageFactor: 2 }))).toBe(
      'input | input "x": its expanded uncertainty is 0 µm; give one greater than zero, or use the plain quantity where the value is exact',
    );
    expect(
      input.normal({ label: "x", estimate: um(1), expandedUncertainty: um(3), coverageFactor: 3 }).standardUncertainty,
    ).toEqual(um(1));
  });
  it("of a t law keeps its ν and source", () => {
    const found = input.t({ ...spread, degreesOfFreedom: 4, source: "notebook" });
    expect([found.distribution, found.degreesOfFreedom, found.evaluation, found.source]).toEqual([
      "t",
      4,
      "B",
      "notebook",
    ]);
    expect(input.normal(spread).source).toBe("not stated");
  });
  it("cut at a limit are refused where nothing is left, from six u on", () => {
    const cut = (more: object) => () => input.truncatedNormal({ ...spread, ...more });
    expect(input.truncatedNormal({ ...spread, lower: um(6.99) }).estimate.in("um")).toBeGreaterThan(6.99);
    expect(input.truncatedNormal({ ...spread, upper: um(-4.99) }).estimate.in("um")).toBeLessThan(-4.99);
    const nothing = (limit: string) =>
      `input | input "x": the limits leave nothing of the law: ${limit} lies more than 6 u from the estimate 1 µm; correct the estimate, its u or the limit`;
    expect(said(cut({ lower: um(7.001) }))).toBe(nothing("at least 7.001 µm"));
    expect(said(cut({ upper: um(-5.001) }))).toBe(nothing("at most −5.001 µm"));
    expect(said(cut({ lower: um(2), upper: um(2) }))).toBe(
      'input | input "x": the lower limit 2 µm is not below the upper limit 2 µm; exchange them',
    );
    for (const limit of [{ lower: kelvin(1) }, { lower: um(0), upper: kelvin(1) }]) {
      expect(said(cut(limit))).toBe('input | input "x": a limit is no length; give it as the estimate is given');
    }
    expect(said(cut({ lower: um(0), standardUncertainty: um(-1) }))).toBe(
      'input | input "x": its uncertainty is −1 µm; give one greater than zero, or use the plain quantity where the value is exact',
    );
  });
  it("believe u to a part of it: ν = ½ (Δu/u)⁻², down to one", () => {
    expect(degreesOfFreedomFromDoubt(Math.SQRT1_2)).toBe(1);
    for (const doubt of [0, -0.25, 0.708, Number.NaN]) {
      expect(said(() => degreesOfFreedomFromDoubt(doubt))).toBe(
        `degrees-of-freedom | degreesOfFreedomFromDoubt: a doubt of ${doubt} of u; give a part between 0 and 0.7, such as 0.25 for 25 %`,
      );
    }
  });
});

describe("inputs from readings", () => {
  const of = (values: readonly number[], more: object = {}) =>
    input.fromReadings({ label: "gap", readings: values.map((value) => um(value)), ...more });
  it("are a mean with s / √n and n − 1", () => {
    const found = of([10, 12, 11, 15]);
    expect(found.estimate.in("um")).toBeCloseTo(12, 9);
    expect(found.standardUncertainty.in("um")).toBeCloseTo(Math.sqrt(14 / 3 / 4), 9);
    expect([found.distribution, found.degreesOfFreedom, found.evaluation, found.source]).toEqual([
      "t",
      3,
      "A",
      "4 readings",
    ]);
    expect(found.group).toBe(found);
  });
  it("are no better than the step of the display", () => {
    const found = of([10, 10], { resolution: um(1) });
    expect(found.standardUncertainty.in("um")).toBeCloseTo(1 / Math.sqrt(12), 9);
    expect([found.distribution, found.degreesOfFreedom, found.evaluation]).toEqual([
      "rectangular",
      Number.POSITIVE_INFINITY,
      "B",
    ]);
    expect(of([10, 11], { resolution: um(1) }).distribution).toBe("t");
    expect(of([10, 11], { resolution: um(2) }).distribution).toBe("rectangular");
    expect(said(() => of([10, 10, 10]))).toBe(
      'no-spread | input "gap": all 3 readings are 10 µm; the steps of the display hide the scatter, give its resolution',
    );
  });
  it("take scatter and ν of a pool, and share them", () => {
    const pooled = pooledSpread([[um(1), um(3)], { standardDeviation: um(2), degreesOfFreedom: 3 }]);
    const [one, four] = [of([7], { pooled }), of([1, 1, 1, 1], { pooled })];
    const s = Math.sqrt((2 + 3 * 4) / 4);
    expect(one.standardUncertainty.in("um")).toBeCloseTo(s, 9);
    expect(four.standardUncertainty.in("um")).toBeCloseTo(s / 2, 9);
    expect([one.degreesOfFreedom, one.group, four.group]).toEqual([4, pooled, pooled]);
    expect([one.source, of([7], { pooled, source: "notebook" }).source]).toEqual([
      "one reading, scatter pooled over 2 groups",
      "notebook",
    ]);
    expect(of([7], { pooled, resolution: um(100) }).group).not.toBe(pooled);
    expect(said(() => of([], { pooled }))).toBe(
      'too-few-readings | input "gap": 0 readings; a scatter needs two at least, better five',
    );
    expect(said(() => of([7]))).toBe(
      'too-few-readings | input "gap": 1 reading; a scatter needs two at least, better five',
    );
  });
  it("are pooled from readings of one kind", () => {
    const stated = (s: number, nu: number) => () => pooledSpread([{ standardDeviation: um(s), degreesOfFreedom: nu }]);
    expect(stated(0, 1)().standardDeviation.in("um")).toBe(0);
    expect(stated(2, 1)().groups).toBe(1);
    for (const [s, nu] of [
      [-1, 4],
      [1, 0.5],
      [1, Number.POSITIVE_INFINITY],
    ] as const) {
      expect(said(stated(s, nu))).toBe(
        `pooled | pooledSpread: group 1 has s = ${String(um(s))} with ${nu} degrees of freedom; give s of zero or more and ν of 1 or more`,
      );
    }
    expect(said(() => pooledSpread([]))).toBe(
      "pooled | pooledSpread: no group is given; give lists of readings, two or more each",
    );
    expect(said(() => pooledSpread([[um(1), um(2)], []]))).toBe(
      "pooled | pooledSpread: group 2 has 0 readings; a scatter needs two at least",
    );
    expect(
      said(() =>
        pooledSpread([
          [um(1), um(2)],
          [kelvin(1), kelvin(2)],
        ] as never),
      ),
    ).toBe(
      "pooled | pooledSpread: group 2 is of the kind temperature difference, the first of length; pool readings of one kind",
    );
    expect(
      pooledSpread([
        [degC(1), degC(2)],
        [degC(3), degC(5)],
      ]).standardDeviation.kind,
    ).toBe("temperature difference");
    expect(pooledSpread([[um(25.4), um(50.8)]]).text("inch")).toBe("s = 7.1 tenth from 1 group, 1 degree of freedom");
  });
});

describe("correlated inputs", () => {
  const of = (label: string, u: number, degreesOfFreedom = Number.POSITIVE_INFINITY) =>
    input.normal({ label, estimate: um(u), standardUncertainty: um(u), degreesOfFreedom, source: `of ${label}` });
  const matrix = (r: number) => [
    [1, r],
    [r, 1],
  ];
  it("are split into the first whole and the part of its own of the second (Cholesky)", () => {
    const [a, b] = correlated([of("a", 2), of("b", 5)], matrix(0.6));
    const parts = (found: typeof a) =>
      found.terms.map(({ input: one, sensitivity }) => [one.label, one.source, Number((1e6 * sensitivity).toFixed(9))]);
    expect(parts(a)).toEqual([["a", "of a", 2]]);
    expect(parts(b)).toEqual([
      ["a", "of a", 3],
      ["b, the part of its own", "of b", 4],
    ]);
    expect([a.in("um"), b.in("um")]).toEqual([expect.closeTo(2, 12), expect.closeTo(5, 12)]);
    const { group } = a.terms[0]!.input as { group: CorrelatedGroup };
    expect([group.labels, group.degreesOfFreedom, group.degreesOfFreedomStated]).toEqual([
      ["a", "b"],
      Number.POSITIVE_INFINITY,
      true,
    ]);
    expect(group.estimates).toEqual([expect.closeTo(2e-6, 15), expect.closeTo(5e-6, 15)]);
    expect(`${group}`).toBe("correlated: a, b (joint normal law)");
  });
  it("take the least ν where none is stated for the group, and say whether it was stated", () => {
    const group = (inputs: readonly ReturnType<typeof of>[], options?: { degreesOfFreedom: number }) => {
      const [a] = correlated(inputs, matrix(0.5), options) as readonly Measured<"length">[];
      const { degreesOfFreedom, degreesOfFreedomStated } = a!.terms[0]!.input.group as CorrelatedGroup;
      return [degreesOfFreedom, degreesOfFreedomStated];
    };
    expect(group([of("a", 1, 9), of("b", 1, 6)])).toEqual([6, false]);
    expect(group([of("a", 1, 9), of("b", 1, 9)])).toEqual([9, true]);
    expect(group([of("a", 1, 9), of("b", 1, 6)], { degreesOfFreedom: 12 })).toEqual([12, true]);
  });
  it("are refused by the place of the wrong coefficient", () => {
    const ab = [of("a", 1), of("b", 1)];
    const say = (rows: readonly (readonly number[])[]) => said(() => correlated(ab, rows));
    expect(say([])).toBe(
      "correlation | correlated: 2 inputs need a 2 × 2 matrix of coefficients, given are rows of nothing; write one row for each input",
    );
    expect(say([[1, 0.5], [0.5]])).toContain("given are rows of 2, 1; write one row");
    expect(say(matrix(-1.01))).toBe(
      "correlation | correlated: row 1, column 2 is -1.01; a correlation coefficient lies between −1 and 1",
    );
    expect(
      say([
        [1, 0],
        [0, 0.5],
      ]),
    ).toBe("correlation | correlated: row 2, column 2 is 0.5; an input is wholly correlated with itself, write 1");
    expect(() => correlated(ab, matrix(-1))).not.toThrow();
  });
});

describe("the first and second order of a model", () => {
  it("are exact for polynomials: sensitivities to the fifth power, second order to the third", () => {
    const model = (x: ArrayLike<number>) => x[0]! ** 5 + 3 * x[0]! * x[1]! - 2 * x[1]! ** 3;
    const found = sensitivities(model, [0.1, 0.2], [1, 2]);
    expect(found.value).toBe(1 + 6 - 16);
    expect(found.sensitivities).toEqual([expect.closeTo(5 + 6, 9), expect.closeTo(3 - 24, 9)]);
    const shifted = sensitivities((x) => model([1 + x[0]!, 2 + x[1]!]), [0.1, 0.2]);
    expect(shifted.sensitivities).toEqual(found.sensitivities.map((s) => expect.closeTo(s, 9)));
    // a straight model has the bound of its rounding alone
    const [bound] = sensitivities((x) => 7 * x[0]!, [0.5], [100]).errorBounds;
    expect(bound!).toBeGreaterThan(0);
    expect(bound!).toBeLessThan(1e-10);
    // and one that the differences do not follow has their last change
    const rough = sensitivities((x) => Math.sin(20 * x[0]!), [0.1], [0]);
    expect(Math.abs(rough.sensitivities[0]! - 20)).toBeLessThan(rough.errorBounds[0]!);
    expect(rough.errorBounds[0]!).toBeLessThan(2);
  });
  it("add Σ Σ [½ f_ij² + f_i f_ijj] u_i² u_j² (JCGM 100:2008, 5.1.2 note)", () => {
    // f = 2 a + a² b + 3 a³ at a = 1, b = 2: fa = 2 + 4 + 9, fb = 1, faa = 4 + 18, fab = 2, fbb = 0, faaa = 18, faab = 2, fabb = 0
    const f = (a: number, b: number) => 2 * a + a * a * b + 3 * a ** 3;
    const [ua, ub] = [0.01, 0.02];
    const found = secondOrder((x) => f(1 + x[0]!, 2 + x[1]!), [ua, ub]);
    const exact = (0.5 * 22 ** 2 + 15 * 18) * ua ** 4 + (2 ** 2 + 15 * 0 + 1 * 2) * ua ** 2 * ub ** 2;
    expect(found.variance / exact).toBeCloseTo(1, 4);
    expect(found.moves).toEqual([true, true]);
  });
  it("tell inputs that move nothing from those that move with another one only", () => {
    const moves = (model: (x: Float64Array) => number, count: number) =>
      secondOrder(model, new Array(count).fill(1)).moves;
    expect(moves((x) => x[0]! + x[1]! * x[2]!, 4)).toEqual([true, true, true, false]);
    expect(moves((x) => x[2]! ** 2 + 0 * x[0]! + x[1]! * 0, 3)).toEqual([false, false, true]);
    expect(moves((x) => Math.max(0, x[0]!), 1)).toEqual([true]);
    expect(moves((x) => Math.min(0, x[0]!), 1)).toEqual([true]);
    expect(moves((x) => Math.max(0, x[0]! + x[1]! - 1.5), 2)).toEqual([true, true]);
    expect(moves((x) => Math.max(0, -x[0]! - x[1]! - 1.5), 2)).toEqual([true, true]);
  });
  it("does not take the rounding of a large value for a bend", () => {
    expect(secondOrder((x) => 1e9 + x[0]! + x[1]!, [1e-3, 1e-3]).variance).toBe(0);
  });
  it("are propagated on plain numbers as in a budget", () => {
    const inputs = { estimates: [3, 4], standardUncertainties: [0.3, 0.2], degreesOfFreedom: [9, 4] };
    const found = lawOfPropagation((x) => x[0]! * -x[1]!, inputs);
    expect(found.value).toBe(-12);
    expect(found.contributions).toEqual([expect.closeTo(1.2, 9), expect.closeTo(0.6, 9)]);
    expect(found.standardUncertainty).toBeCloseTo(Math.hypot(1.2, 0.6), 9);
    expect(found.effectiveDegreesOfFreedom).toBeCloseTo(1.8 ** 2 / (1.44 ** 2 / 9 + 0.36 ** 2 / 4), 9);
    const wrong = (more: object) => said(() => lawOfPropagation((x) => x[0]!, { ...inputs, ...more }));
    expect(wrong({ standardUncertainties: [1] })).toBe(
      "input | lawOfPropagation: 2 estimates, 1 uncertainties and 2 degrees of freedom; give as many of each",
    );
    expect(wrong({ degreesOfFreedom: [1] })).toContain("2 estimates, 2 uncertainties and 1 degrees of freedom");
    const each = "give u above zero and 1 or more degrees of freedom";
    expect(wrong({ standardUncertainties: [1, 0] })).toBe(
      `input | lawOfPropagation: input 2 has u = 0 and 4 degrees of freedom; ${each}`,
    );
    expect(wrong({ standardUncertainties: [Number.POSITIVE_INFINITY, 1] })).toContain("input 1 has u = Infinity and 9");
    expect(wrong({ degreesOfFreedom: [9, 0.9] })).toContain("input 2 has u = 0.2 and 0.9 degrees of freedom");
    expect(
      lawOfPropagation((x) => x[0]!, { estimates: [1], standardUncertainties: [1], degreesOfFreedom: [1] })
        .effectiveDegreesOfFreedom,
    ).toBe(1);
  });
});

describe("a model of inputs", () => {
  const a = input.normal({ label: "a", estimate: um(10), standardUncertainty: um(2) });
  const b = input.normal({ label: "b", estimate: um(1), standardUncertainty: um(1) });
  const refusing = (wrong: (a: number, b: number) => boolean) => () =>
    budget({
      measurand: "y",
      inputs: { a, b },
      model: ({ a, b }) => {
        if (wrong(Math.round(a.in("um")), Math.round(b.in("um"))))
          throw new MeasurementError("own", "it is out of reach");
        return a.plus(b);
      },
    });
  it("is refused with the inputs that were moved, and how far", () => {
    expect(said(refusing((a) => a === 12))).toBe(
      'own | budget "y": with "a" at 12 µm (u above its estimate) the model refuses (it is out of reach)',
    );
    expect(said(refusing((a) => a === 10))).toBe(
      'own | budget "y": with every input at its estimate the model refuses (it is out of reach)',
    );
    const of = new Evaluation("model", { a, b }, ({ a, b }) => {
      if (a.si < 8e-6 && b.si > 2e-6) throw new MeasurementError("own", "it is out of reach");
      return a;
    });
    expect(said(() => of.at([-5e-6, 1.5e-6], (output) => output))).toBe(
      'own | model: with "a" at 5 µm (2.5 u below its estimate) and "b" at 2.5 µm (1.5 u above its estimate) the model refuses (it is out of reach)',
    );
    expect(() =>
      refusing(() => {
        throw new TypeError("not ours");
      })(),
    ).toThrow(TypeError);
  });
  it("is named where it does not end in a quantity of its kind", () => {
    expect(needQuantity("budget", um(1), "length")).toEqual(um(1));
    expect(said(() => needQuantity("budget", "7" as never))).toBe(
      "budget | budget: the model gives 7, not a quantity; end it with a value that has a unit",
    );
    expect(said(() => needQuantity("budget", kelvin(1) as never, "length"))).toBe(
      "budget | budget: the model gives a temperature difference where it gave a length before; let it end in one kind",
    );
  });
  it("takes results with several inputs, quantities, and none at all", () => {
    const sum = Measured.of(um(11), [
      { input: a, sensitivity: 2 },
      { input: b, sensitivity: -3 },
    ]);
    const found = budget({
      measurand: "y",
      inputs: { sum, exact: um(4) },
      model: ({ sum, exact }) => sum.minus(exact).times(5),
    });
    expect(found.in("um")).toBeCloseTo(35, 9);
    expect(found.terms.map(({ sensitivity }) => sensitivity)).toEqual([expect.closeTo(10, 9), expect.closeTo(-15, 9)]);
    const numbers = budgetOfNumbers({
      ...{ measurand: "y", inputs: { sum, exact: mm(1) }, units: { sum: "um", exact: "um" } },
      result: { kind: "length", unit: "mm" },
      model: ({ sum, exact }: { sum: number; exact: number }) => (sum * 5 + exact) / 1000,
    } as never) as typeof found;
    expect(numbers.in("um")).toBeCloseTo(1055, 9);
    expect(numbers.standardUncertainty.in("um")).toBeCloseTo(Math.hypot(20, 15), 6);
    const none = budget({ measurand: "y", inputs: {}, model: () => um(3) });
    expect(none.sentence()).toBe("y: 3 µm (taken as exact)");
    expect(none.rows()).toEqual([]);
  });
  it("says where it is flat, in the unit asked for", () => {
    const x = input.normal({ label: "x", estimate: plain(0), standardUncertainty: plain(0.1) });
    const flat = budgetOfNumbers({
      ...{ measurand: "sag", inputs: { x }, units: { x: "1" } },
      result: { kind: "length", unit: "um" },
      model: ({ x }: { x: number }) => 254 * x * x,
    } as never) as unknown as typeof half;
    const half = budget({ measurand: "half", inputs: { a }, model: ({ a }) => a.over(2) });
    const second = "(first order sees no uncertainty where the model is flat; second order: u = ";
    // √2 · 254 · 0.01 µm
    expect(flat.secondOrderUncertainty.in("um")).toBeCloseTo(Math.SQRT2 * 2.54, 9);
    expect(flat.text("um")).toBe(`0 µm ${second}${flat.secondOrderUncertainty.text("metric")})`);
    expect(flat.text("inch")).toContain(`${second}${flat.secondOrderUncertainty.text("inch")})`);
    expect(half.text("um")).toBe("5.0 µm ± 2.0 µm (k = 2.0)");
    expect(half.secondOrderUncertainty.in("um")).toBeCloseTo(1, 9);
    expect(half.coverageNote()).toBe("");
  });
});
