import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MeasurementError } from "../../kernel-lib/src/measurement-error.js";
import { kelvin, mm, perKelvin, plain, um } from "../../kernel-lib/src/quantity/index.js";
import {
  type Budget,
  budget,
  budgetOfNumbers,
  correlated,
  input,
  type Law,
  simulateTogether,
} from "../../kernel-lib/src/uncertainty/index.js";
import { LawColumns } from "../../kernel-lib/src/uncertainty/law-columns.js";
import { simulate } from "../../kernel-lib/src/uncertainty/simulate.js";
import { fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

type Published = Record<string, Record<string, string>>;
const published = fixture<Published>("gum/monte-carlo.json");

const normal = (label: string, u = 1, estimate = 0) =>
  input.normal({ label, estimate: plain(estimate), standardUncertainty: plain(u) });
const rectangular = (label: string, u = 1) =>
  input.rectangular({ label, estimate: plain(0), halfWidth: plain(u * Math.sqrt(3)) });

/** the additive model of JCGM 101, 9.2 */
const sum = (inputs: readonly ReturnType<typeof normal>[]) => {
  const [a, b, c, d] = inputs;
  return budget({
    measurand: "the sum",
    inputs: { a: a!, b: b!, c: c!, d: d! },
    model: ({ a, b, c, d }) => a.plus(b).plus(c).plus(d),
  });
};

const names = ["a", "b", "c", "d"];
const ends = ({ symmetric }: ReturnType<Budget<"number">["simulate"]>) => symmetric.map((end) => end.in("1"));

describe("budget.simulate, against JCGM 101", () => {
  it("gives the sum of four normal inputs, 9.2.2, and finds that the first order holds", () => {
    const p = published["9.2.2"]!;
    const result = sum(names.map((n) => normal(n))).simulate({ seed: 1, trials: 400_000 });
    expect(result.standardUncertainty!.in("1").toFixed(1)).toBe(p.u);
    expect(ends(result).map((end) => Math.abs(end).toFixed(1))).toEqual([p.high1, p.high1]);
    expect(result.validation.outcome).toBe("agrees");
  });

  it("gives the sum of four rectangular inputs, 9.2.3, whose exact end is 3.8794", () => {
    const p = published["9.2.3"]!;
    const result = sum(names.map((n) => rectangular(n))).simulate({ seed: 2, trials: 1_000_000 });
    expect(result.standardUncertainty!.in("1").toFixed(1)).toBe(p.u);
    for (const end of ends(result)) expect(Math.abs(Math.abs(end) - Number(p.exactHigh))).toBeLessThan(0.012);
    // the first-order ends are ±3.92: off by 0.04, within the 0.05 of two digits of u = 2.0
    expect(result.validation.outcome).toBe("agrees");
    expect(result.validation.toleranceSi).toBeCloseTo(0.05, 12);
  });

  it("tells that one rectangular input of ten times the others, 9.2.4, makes the first order differ, and why", () => {
    const p = published["9.2.4"]!;
    const inputs = [...names.slice(0, 3).map((n) => rectangular(n)), rectangular("d", 10)];
    expect(sum(inputs).simulate({ seed: 3 }).settled).toBe(true);
    const result = sum(inputs).simulate({ seed: 3, trials: 1_000_000 });
    expect(result.standardUncertainty!.in("1").toFixed(1)).toBe(p.u);
    expect(ends(result).map((end) => Math.abs(end).toFixed(1))).toEqual([p.high, p.high]);
    expect(result.firstOrder.interval()[1].in("1").toFixed(1)).toBe(p.firstOrderHigh);
    expect(result.validation.outcome).toBe("differs");
    expect(result.sentence()).toMatch(
      /the rectangular input "d" makes up 97 % of the variance: its values end where those of a normal law go on; quote the simulated interval$/,
    );
  });

  it("gives the calibration of a mass, 9.3, where the first order misses 40 % of u because the model bends", () => {
    const p = published["9.3"]!;
    const result = massCalibration().simulate({ seed: 4, trials: 1_000_000 });
    const first = result.firstOrder.standardUncertainty.in("1");
    expect(first.toFixed(4)).toBe(p.firstOrderU);
    expect(result.value.in("1").toFixed(3)).toBe(Number(p.mean).toFixed(3));
    // half a unit of the last printed digit, and four standard deviations of u over 10⁶ trials
    const scatter = Number(p.u) * Math.sqrt(2.06 / 4 / 1e6);
    expect(Math.abs(result.standardUncertainty!.in("1") - Number(p.u))).toBeLessThan(0.000_05 + 4 * scatter);
    const [low, high] = result.shortest.map((end) => end.in("1"));
    // each end of a normal law scatters by √(0.025 × 0.975 / 10⁶) / 0.0584 = 0.0027 u; four standard deviations of the width
    const width = Number(p.shortestHigh) - Number(p.shortestLow);
    expect(Math.abs(high! - low! - width)).toBeLessThan(4 * Math.SQRT2 * 0.0027 * Number(p.u));
    expect(Math.abs(low! - Number(p.shortestLow))).toBeLessThan(0.004);
    expect(result.validation.outcome).toBe("differs");
    expect(result.validation.reasons.join()).toContain("the model bends within the uncertainty of its inputs");
  });

  it.each(["0", "0.010", "0.050"])("gives x1² + x2² at x1 = %s, 9.4, where first order has nothing to say", (x1) => {
    const p = published[`9.4 x1=${x1}`]!;
    const [a, b] = [normal("x1", 0.005, Number(x1)), normal("x2", 0.005)];
    const result = budget({
      measurand: "the power",
      inputs: { a, b },
      model: ({ a, b }) => a.times(a).plus(b.times(b)),
    }).simulate({ seed: 5, trials: 300_000 });
    // of 3 × 10⁵ trials the mean is known to 0.0018 u, and the ends of the shortest interval to about 0.03 u
    const u = Number(p.u);
    expect(Math.abs(result.value.in("1") - Number(p.mean))).toBeLessThan(0.006 * u);
    expect(Math.abs(result.standardUncertainty!.in("1") - u)).toBeLessThan(0.006 * u);
    const [low, high] = result.shortest.map((end) => end.in("1"));
    expect(Math.abs(low! - Number(p.shortestLow))).toBeLessThan(0.06 * u);
    expect(Math.abs(high! - Number(p.shortestHigh))).toBeLessThan(0.06 * u);
    expect(result.validation.outcome).toBe("differs");
  });
});

function massCalibration(): Budget<"number"> {
  const limits = (label: string, from: number, to: number) =>
    input.rectangular({ label, estimate: plain((from + to) / 2), halfWidth: plain((to - from) / 2) });
  return budgetOfNumbers({
    measurand: "deviation of the mass",
    inputs: {
      reference: normal("reference mass", 0.05, 100_000),
      added: normal("added mass", 0.02, 1.234),
      air: limits("density of air", 1.1, 1.3),
      weight: limits("density of the weight", 7000, 9000),
      standard: limits("density of the reference", 7950, 8050),
    },
    units: { reference: "1", added: "1", air: "1", weight: "1", standard: "1" },
    result: { kind: "number", unit: "1" },
    model: ({ reference, added, air, weight, standard }) =>
      (reference + added) * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100_000,
  });
}

describe("budget.simulate, closed forms", () => {
  const of = (x: Parameters<typeof budget>[0]["inputs"][string]) =>
    budget({ measurand: "x", inputs: { x }, model: ({ x }) => x }).simulate({ seed: 11, trials: 200_000 });
  const limits = { label: "x", estimate: um(10), halfWidth: um(2) };
  // 97.5 % quantiles of the unit laws: rectangular 0.95; triangular 1 − √0.05; arcsine sin(0.475 π)
  it.each([
    ["rectangular", input.rectangular(limits), 0.95 * 2, 2 / Math.sqrt(3)],
    ["triangular", input.triangular(limits), (1 - Math.sqrt(0.05)) * 2, 2 / Math.sqrt(6)],
    ["arcsine", input.arcsine(limits), Math.sin(0.475 * Math.PI) * 2, Math.SQRT2],
    ["normal", input.normal({ label: "x", estimate: um(10), standardUncertainty: um(2) }), 2 * 1.959_964, 2],
  ] as const)("gives the exact interval and u of a %s input", (_, x, half, u) => {
    const result = of(x);
    const [low, high] = result.symmetric as readonly (typeof limits.estimate)[];
    expect(Math.abs(low!.in("um") - 10 + half)).toBeLessThan(0.02);
    expect(Math.abs(high!.in("um") - 10 - half)).toBeLessThan(0.02);
    expect(Math.abs((result.standardUncertainty as typeof limits.estimate).in("um") - u)).toBeLessThan(0.01);
  });

  it("widens a t input by √(ν/(ν − 2)) and names it where U does not", () => {
    const x = input.t({ label: "two means", estimate: um(0), standardUncertainty: um(1), degreesOfFreedom: 4 });
    const y = input.normal({ label: "gauge", estimate: um(0), standardUncertainty: um(1) });
    const result = budget({ measurand: "gap", inputs: { x, y }, model: ({ x, y }) => x.plus(y) }).simulate({
      seed: 1,
      trials: 400_000,
    });
    expect(result.standardUncertainty!.in("um")).toBeCloseTo(Math.sqrt(1 + 2), 1);
    expect(result.validation.reasons[0]).toBe(
      '"two means" is known from few readings: with ν = 4 a t law is √(ν/(ν − 2)) = 1.41 times as wide as its u',
    );
  });

  it("gives quantiles and no u where ν is 2 or less", () => {
    const x = input.fromReadings({ label: "gap", readings: [um(10), um(12), um(11)] });
    const y = input.rectangular({ label: "scale", estimate: um(0), halfWidth: um(1) });
    const result = budget({ measurand: "gap", inputs: { x, y }, model: ({ x, y }) => x.plus(y) }).simulate({ seed: 1 });
    expect(result.standardUncertainty).toBeUndefined();
    expect(result.settled).toBe(true);
    expect(result.sentence()).toMatch(/^gap: no mean and no u, as the law of an input has none; 95 % lie within /);
    expect(result.sentence()).toContain('"gap" has ν = 2: such a t law has no standard deviation');
  });
});

describe("budget.simulate, laws", () => {
  const growth = (unit: typeof mm, times = 1) =>
    budget({
      measurand: "growth",
      inputs: {
        L: input.normal({ label: "length", estimate: unit(500 * times), standardUncertainty: unit(1 * times) }),
        a: input.rectangular({ label: "expansion", estimate: perKelvin(11e-6), halfWidth: perKelvin(1e-6) }),
        T: input.t({
          label: "warming",
          estimate: kelvin(4),
          standardUncertainty: kelvin(0.2),
          degreesOfFreedom: 7,
        }),
      },
      model: ({ L, a, T }) => L.times(a.times(T)),
    });

  it("gives the same figures for the same seed, others for another, and says so in words", () => {
    const [one, again, other] = [1, 1, 2].map((seed) => growth(mm).simulate({ seed }));
    expect(String(one)).toBe(String(again));
    expect(one!.histogram).toEqual(again!.histogram);
    expect(other!.value.si).not.toBe(one!.value.si);
  });

  it("gives the same figures in metres as in millimetres", () => {
    const [a, b] = [growth(mm).simulate({ seed: 3 }), growth(um, 1000).simulate({ seed: 3 })];
    expect(b.value.si / a.value.si).toBeCloseTo(1, 12);
    expect(b.symmetric[0].si / a.symmetric[0].si).toBeCloseTo(1, 9);
    expect(b.sentence()).toBe(a.sentence());
  });

  it("gives the same figures for a model of numbers as for one of quantities", () => {
    const quantities = growth(mm);
    const [L, a, T] = quantities.bases;
    expect([L, a, T].map((x) => x!.label)).toEqual(["length", "expansion", "warming"]);
    const inputs = {
      L: input.normal({ label: "length", estimate: mm(500), standardUncertainty: mm(1) }),
      a: input.rectangular({ label: "expansion", estimate: perKelvin(11e-6), halfWidth: perKelvin(1e-6) }),
      T: input.t({ label: "warming", estimate: kelvin(4), standardUncertainty: kelvin(0.2), degreesOfFreedom: 7 }),
    };
    const numbers = budgetOfNumbers({
      measurand: "growth",
      inputs,
      units: { L: "mm", a: "um/(m.K)", T: "degF" },
      result: { kind: "length", unit: "um" },
      model: ({ L, a, T }) => (L * a * T * 5) / 9 / 1000,
    });
    expect(numbers.simulate({ seed: 5 }).sentence()).toBe(quantities.simulate({ seed: 5 }).sentence());
  });

  it("draws block b from (seed, b): blocks made in any order hold the same trials", () => {
    const { bases } = growth(mm);
    const block = (columns: LawColumns, b: number) => {
      const shifts = new Float64Array(bases.length * 100);
      columns.start(9, b);
      columns.fill(shifts, 100);
      return Array.from(shifts);
    };
    const [first, second] = [new LawColumns(bases, 100), new LawColumns(bases, 100)];
    const forwards = [0, 1, 2].map((b) => block(first, b));
    const backwards = [2, 1, 0].map((b) => block(second, b)).reverse();
    expect(backwards).toEqual(forwards);
  });

  it("keeps an earlier result correlated with what it shares", () => {
    const x = normal("x");
    const one = budget({ measurand: "one", inputs: { x }, model: ({ x }) => x.times(2) });
    const both = budget({ measurand: "both", inputs: { x, one }, model: ({ x, one }) => one.minus(x) });
    expect(both.simulate({ seed: 1, trials: 100_000 }).standardUncertainty!.in("1")).toBeCloseTo(1, 2);
  });

  it("follows the joint law of correlated inputs", () => {
    fc.assert(
      fc.property(fc.constantFrom(-1, -0.5, 0, 0.8, 1), fc.constantFrom(Number.POSITIVE_INFINITY, 6), (r, nu) => {
        const of = (label: string) =>
          input.normal({ label, estimate: plain(0), standardUncertainty: plain(1), degreesOfFreedom: nu });
        const [a, b] = correlated(
          [of("a"), of("b")],
          [
            [1, r],
            [r, 1],
          ],
        );
        const result = simulateTogether(
          {
            a: budget({ measurand: "a", inputs: { a }, model: ({ a }) => a }),
            b: budget({ measurand: "b", inputs: { b }, model: ({ b }) => b }),
          },
          { seed: 1, trials: 50_000 },
        );
        expect(Math.abs(result.correlation("a", "b") - r)).toBeLessThan(0.02);
        const spread = Number.isFinite(nu) ? nu / (nu - 2) : 1;
        expect(Math.abs(result.covariance("a", "a") / spread - 1)).toBeLessThan(0.05);
      }),
      { numRuns: 6, seed: 1 },
    );
  });

  it("draws every law with the mean and u that its input states", () => {
    const at = { label: "x", estimate: um(5), halfWidth: um(3) };
    const inputs = [
      input.trapezoidal({ ...at, topHalfWidth: um(1) }),
      input.inexactLimits({ ...at, limitDoubt: um(1) }),
      input.truncatedNormal({ label: "x", estimate: um(0), standardUncertainty: um(2), lower: um(-1), upper: um(3) }),
      input.truncatedNormal({ label: "x", estimate: um(0), standardUncertainty: um(1), lower: um(4), upper: um(6) }),
    ];
    for (const x of inputs) {
      const result = budget({ measurand: "x", inputs: { x }, model: ({ x }) => x }).simulate({
        seed: 1,
        trials: 100_000,
      });
      const u = x.standardUncertainty.in("um");
      expect(Math.abs(result.value.in("um") - x.estimate.in("um")), x.distribution).toBeLessThan(0.02 * u);
      expect(result.standardUncertainty!.in("um") / u, x.distribution).toBeCloseTo(1, 2);
    }
    expect(new Set(inputs.map(({ law }: { law: Law }) => law.name)).size).toBe(3);
  });
});

describe("budget.simulate, refusals", () => {
  const x = normal("x", 1, 2);
  const plainBudget = budget({ measurand: "the sum", inputs: { x }, model: ({ x }) => x });

  it("wants a seed", () => {
    // @ts-expect-error the seed is left out
    expect(refusal(() => plainBudget.simulate({})).message).toBe(
      'simulate "the sum": no seed was given; give a whole number, as in { seed: 1 }, so that anyone can repeat the figures',
    );
    expect(refusal(() => plainBudget.simulate({ seed: 1.5 })).message).toBe(
      'simulate "the sum": the seed is 1.5; give a whole number, as in { seed: 1 }, so that anyone can repeat the figures',
    );
    expect(refusal(() => plainBudget.simulate({ seed: 1, trials: 10 })).message).toBe(
      'simulate "the sum": 10 trials; give a whole number from 1000 to 20 000 000, or leave it out and as many are made as the figures need',
    );
  });

  it("says at which inputs the model breaks down in a trial", () => {
    const root = budgetOfNumbers({
      measurand: "the root",
      inputs: { x },
      units: { x: "1" },
      result: { kind: "number", unit: "1" },
      model: ({ x }) => Math.sqrt(x),
    });
    expect(refusal(() => root.simulate({ seed: 1 })).message).toMatch(
      /^budget "the root": with "x" at −\d\.\d+ \(2(\.\d)? u below its estimate\) the model refuses \(number: NaN is not a value; give a finite number\)$/,
    );
  });

  it("stops when its progress handle does, and works again afterwards", () => {
    let ticks = 0;
    const handle = {
      tick: () => {
        if (++ticks === 3) throw new MeasurementError("cancelled", "stopped");
      },
      done: () => undefined,
    };
    expect(refusal(() => simulate(plainBudget, { seed: 1, trials: 100_000 }, () => handle)).code).toBe("cancelled");
    expect(ticks).toBe(3);
    expect(plainBudget.simulate({ seed: 1 }).trials).toBeGreaterThanOrEqual(20_000);
  });
});
