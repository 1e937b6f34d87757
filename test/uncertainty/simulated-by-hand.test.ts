import { describe, expect, it } from "vitest";
import { degC, kelvin, plain, um } from "../../kernel-lib/src/quantity/index.js";
import { budget, input, Measured, simulateTogether } from "../../kernel-lib/src/uncertainty/index.js";
import { JointMonteCarlo } from "../../kernel-lib/src/uncertainty/joint-monte-carlo.js";
import { hasNoSpread, spreadOf, tolerance, validate } from "../../kernel-lib/src/uncertainty/monte-carlo-check.js";
import { densityAt, histogramOf } from "../../kernel-lib/src/uncertainty/monte-carlo-histogram.js";
import { grouped, monteCarloSentence, validationText } from "../../kernel-lib/src/uncertainty/monte-carlo-sentence.js";
import { blocksUntilStable } from "../../kernel-lib/src/uncertainty/simulate.js";
import { checkPlan, covarianceOfSamples } from "../../kernel-lib/src/uncertainty/trials.js";
import { refusal } from "../refusal.js";

const number = (label: string, u: number, degreesOfFreedom = Number.POSITIVE_INFINITY) =>
  input.normal({ label, estimate: plain(0), standardUncertainty: plain(u), degreesOfFreedom });
const flat = (label: string, u: number) =>
  input.rectangular({ label, estimate: plain(0), halfWidth: plain(u * Math.sqrt(3)) });
const sumOf = (...inputs: readonly ReturnType<typeof number>[]) =>
  Measured.of(
    plain(0),
    inputs.map((one) => ({ input: one, sensitivity: 1 })),
  );

describe("the tolerance of JCGM 101, 7.9.2", () => {
  it("is half a unit of the last digit of u that counts", () => {
    const cases = [
      [0.0123, 2, 0.0005],
      [0.0123, 1, 0.005],
      [9.96, 2, 0.5],
      [9.94, 2, 0.05],
      [3.5e-6, 2, 0.05e-6],
      [500, 1, 50],
    ] as const;
    for (const [u, digits, half] of cases) expect(tolerance(u, digits) / half).toBeCloseTo(1, 12);
    for (const u of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) expect(tolerance(u, 2)).toBe(0);
  });
});

/** 60 bars of one value each and 40 values beyond them, ± 3 wide */
const histogram = { from: -3, to: 3, counts: new Array<number>(60).fill(1), outside: 40 };
const z = 1.959_963_985;
const simulated = (low: number, high: number, more: object = {}) => ({
  ...{ trials: 1_000_000, mean: 0, standardDeviation: 1, symmetric: [low, high] as const, histogram },
  ...more,
});

