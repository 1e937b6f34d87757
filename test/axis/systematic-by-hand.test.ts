import { describe, expect, it } from "vitest";
import { perfectAxis, simulateTests } from "../../kernel-lib/src/axis/simulated-tests.js";
import { systematicPart } from "../../kernel-lib/src/axis/systematic-part.js";
import { gauge, minutes, mm, slope, um } from "../../kernel-lib/src/index.js";
import { fUpperTail, leastSquares } from "../../kernel-lib/src/numerics/index.js";
import { dial, plantedTest } from "./planted-test.js";

const targets = [10, 51.3, 93.9, 131.7, 170.2, 212.6, 251.1, 293.7, 329.4];
const lead = 5;
/** scatter of a reading, without a rule and the same in each run of the test */
const noise = (at: number, direction: string, run: number) =>
  ((Math.round(7 * at) + 31 * run + (direction === "up" ? 0 : 17)) % 11) - 5;
/** beside it each target stands off as a whole */
const uneven = (at: number) => ((Math.round(at) * 13) % 7) - 3;
const law = (at: number, direction: "up" | "down", run: number) =>
  at / 20 + (direction === "up" ? 0 : 9) + uneven(at) + noise(at, direction, run) / 2 + 0.8 * run;
const scale = { name: "scale", scaleLimit: slope(um(6), mm(1000)) };
const test = plantedTest(targets, [1, 2, 3], law, {
  gauge: gauge({ name: "dial", resolution: um(0.5), maximumPermissibleError: um(3), hysteresis: um(1) }),
  reference: scale,
});
const part = systematicPart(test, { lead: mm(lead) });

/** the same by a design of its own: constant, place, side, order, cosine, sine */
function fitted(waves: boolean) {
  const of = (f: (reading: (typeof test.readings)[number], i: number) => number) => test.readings.map(f);
  const mean = targets.reduce((a, b) => a + b, 0) / targets.length;
  const angle = (at: number) => (2 * Math.PI * at) / lead;
  const columns = [
    of(() => 1),
    of(({ targetMm }) => (targetMm - mean) / 1000),
    of(({ direction }) => (direction === "down" ? 0.5 : -0.5)),
    of((_, i) => i / (test.readings.length - 1)),
    ...(waves
      ? [of(({ targetMm }) => Math.cos(angle(targetMm))), of(({ targetMm }) => Math.sin(angle(targetMm)))]
      : []),
  ];
  return leastSquares(
    columns,
    of(({ deviationUm }) => deviationUm),
  );
}
const fit = fitted(true);
/** what each target leaves as a whole, and what is left within the targets */
const residuals = targets.map((target) => fit.residuals.filter((_, i) => test.readings[i]!.targetMm === target));
const between = residuals.reduce((sum, own) => sum + own.reduce((a, b) => a + b, 0) ** 2 / own.length, 0) / (9 - 4);
const within = (fit.residualSumOfSquares - between * 5) / (54 - 6 - 5);