describe("first order held against a simulation", () => {
  const outcome = (low: number, high: number, digits = 2) =>
    validate(sumOf(number("a", 1)), simulated(low, high), digits).outcome;
  it("agrees within the tolerance less what the ends wander, differs beyond it with that", () => {
    // 0.05; the ends wander by 2 √(0.025 · 0.975 / 10⁶) / 0.1 = 0.0031
    expect([0, 0.046, 0.048, 0.052, 0.054].map((off) => outcome(-z + off, z))).toEqual([
      ...["agrees", "agrees", "not told", "not told", "differs"],
    ]);
    expect([0.046, 0.048, 0.054].map((off) => outcome(-z, z - off))).toEqual(["agrees", "not told", "differs"]);
    expect([0.046, 0.048, 0.054].map((off) => outcome(-z - off, z))).toEqual(["agrees", "not told", "differs"]);
    expect(outcome(-z + 0.054, z, 1)).toBe("agrees");
  });
  it("keeps what both ends are off by", () => {
    const found = validate(sumOf(number("a", 1)), simulated(-z - 0.25, z + 0.5), 2);
    expect(found.lowDifferenceSi).toBeCloseTo(0.25, 6);
    expect(found.highDifferenceSi).toBeCloseTo(0.5, 6);
    expect(found.toleranceSi).toBeCloseTo(0.05, 12);
    expect(validate(sumOf(number("a", 1)), simulated(-z, z), 2).reasons).toEqual([]);
  });

  const reasons = (result: ReturnType<typeof sumOf>, more: object = {}) =>
    validate(result, simulated(-2.9, 2.9, more), 2).reasons;
  const bends = (mean: string, times: string) =>
    `the model bends within the uncertainty of its inputs: the mean lies ${mean} the value at the estimates, u is ${times} times that of a straight model`;
  const noLaw = "the law of the result is not the t law that U takes for it";
  it("names the bend by mean and u, beyond what the trials scatter", () => {
    // 3 / √(2 · 10⁶) is 0.0021
    expect(reasons(sumOf(number("a", 1)))).toEqual([noLaw]);
    expect(reasons(sumOf(number("a", 1)), { mean: 0.052, standardDeviation: 1.012 })).toEqual([noLaw]);
    expect(reasons(sumOf(number("a", 1)), { mean: 0.053 })).toEqual([bends("0.053 above", "1")]);
    expect(reasons(sumOf(number("a", 1)), { mean: -0.4 })).toEqual([bends("0.4 below", "1")]);
    expect(reasons(sumOf(number("a", 1)), { standardDeviation: 1.013 })).toEqual([bends("0 above", "1.01")]);
    expect(reasons(sumOf(number("a", 1)), { standardDeviation: 0.987 })).toEqual([bends("0 above", "0.987")]);
    // with few trials a tenth says nothing: 3 / √(2 · 200) is 0.15
    expect(reasons(sumOf(number("a", 1)), { mean: 0.19, standardDeviation: 1.1, trials: 200 })).toEqual([noLaw]);
  });
  it("takes the shift of the mean from the value, wherever that lies", () => {
    const far = (value: number) => Measured.of(plain(value), sumOf(number("a", 1)).terms);
    const at = (value: number, mean: number) =>
      validate(far(value), { ...simulated(value - 2.9, value + 2.9), mean }, 2).reasons;
    const wide = { ...histogram, from: 97, to: 103 };
    const held = validate(far(100), { ...simulated(97.1, 102.9), mean: 100.4, histogram: wide }, 2);
    expect(held.reasons).toEqual([bends("0.4 above", "1")]);
    expect(at(-0.1, -0.5)).toEqual([bends("0.4 below", "1")]);
  });
  it("names the inputs known from few readings, the one that does most first", () => {
    const said = (label: string, nu: string, times: string) =>
      `"${label}" is known from few readings: with ν = ${nu} a t law is √(ν/(ν − 2)) = ${times} times as wide as its u`;
    // u² grows by 2 / (ν − 2): 1 · 1 for four, 1 · 0.25 for ten, 1 · 0.1 for 22
    const result = sumOf(number("ten", 1, 10), number("four", 1, 4), number("many", 1, 22), number("exact", 1));
    const straight = Math.sqrt(2 + 1.25 + 1.1 + 1);
    expect(reasons(result, { standardDeviation: straight })).toEqual([
      said("four", "4", "1.41"),
      said("ten", "10", "1.12"),
    ]);
    // by less than 1.02 in all nothing is said of it
    expect(reasons(sumOf(number("few", 1, 53)), { standardDeviation: 1.0194 })).toEqual([noLaw]);
    expect(reasons(sumOf(number("few", 1, 49)), { standardDeviation: 1.0211 })).toEqual([said("few", "49", "1.02")]);
  });
  it("names a t law that has no standard deviation", () => {
    expect(reasons(sumOf(number("two", 1, 2), number("other", 1, 3)), { standardDeviation: 7 })).toEqual([
      '"two" has ν = 2: such a t law has no standard deviation, only its quantiles count; take more readings, or pool them with others',
    ]);
  });
  it("names a flat input above half of the variance", () => {
    const ends = (share: string) =>
      `the rectangular input "scale" makes up ${share} % of the variance: its values end where those of a normal law go on`;
    expect(reasons(sumOf(flat("scale", 2), number("a", 1)), { standardDeviation: Math.sqrt(5) })).toEqual([ends("80")]);
    expect(reasons(sumOf(flat("scale", 0.99), number("a", 1)), { standardDeviation: 1.407 })).toEqual([noLaw]);
    expect(reasons(sumOf(number("a", 2), flat("scale", 1)), { standardDeviation: Math.sqrt(5) })).toEqual([noLaw]);
  });
  it("takes a quarter of the interval where a law has no u", () => {
    const [none, some] = [sumOf(number("two", 1, 2)).terms, sumOf(number("a", 1, 2.1)).terms];
    expect([hasNoSpread(none), hasNoSpread(some), hasNoSpread([])]).toEqual([true, false, false]);
    expect(spreadOf(none, simulated(-3, 5))).toBe(2);
    expect(spreadOf(some, simulated(-3, 5))).toBe(1);
  });
});