describe("a systematic part by a fit of its own", () => {
  it("has slope, play and drift of that fit", () => {
    expect(part.slope.in("um/m")).toBeCloseTo(fit.coefficients[1]!, 6);
    expect(part.play.in("um")).toBeCloseTo(fit.coefficients[2]!, 9);
    expect(part.drift.in("um")).toBeCloseTo(fit.coefficients[3]!, 9);
    expect(part.remainder.in("um")).toBeCloseTo(Math.sqrt(fit.residualSumOfSquares / 48), 9);
  });

  it("rests slope and waves on what the targets leave where that is more than the scatter", () => {
    expect(part.leftByTargets.variance).toBeCloseTo(between, 9);
    expect(part.leftByTargets.degreesOfFreedom).toBe(5);
    expect(part.leftByTargets.local.variance).toBeCloseTo(within, 9);
    expect(part.leftByTargets.local.degreesOfFreedom).toBe(43);
    expect(between).toBeGreaterThan(within);
    const [, slopeOwn] = fit.covarianceFactor.map((row, k) => row[k]!);
    const input = part.slope.terms[0]!.input;
    expect(input.uncertaintySi * 1e6).toBeCloseTo(Math.sqrt(between * slopeOwn!), 9);
    expect([input.label, input.source, input.distribution, input.evaluation, input.degreesOfFreedom]).toEqual([
      ...["scatter about the fit", "least squares on all readings", "t", "A"],
      5,
    ]);
  });

  it("rests play and drift on the scatter of the readings", () => {
    const variance = fit.residualSumOfSquares / 48;
    for (const [found, k] of [
      [part.play, 2],
      [part.drift, 3],
    ] as const) {
      const { input } = found.terms[0]!;
      expect(input.uncertaintySi * 1e6).toBeCloseTo(Math.sqrt(variance * fit.covarianceFactor[k]![k]!), 9);
      expect(input.degreesOfFreedom).toBe(48);
    }
  });

  it("adds to the play the gauge and its hysteresis, to the slope the reference", () => {
    const lines = (of: typeof part.play | typeof part.slope) =>
      of.terms
        .slice(1)
        .map(({ input, sensitivity }) => [
          ...[input.label, input.source, input.distribution, sensitivity],
          Number((input.uncertaintySi * 1e6 * Math.sqrt(3)).toFixed(9)),
        ]);
    expect(lines(part.play)).toEqual([
      ["dial, maximum permissible error", "on the difference of the two directions", "rectangular", 1, 3],
      ["dial, hysteresis", "the two directions push the plunger opposite ways", "rectangular", 1, 1],
    ]);
    expect(lines(part.slope)).toEqual([
      ["scale, length", "certificate or grade of the reference, ±", "rectangular", 1, 6],
    ]);
    expect(part.drift.terms).toHaveLength(1);
  });

  it("tests a wave as the F test of a fit with and without it does", () => {
    const [wave] = part.periodic;
    const gained = (fitted(false).residualSumOfSquares - fit.residualSumOfSquares) / 2;
    expect(wave!.p).toBeCloseTo(fUpperTail(gained / between, 2, 5), 9);
    const [a, b] = [fit.coefficients[4]!, fit.coefficients[5]!];
    const amplitude = Math.hypot(a, b);
    expect(wave!.amplitude.in("um")).toBeCloseTo(amplitude, 9);
    // law of propagation: (a/A)² u²(a) + (b/A)² u²(b) + 2 (a/A)(b/A) u(a, b)
    const [ca, cb] = [a / amplitude, b / amplitude];
    const c = fit.covarianceFactor;
    const variance = ca * ca * c[4]![4]! + cb * cb * c[5]![5]! + 2 * ca * cb * c[4]![5]!;
    expect(wave!.standardUncertainty.in("um")).toBeCloseTo(Math.sqrt(between * variance), 9);
    expect([wave!.degreesOfFreedom, wave!.period.in("mm"), wave!.name]).toEqual([5, 5, "turn of the screw"]);
    const turn = Math.atan2(b, a) / (2 * Math.PI);
    expect(wave!.greatestAt.in("mm")).toBeCloseTo(lead * (turn < 0 ? turn + 1 : turn), 9);
  });

  it("has a play for each target, the drift between its two directions taken out", () => {
    const perReading = fit.coefficients[3]! / (test.readings.length - 1);
    targets.forEach((target, k) => {
      const mean = (direction: string) => {
        const own = test.readings.flatMap((reading, i) =>
          reading.targetMm === target && reading.direction === direction ? [reading.deviationUm - perReading * i] : [],
        );
        return own.reduce((a, b) => a + b, 0) / own.length;
      };
      expect(part.playsUm[k]).toBeCloseTo(mean("down") - mean("up"), 9);
    });
  });

  it("divides the steps by 1 + slope, with the u of that", () => {
    const steps = part.newStepsPerMm(400);
    const factor = 1 + part.slope.value.si;
    expect(steps.value.si).toBeCloseTo(400 / factor, 9);
    expect(steps.standardUncertainty.si).toBeCloseTo((400 / factor ** 2) * part.slope.standardUncertainty.si, 12);
    for (const given of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => part.newStepsPerMm(given)).toThrow(
        `newStepsPerMm: ${given} steps per mm; give the number that the control has now, above zero`,
      );
    }
  });

  it("says it in one line", () => {
    const [wave] = part.periodic;
    const [amplitude, u] = [wave!.amplitude, wave!.standardUncertainty].map((one) => one.in("um").toFixed(1));
    expect(wave!.p).toBeGreaterThan(0.01);
    expect(`${part}`).toBe(
      `positioning of X: slope ${part.slope}; play ${part.play}; drift over the test ${part.drift}; turn of the screw ± ${amplitude} µm (u = ${u} µm, scatter alone gives as much with a chance of ${wave!.p.toPrecision(2)}); left ${part.remainder.in("um").toFixed(1)} µm (one standard deviation)`,
    );
  });
});

describe("what limits a systematic part", () => {
  const limits = ({ notes }: typeof part) => notes.filter((line) => !line.startsWith("intervals of"));
  const order = "no times are given: drift is taken as even over the order of the readings";
  it("is that no times and no lead are given", () => {
    expect(limits(part)).toEqual([order]);
    expect(limits(systematicPart(test))).toEqual([order, "no lead is given: periodic error was not looked for"]);
    const [why] = systematicPart(plantedTest([0, 40, 80, 120, 160], [1, 2], law), { lead: mm(5) }).aliased;
    expect(limits(systematicPart(plantedTest([0, 40, 80, 120, 160], [1, 2], law), { lead: mm(5) }))).toEqual([
      why,
      order,
    ]);
    expect(`${systematicPart(plantedTest([0, 40, 80, 120, 160], [1, 2], law), { lead: mm(5) })}`).toMatch(
      / \(one standard deviation\); turn of the screw \(5 mm\): the targets stand whole periods apart/,
    );
  });

  /** readings every minute, but for a pause of an hour before the second run; the axis moves by 0.1 µm a minute */
  const paused = (forgotten: number) => {
    const bare = plantedTest([0, 100, 200], [1, 2, 3], (at) => at / 10);
    const readings = bare.readings.map((reading, i) => {
      const time = i < 6 ? i : i + 60;
      return {
        ...{ target: mm(reading.targetMm), direction: reading.direction, run: reading.run },
        deviation: um(reading.deviationUm + 0.1 * time),
        ...(i === forgotten ? {} : { time: minutes(5 + time) }),
      };
    });
    return systematicPart(plantedTestOf(readings));
  };
  const plantedTestOf = (readings: readonly object[]) =>
    plantedTest([0, 100], [1, 2], () => 0, { readings: readings as never } as never);

  it("is not that where every reading has its time: the drift is then even in time", () => {
    const timed = paused(-1);
    expect(limits(timed)).toEqual(["no lead is given: periodic error was not looked for"]);
    expect(timed.drift.in("um")).toBeCloseTo(7.7, 9);
    expect(timed.slope.in("um/m")).toBeCloseTo(100, 9);
    expect(timed.play.in("um")).toBeCloseTo(0, 9);
    expect(limits(paused(4))[0]).toBe(order);
  });

  it("believes no scatter below that of the rounding", () => {
    const exact = systematicPart(plantedTest(targets, [1, 2, 3, 4], (at) => at / 10));
    // readings of 1 µm; a target's rounding is the same in all four runs
    expect(exact.leftByTargets.local.variance).toBeCloseTo(4 / 12, 9);
    const n = 8 * targets.length;
    expect(exact.play.terms[0]!.input.uncertaintySi * 1e6).toBeGreaterThan(Math.sqrt(4 / n / 12) - 1e-9);
    expect(exact.play.terms[0]!.input.uncertaintySi * 1e6).toBeLessThan(1.2 * Math.sqrt(4 / n / 12));
    expect(exact.slope.terms[0]!.input.degreesOfFreedom).toBe(exact.play.terms[0]!.input.degreesOfFreedom);
    expect(dial.resolution.in("um")).toBe(1);
  });
});

describe("simulated tests", () => {
  it("without scatter are the figures themselves, rounded to the step that is read", () => {
    const law = {
      meansUm: [0.4, 5.2, 8.6, 3.4, 9.2, 10.6],
      spreadsUm: new Float64Array(6),
      runs: 3,
      trials: 4,
      seed: 1,
    };
    const plain = simulateTests({ ...law, stepUm: 0 });
    expect(plain.systematic).toEqual({ mean: expect.closeTo(10.2, 9), deviation: 0 });
    expect(plain.meanReversal.mean).toBeCloseTo((0.4 + 5.2 + 8.6 - 3.4 - 9.2 - 10.6) / 3, 9);
    expect(plain.reversal.mean).toBeCloseTo(4, 9);
    expect(plain.meanDeviation.mean).toBeCloseTo((8.6 + 10.6 - 0.4 - 3.4) / 2, 9);
    const read = simulateTests({ ...law, stepUm: 2 });
    // read as 0, 6, 8 up and 4, 10, 10 down
    expect(read.systematic.mean).toBeCloseTo(10, 9);
    expect(read.systematicDown.mean).toBeCloseTo(6, 9);
    expect(read.accuracy.mean).toBeCloseTo(10, 9);
  });
  it("scatter as a mean of runs does, s / √n, and R by the mean of s: 4 s c₄ (c₄ of five is 0.940, tables of control charts)", () => {
    const found = simulateTests({ meansUm: [100, 100], spreadsUm: [2, 2], runs: 5, stepUm: 0, trials: 4000, seed: 5 });
    expect(found.meanReversal.deviation / (2 * Math.sqrt(2 / 5))).toBeCloseTo(1, 1);
    expect(found.meanReversal.mean).toBeCloseTo(0, 1);
    expect(found.repeatabilityUp.mean / (4 * 2 * 0.94)).toBeCloseTo(1, 1);
  });
  it("of a perfect axis grow with the scatter, and are steps where nothing scatters", () => {
    const of = (s: number, step?: number) =>
      perfectAxis({
        ...{ targets: 5, runs: 3, standardDeviation: um(s) },
        ...(step === undefined ? {} : { step: um(step) }),
      });
    const [one, two] = [of(1), of(2)];
    for (const figure of ["accuracy", "repeatability", "systematic", "reversal"] as const) {
      expect(two[figure].in("um")).toBeCloseTo(2 * one[figure].in("um"), 9);
    }
    expect(one.reversal.in("um")).toBeLessThan(one.systematic.in("um"));
    expect(one.repeatability.in("um")).toBeLessThan(one.accuracy.in("um"));
    // places between half a step down and half a step up are all read as nothing
    expect(of(1e-9, 1).accuracy.in("um")).toBeLessThan(1e-6);
    const seeds = [1, 2].map(
      (seed) => perfectAxis({ targets: 5, runs: 3, standardDeviation: um(1), seed }).accuracy.si,
    );
    expect(seeds[0]).toBe(one.accuracy.si);
    expect(seeds[1]).not.toBe(seeds[0]);
  });
});