describe("the bars of a simulation", () => {
  const summary = (low: number, high: number, least: number, most: number) =>
    ({ symmetric: [low, high], range: [least, most] }) as never;
  it("reach a third beyond the interval, and never beyond the values", () => {
    const of = (least: number, most: number) => {
      const { from, to } = histogramOf(Float64Array.from([least, most]), summary(10, 30, least, most));
      return [from, to];
    };
    expect(of(-50, 90)).toEqual([3, 37]);
    expect(of(5, 35)).toEqual([5, 35]);
  });
  it("count every value once, the highest in the last bar, those outside apart", () => {
    const values = Float64Array.from([0, 0.5, 1, 1.5, 1.7, 59.2, 60, 30, 30.9]);
    const found = histogramOf(values, summary(10, 50, 0, 60));
    const counts = new Array(60).fill(0);
    [counts[0], counts[1], counts[30], counts[59]] = [2, 3, 2, 2];
    expect(found).toEqual({ from: 0, to: 60, counts, outside: 0 });
    const wide = histogramOf(Float64Array.from([-9, 3, 36.9, 37, 38, 20]), summary(10, 30, -9, 38));
    expect([wide.counts[0], wide.counts[59], wide.outside]).toEqual([1, 2, 2]);
    expect(wide.counts.reduce((a, b) => a + b)).toBe(4);
    expect(histogramOf(Float64Array.from([5, 5, 5]), summary(5, 5, 5, 5))).toEqual({
      from: 5,
      to: 5,
      counts: [3],
      outside: 0,
    });
  });
  it("give the density by their width, nothing outside", () => {
    const bars = { from: 10, to: 14, counts: [1, 3], outside: 4 };
    expect([10, 11.9, 12, 14].map((value) => densityAt(bars, value))).toEqual([1, 1, 3, 3].map((n) => n / 16));
    expect([9.9, 14.1].map((value) => densityAt(bars, value))).toEqual([0, 0]);
    expect(densityAt({ from: 5, to: 5, counts: [3], outside: 0 }, 5)).toBe(0);
  });
});

describe("the sentence of a simulation", () => {
  const made = (more: object = {}) =>
    ({
      ...{ kind: "length", measurand: "gap", value: um(20.04), standardUncertainty: um(1.24), spread: um(1.24) },
      ...{
        shortest: [um(17.5), um(22.4)],
        symmetric: [um(17.6), um(22.5)],
        firstOrder: { value: um(20), caveats: [] },
      },
      ...{ trials: 1_230_000, seed: 7, settled: true, digits: 2 },
      validation: {
        toleranceSi: 0.05e-6,
        lowDifferenceSi: 0.02e-6,
        highDifferenceSi: 0.03e-6,
        outcome: "agrees",
        reasons: [],
      },
      ...more,
    }) as never;
  const ends = "its ends are off by 0.02 µm below and 0.03 µm above";
  const limit = "0.05 µm, half a unit of the last digit of u";
  const figures =
    "gap: mean 20.0 µm, u = 1.2 µm; 95 % lie within 17.5 µm to 22.4 µm (shortest), or 17.6 µm to 22.5 µm (as many below as above)";
  it("says mean, u, both intervals, trials, seed and the first order", () => {
    expect(monteCarloSentence(made())).toBe(
      `${figures}; 1\u202f230\u202f000 trials from seed 7, stable to two digits of u (JCGM 101); the first-order interval agrees: ${ends}, less than ${limit}`,
    );
  });
  it("says how stable it is, where that was asked", () => {
    const trials = (more: object) => monteCarloSentence(made(more)).split("; ")[2];
    expect(trials({ settled: undefined, trials: 1000 })).toBe("1\u202f000 trials from seed 7 (JCGM 101)");
    expect(trials({ settled: true, digits: 1 })).toContain("seed 7, stable to one digit of u (JCGM 101)");
    expect(monteCarloSentence(made({ settled: false }))).toContain(
      "seed 7, not yet stable to two digits of u: ask for more trials, or for one digit (JCGM 101)",
    );
  });
  it("has no mean where a law has none", () => {
    expect(monteCarloSentence(made({ standardUncertainty: undefined }))).toMatch(
      /^gap: no mean and no u, as the law of an input has none; 95 % lie within 17\.5 µm to/,
    );
  });
  it("says whether the first order holds", () => {
    const of = (outcome: string, reasons: readonly string[] = []) =>
      validationText(
        made({
          validation: {
            ...{ toleranceSi: 0.05e-6, lowDifferenceSi: 0.02e-6 },
            highDifferenceSi: 0.03e-6,
            outcome,
            reasons,
          },
        }),
      );
    expect(of("not told")).toBe(
      `whether the first-order interval agrees cannot be told with so few trials: ${ends}, and it would agree up to ${limit}`,
    );
    expect(of("differs", ["one", "two"])).toBe(
      `the first-order interval differs: ${ends}, more than ${limit}; one; two; quote the simulated interval`,
    );
  });
  it("groups digits by three", () => {
    expect([7, 999, 1000, 20_000_000].map(grouped)).toEqual(["7", "999", "1\u202f000", "20\u202f000\u202f000"]);
  });
});

describe("blocks until the figures are stable (JCGM 101, 7.9.4)", () => {
  const block = (mean: number, sd = 10, low = -20, high = 20) => ({ mean, standardDeviation: sd, low, high });
  const of = (...means: readonly number[]) => means.map((mean) => block(mean));
  it("are two at least, and no more where twice the scatter of an average is within the tolerance", () => {
    expect(blocksUntilStable([], 2, false)).toBe(2);
    expect(blocksUntilStable([block(0)], 2, false)).toBe(2);
    expect(blocksUntilStable(of(0, 0), 2, false)).toBe(2);
    // u = 10, tolerance 0.5; 2 √(0.125 / 2) is 0.5
    expect(blocksUntilStable(of(0, 0.5), 2, false)).toBe(2);
    // 2 √(0.5 / 2) is 1: four times as many
    expect(blocksUntilStable(of(0, 1), 2, false)).toBe(8);
    expect(blocksUntilStable(of(0, 1), 1, false)).toBe(2);
    // three: 2 √(2 / 6) = 1.155, 3 · (1.155 / 0.5)² = 16
    expect(blocksUntilStable(of(0, 1, 2), 2, false)).toBe(16);
    expect(blocksUntilStable(of(0, 0.51), 2, false)).toBe(3);
  });
  it("look at both ends and at u as well", () => {
    expect(blocksUntilStable([block(0, 10, -20), block(0, 10, -21)], 2, false)).toBe(8);
    expect(blocksUntilStable([block(0, 10, -20, 20), block(0, 10, -20, 21)], 2, false)).toBe(8);
    expect(blocksUntilStable([block(0, 10), block(0, 11)], 2, false)).toBe(8);
  });
  it("look at the ends alone where there is no u, a quarter of the interval in its place", () => {
    // 40 / 4 = 10, tolerance 0.5, whatever the means and deviations do
    expect(blocksUntilStable([block(0, 1), block(99, 1000)], 2, true)).toBe(2);
    expect(blocksUntilStable([block(0, 1, -20), block(0, 1, -21)], 2, true)).toBe(8);
  });
});

describe("a simulation is asked for", () => {
  const trials = (given: number) => () => checkPlan("simulate", 1, given);
  it("by a whole seed from zero, and a thousand to twenty million trials", () => {
    expect(() => checkPlan("simulate", 0, undefined)).not.toThrow();
    for (const given of [1000, 20_000_000]) expect(trials(given)).not.toThrow();
    for (const given of [999, 20_000_001, 1500.5, Number.NaN]) {
      expect(refusal(trials(given))).toEqual({
        code: "trials",
        message: `simulate: ${given} trials; give a whole number from 1000 to 20 000 000, or leave it out and as many are made as the figures need`,
      });
    }
    for (const seed of [-1, "1", 2 ** 53, Number.NaN]) {
      expect(refusal(() => checkPlan("simulate", seed, 1000))).toEqual({
        code: "seed",
        message: `simulate: the seed is ${seed}; give a whole number, as in { seed: 1 }, so that anyone can repeat the figures`,
      });
    }
  });
  it("of several results together, each input drawn once", () => {
    const [a, b, c] = [number("a", 1), number("b", 2), number("c", 3)];
    const of = {
      sum: budget({ measurand: "the sum", inputs: { a, b }, model: ({ a, b }) => a.plus(b) }),
      rest: budget({ measurand: "the rest", inputs: { c, b }, model: ({ c, b }) => c.minus(b) }),
    };
    const joint = simulateTogether(of, { seed: 1, trials: 20_000 });
    expect(joint.names).toEqual(["sum", "rest"]);
    // covariance −4 of variances 5 and 13
    expect(Math.abs(joint.correlation("sum", "rest") + 4 / Math.sqrt(65))).toBeLessThan(0.02);
    expect(joint.covariance("sum", "sum")).toBeCloseTo(5, 0);
    const r = joint.correlation("sum", "rest").toFixed(2).replace("-", "−");
    expect(`${joint}`).toBe(`${joint.of.sum.sentence()}\n${joint.of.rest.sentence()}\nr(sum, rest) = ${r}`);
    expect(joint.of.rest.measurand).toBe("the rest");
    expect(joint.covariance("sum", "none" as never)).toBeNaN();
    expect(`${new JointMonteCarlo({ sum: joint.of.sum }, [[1]])}`).toBe(joint.of.sum.sentence());
    // the same trials as alone
    expect(of.sum.simulate({ seed: 1, trials: 20_000 }).value.si).toBeCloseTo(joint.of.sum.value.si, 1);
  });
  it("and its result keeps how it was asked for", () => {
    const gap = budget({ measurand: "gap", inputs: { a: number("a", 1) }, model: ({ a }) => a });
    const found = gap.simulate({ seed: 5, trials: 3000, digits: 1 });
    expect([found.seed, found.trials, found.digits, found.settled, found.measurand, found.kind]).toEqual([
      ...[5, 3000, 1, undefined, "gap", "number"],
    ]);
    expect(found.spread.si).toBe(found.standardUncertainty!.si);
    expect(found.shortest[1].si - found.shortest[0].si).toBeLessThanOrEqual(
      found.symmetric[1].si - found.symmetric[0].si,
    );
    expect(`${found}`).toBe(found.sentence());
  });
});

it("tells results that are called alike apart by their names", () => {
  const gap = (label: string) => {
    const a = number(label, 1);
    return budget({ measurand: "gap", inputs: { a }, model: ({ a }) => a });
  };
  const lines = `${simulateTogether({ left: gap("a"), right: gap("b") }, { seed: 1, trials: 1000 })}`.split("\n");
  expect(lines.map((line) => line.split(": ")[0])).toEqual(["left, gap", "right, gap", lines[2]]);
});

it("gives the u of a temperature as a difference", () => {
  const air = input.normal({ label: "air", estimate: degC(20), standardUncertainty: kelvin(0.5) });
  const found = budget({ measurand: "air", inputs: { air }, model: ({ air }) => air }).simulate({
    seed: 1,
    trials: 1000,
  });
  expect([found.kind, found.standardUncertainty!.kind]).toEqual(["temperature", "temperature difference"]);
  expect(found.standardUncertainty!.in("K")).toBeCloseTo(0.5, 1);
});

it("takes the covariance of two samples with n − 1", () => {
  expect(covarianceOfSamples(Float64Array.from([1, 2, 3, 6]), Float64Array.from([2, 1, 4, 9]))).toBeCloseTo(22 / 3, 12);
});
