import { describe, expect, it } from "vitest";
import { fCdf, tCdf } from "../../kernel-lib/src/numerics/distributions.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { datumVisits, scatterOfVisits } from "../../kernel-lib/src/survey/datum-visits.js";
import { fitDrift, interpolate, wanderOf, weightedLine } from "../../kernel-lib/src/survey/drift.js";
import { correctDrift } from "../../kernel-lib/src/survey/drift-correction.js";
import { driftCurves } from "../../kernel-lib/src/survey/drift-curves.js";
import { aHeightTable, type Read } from "./a-height-table.js";

/** four places in one pass between three rounds of two datums, which rise by 0.2 µm a minute from 0 and 10 µm */
const line: Read[] = [
  { at: "D1", z: 0, when: 0 },
  { at: "D2", z: 10, when: 0.5 },
  { at: "A1", z: 1, when: 1 },
  { at: "A2", x: 50, z: 2, when: 2 },
  { at: "D1", z: 1, when: 5 },
  { at: "D2", z: 11, when: 5.5 },
  { at: "A3", x: 90, z: 3, when: 11 },
  { at: "A4", x: 140, z: 4, when: 12 },
  { at: "D1", z: 4, when: 20 },
  { at: "D2", z: 14, when: 20.5 },
];
/** variance of one reading that was never repeated: a step of 1 µm, rectangular */
const u2 = 1 / 12;
const close = (value: number, digits = 9) => expect.closeTo(value, digits);

describe("visits to the datums", () => {
  it("are readings one after the other; rounds are visits with no place between", () => {
    const table = aHeightTable([
      { at: "D1", z: 1 },
      { at: "D1", z: 3 },
      { at: "D2", z: 7 },
      { at: "A1", z: 0 },
      { at: "D2", z: 8 },
      { at: "D1", z: 2, pass: 2 },
      { at: "A2", z: 0, pass: 2 },
      { at: "D1", z: 2, pass: 2 },
    ]);
    const visits = datumVisits(table, undefined);
    expect(visits.map(({ label, pass, when, z, mean, round }) => [label, pass, when, z, mean, round])).toEqual([
      ["D1", 1, 0.5, [1, 3], 2, 0],
      ["D2", 1, 2, [7], 7, 0],
      ["D2", 1, 4, [8], 8, 1],
      ["D1", 2, 5, [2], 2, 1],
      ["D1", 2, 7, [2], 2, 2],
    ]);
    // the repeats scatter by √2 µm, one degree of freedom: √2/√2 and √2
    expect(visits.map(({ standardUncertainty }) => standardUncertainty)).toEqual(
      [1, Math.SQRT2, Math.SQRT2, Math.SQRT2, Math.SQRT2].map((u) => close(u)),
    );
  });

  it("are told apart by pass and datum, even with nothing between", () => {
    const table = aHeightTable([
      { at: "D1", z: 1 },
      { at: "D1", z: 1, pass: 2 },
      { at: "D2", z: 1, pass: 2 },
      { at: "A1", z: 0, pass: 2 },
    ]);
    expect(datumVisits(table, undefined).map(({ label, pass, round }) => `${label} ${pass} ${round}`)).toEqual([
      "D1 1 0",
      "D1 2 0",
      "D2 2 0",
    ]);
  });

  it("are none where nothing says when, or nothing was read", () => {
    const table = aHeightTable(line);
    expect(datumVisits({ ...table, when: undefined }, undefined)).toEqual([]);
    expect(datumVisits({ ...table, datum: { ...table.datum, when: undefined } }, undefined)).toEqual([]);
    expect(datumVisits(aHeightTable([{ at: "A1", z: 1 }]), undefined)).toEqual([]);
  });

  it("take their scatter from passes and repeats together, unless coming back adds to it", () => {
    const passes = (standardDeviation: number) => ({ standardDeviation, degreesOfFreedom: 20, source: "p" });
    // three visits with repeats of s = 1, two degrees of freedom each
    const visits = [1, 2, 3].map((z) => ({ z: [z - 1, z, z + 1] }));
    expect(scatterOfVisits(undefined, visits)).toEqual({
      standardDeviation: 1,
      degreesOfFreedom: 6,
      source: "repeats at the datum",
    });
    expect(scatterOfVisits(passes(2), [{ z: [1] }])).toEqual(passes(2));
    expect(scatterOfVisits(undefined, [{ z: [1] }])).toBeUndefined();
    // F = 1.5² with 20 and 6 degrees of freedom is nothing unusual (7.40 at 1 %, tables of F): pooled
    expect(scatterOfVisits(passes(1.5), visits)).toEqual({
      standardDeviation: close(Math.sqrt((20 * 2.25 + 6) / 26)),
      degreesOfFreedom: 26,
      source: "passes and repeats at the datum",
    });
    expect(scatterOfVisits(passes(2.7), visits)!.degreesOfFreedom).toBe(26);
    expect(scatterOfVisits(passes(2.75), visits)!.degreesOfFreedom).toBe(6);
    expect(scatterOfVisits(passes(0.5), visits)!.degreesOfFreedom).toBe(26);
    const still = [{ z: [1, 1, 1] }];
    expect(scatterOfVisits(passes(0.5), still)!.standardDeviation).toBe(0);
    expect(scatterOfVisits(passes(0), still)!.degreesOfFreedom).toBe(22);
  });

  it("have what coming back adds in their uncertainty, once each", () => {
    const table = aHeightTable(
      [1, 2, 3].flatMap((z, k) => [
        { at: "D1", z: z - 1 },
        { at: "D1", z },
        { at: "D1", z: z + 1 },
        { at: `A${k}`, z: 0 },
      ]),
    );
    const found = datumVisits(table, { standardDeviation: 5, degreesOfFreedom: 20, source: "p" });
    // 25 − 1 between visits, 1/3 within each mean of three
    for (const { standardUncertainty } of found) expect(standardUncertainty).toBeCloseTo(Math.sqrt(24 + 1 / 3), 9);
  });
});

describe("the line through the returns", () => {
  it("is that of weighted least squares with a height of its own for each datum", () => {
    const visit = (label: string, when: number, mean: number, standardUncertainty: number) => ({
      label,
      when,
      mean,
      standardUncertainty,
      pass: 1,
      z: [mean],
      round: 0,
    });
    const visits = [
      visit("a", 0, 1, 1),
      visit("a", 4, 4, 0.5),
      visit("a", 10, 3, 2),
      visit("b", 1, -7, 0.25),
      visit("b", 9, -4, 1),
    ];
    // Gauss's normal equations for the heights of a and b and the slope, put up row by row and solved by elimination
    const rows = visits.map(({ label, when, mean, standardUncertainty: u }) => ({
      g: [label === "a" ? 1 / u : 0, label === "b" ? 1 / u : 0, when / u],
      z: mean / u,
    }));
    const N = [0, 1, 2].map((i) => [
      ...[0, 1, 2].map((j) => rows.reduce((s, { g }) => s + g[i]! * g[j]!, 0)),
      rows.reduce((s, { g, z }) => s + g[i]! * z, 0),
    ]);
    const schur = (col: number) =>
      N[2]![col]! - (N[2]![0]! * N[0]![col]!) / N[0]![0]! - (N[2]![1]! * N[1]![col]!) / N[1]![1]!;
    const [information, slope] = [schur(2), schur(3) / schur(2)];
    const height = (i: number) => (N[i]![3]! - N[i]![2]! * slope) / N[i]![i]!;
    const misfit = rows.reduce(
      (s, { g, z }) => s + (z - g[0]! * height(0) - g[1]! * height(1) - g[2]! * slope) ** 2,
      0,
    );
    expect(weightedLine(visits, ({ label }) => label)).toEqual({
      slope: close(slope),
      information: close(information),
      misfit: close(misfit),
    });
    // against another course of time
    const turned = weightedLine(
      visits,
      ({ label }) => label,
      (t) => 3 * t + 1,
    );
    expect(turned).toEqual({ slope: close(slope / 3), information: close(9 * information), misfit: close(misfit) });
    expect(weightedLine(visits.slice(0, 1), ({ label }) => label)).toEqual({ slope: 0, information: 0, misfit: 0 });
  });

  it("is told with its chances, misclosure and rounds", () => {
    const fit = fitDrift(aHeightTable(line), true)!;
    // Σ(t − t̄)² = 650/3 at each datum, weights of 12: 5200
    expect(fit).toMatchObject({
      groups: ["D1", "D2"],
      slope: close(0.2),
      slopeUncertainty: close(1 / Math.sqrt(5200)),
      misfitFlat: close(208),
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      from: 0,
      to: 20.5,
      total: close(4.1),
      totalUncertainty: close(20.5 / Math.sqrt(5200)),
      bendChance: 1,
      misclosure: { label: "D1", size: 4 },
    });
    expect(fit.misfitLine).toBeCloseTo(0, 9);
    expect(fit.lineChance).toBeCloseTo(2 * tCdf(-0.2 * Math.sqrt(5200), Number.POSITIVE_INFINITY), 15);
    expect(fit.rounds!.when).toEqual([0.25, 5.25, 20.25]);
    expect(fit.rounds!.shift).toEqual([0, close(1), close(4)]);
    expect(fit.visits.map(fit.groupOf)).toEqual(["D1", "D2", "D1", "D2", "D1", "D2"]);
  });

  it("runs from the first reading to the last, of places or of datums", () => {
    const table = aHeightTable([...line, { at: "A5", x: 200, z: 0, when: 31 }, { at: "A0", x: 210, z: 0, when: -2 }]);
    const fit = fitDrift(table, true)!;
    expect([fit.from, fit.to, fit.total]).toEqual([-2, 31, close(6.6)]);
    expect(fit.totalUncertainty / fit.slopeUncertainty).toBeCloseTo(33, 9);
    expect(correctDrift(table, true).perReading[0]).toBeCloseTo(0.2 * 3, 9);
  });

  it("is asked whether it is bent", () => {
    const bent = line.map((one) => (one.when === 5 ? { ...one, z: 3 } : one));
    const fit = fitDrift(aHeightTable(bent), true)!;
    const misfit = fit.misfitLine;
    expect(misfit).toBeGreaterThan(1);
    // 6 visits, 2 heights, 1 slope: 3 left
    expect(fit.bendChance).toBeCloseTo(1 - fCdf(misfit / 3, 3, 1e6), 12);
    expect(fit.misfitFlat - fit.misfitLine).toBeCloseTo(fit.slope ** 2 * 5200, 6);
  });

  it("knows each pass by its own zero where the gauge was zeroed at each", () => {
    const twice = line.map((one) => ((one.when ?? 0) > 10 ? { ...one, pass: 2, z: one.z + 50 } : one));
    const fit = fitDrift(aHeightTable(twice), false)!;
    expect(fit.groups).toEqual(["D1 in pass 1", "D2 in pass 1", "D1 in pass 2", "D2 in pass 2"]);
    expect(fit.rounds).toBeUndefined();
    expect(fit.slope).toBeCloseTo(0.2, 9);
    expect(fit.misclosure).toEqual({ label: "D1", size: 1 });
    // two visits at one slope: nothing is left over to show a bend
    const one = line.filter(({ at, when = 0 }) => !(at === "D2" || (at === "D1" && when > 10)));
    expect(fitDrift(aHeightTable(one), true)!.bendChance).toBe(1);
    // three visits to one datum leave one
    const three = fitDrift(
      aHeightTable(line.filter(({ at }) => at !== "D2").map((q) => (q.when === 5 ? { ...q, z: 3 } : q))),
      true,
    )!;
    expect(three.bendChance).toBeCloseTo(1 - fCdf(three.misfitLine, 1, 1e6), 12);
    expect(three.bendChance).toBeLessThan(0.05);
    expect(fitDrift(aHeightTable(one), true)!.rounds!.shift).toEqual([0, close(1)]);
  });

  it("names the largest misclosure, up or down", () => {
    const closing = (last: number) =>
      fitDrift(aHeightTable(line.map((one) => (one.when === 20.5 ? { ...one, z: last } : one))), true)!.misclosure;
    expect(closing(3)).toEqual({ label: "D2", size: -7 });
    expect(closing(13)).toEqual({ label: "D1", size: 4 });
  });

  it("is not drawn where no datum was visited twice, or at one moment only", () => {
    expect(fitDrift(aHeightTable(line.slice(0, 4)), true)).toBeUndefined();
    expect(fitDrift(aHeightTable(line), true)).toBeDefined();
    // a clock read to the minute may do this; it once gave a doubt of 10¹⁴ µm
    const still = [
      { at: "D1", z: 0, when: 3 },
      { at: "D1", z: 2, when: 3, pass: 2 },
      { at: "A1", z: 0, when: 4 },
    ];
    for (const when of [3, 0.1, 68_947]) {
      const table = aHeightTable(still.map((one) => (one.at === "D1" ? { ...one, when } : { ...one, when: when + 1 })));
      expect(fitDrift(table, true)).toBeUndefined();
    }
    expect(fitDrift({ ...aHeightTable(line), when: undefined }, true)).toBeUndefined();
  });

  it("has rounds only where datums tie each of them to the first", () => {
    const untied: Read[] = [
      { at: "D1", z: 0 },
      { at: "D1", z: 0 },
      { at: "A1", z: 0 },
      { at: "D2", z: 5 },
      { at: "A2", x: 9, z: 0 },
      { at: "D2", z: 5 },
      { at: "A3", x: 20, z: 0 },
      { at: "D2", z: 5 },
    ];
    expect(fitDrift(aHeightTable(untied), true)!.rounds).toBeUndefined();
    const tied = [...untied, { at: "D1", z: 1 }];
    expect(fitDrift(aHeightTable(tied), true)!.rounds!.shift.length).toBe(4);
    // in a chain: 1 with 2, 2 with 3
    const chain: Read[] = [
      { at: "D1", z: 0 },
      { at: "D2", z: 5 },
      { at: "A1", z: 0 },
      { at: "D2", z: 6 },
      { at: "D3", z: 9 },
      { at: "A2", x: 9, z: 0 },
      { at: "D3", z: 11 },
      { at: "D1", z: 3 },
    ];
    const { shift } = fitDrift(aHeightTable(chain), true)!.rounds!;
    expect(shift).toEqual([0, close(1), close(3)]);
  });
});

describe("between the rounds", () => {
  it("the drift runs straight from knot to knot, and level beyond them", () => {
    const at = (t: number) => interpolate([0, 10, 30], [0, 5, -15], t);
    expect([-4, 0, 4, 10, 15, 30, 40].map(at)).toEqual([0, 0, 2, 5, 0, -15, -15]);
  });

  it("the doubt grows by what steps have beyond a smooth curve and their own uncertainty", () => {
    const { rounds } = fitDrift(aHeightTable(line), true)!;
    // two datums a round: each step has a variance of 2 u²/2; steps of 1 and 3 µm in 20 min
    expect(wanderOf(rounds!, () => 0)).toBeCloseTo((1 + 9 - 2 * u2) / 20, 9);
    expect(wanderOf(rounds!, (t) => 0.1 * t)).toBeCloseTo((0.25 + 2.25 - 2 * u2) / 20, 9);
    expect(wanderOf(rounds!, (t) => 0.2 * t)).toBe(0);
  });
});

describe("the curves that returns may follow", () => {
  it("share the evidence by Schwarz's criterion", () => {
    const curves = driftCurves(fitDrift(aHeightTable(line), true)!);
    expect(curves.map(({ model }) => model)).toEqual(["none seen", "straight line", "between returns"]);
    // χ² 208 and no parameter; 0 and one; 0 and two: weights e⁻¹⁰⁴, 6^−½, 6⁻¹
    const line_ = 6 ** -0.5 / (6 ** -0.5 + 6 ** -1);
    expect(curves.map(({ share }) => share)).toEqual([close(0), close(line_), close(1 - line_)]);
    const [none, straight, between] = curves;
    expect([0, 3, 20].map(none!.shift)).toEqual([0, 0, 0]);
    expect([0, 3, 20].map(straight!.shift)).toEqual([0, close(0.6), close(4)]);
    expect([0, 2.75, 20.25].map(between!.shift)).toEqual([0, close(0.5), close(4)]);
    // the middle of the survey is best known
    for (const curve of [none!, straight!]) {
      expect(curve.doubts.map((doubt) => doubt(10.25))).toEqual([0]);
      expect(curve.doubts.map((doubt) => doubt(20.25))).toEqual([close(10 / Math.sqrt(5200))]);
    }
  });

  it("know the rounds with their covariance: the first is zero, the others share its doubt", () => {
    const between = driftCurves(fitDrift(aHeightTable(line), true)!).at(-1)!;
    const covariance = (a: number, b: number) => between.doubts.reduce((s, doubt) => s + doubt(a) * doubt(b), 0);
    expect(between.doubts).toHaveLength(2);
    expect(covariance(0.25, 0.25)).toBe(0);
    expect(covariance(5.25, 5.25)).toBeCloseTo(u2, 9);
    expect(covariance(20.25, 20.25)).toBeCloseTo(u2, 9);
    expect(covariance(5.25, 20.25)).toBeCloseTo(u2 / 2, 9);
    expect(covariance(12.75, 12.75)).toBeCloseTo((u2 + u2 + u2) / 4, 9);
  });

  /** one datum visited at each whole minute from 0 to n, places between */
  const visited = (n: number, z: (t: number) => number): Read[] =>
    Array.from({ length: n + 1 }, (_, t) => [
      { at: "D1", z: z(t), when: t },
      { at: `A${t}`, x: 10 * t, z: 0, when: t + 0.5 },
    ])
      .flat()
      .slice(0, -1);

  it("settle with the planted size and time constant, and the doubt of both", () => {
    const planted = (t: number) => 10 * (1 - Math.exp(-t / 4));
    const fit = fitDrift(aHeightTable(visited(16, planted)), true)!;
    const settling = driftCurves(fit).find(({ model }) => model === "settling")!;
    expect(settling.timeConstant! / 4).toBeCloseTo(1, 2);
    for (const t of [0, 1, 5, 16]) expect(Math.abs(settling.shift(t) - planted(t))).toBeLessThan(0.02);
    expect(settling.share).toBeGreaterThan(0.99);
    // law of propagation for size and logarithm of the time constant, the height of the datum unknown
    const tau = settling.timeConstant!;
    const g = (t: number) => [1 - Math.exp(-t / tau), (-t / tau) * Math.exp(-t / tau)] as const;
    const rows = Array.from({ length: 17 }, (_, t) => g(t));
    const middle = [0, 1].map((i) => rows.reduce((s, row) => s + row[i]!, 0) / 17);
    const normal = (i: number, j: number) =>
      rows.reduce((s, row) => s + (row[i]! - middle[i]!) * (row[j]! - middle[j]!), 0) / u2;
    const [a, b, c] = [normal(0, 0), normal(0, 1), normal(1, 1)];
    const det = a * c - b * b;
    for (const t of [1, 4, 16]) {
      const [p, q] = g(t);
      const variance = (c * p * p - 2 * b * p * q + a * q * q) / det;
      expect(settling.doubts.reduce((s, doubt) => s + doubt(t) ** 2, 0)).toBeCloseTo(variance, 6);
    }
  });

  it("settle from the first moment of the survey on, downwards too", () => {
    const planted = (t: number) => -10 * (1 - Math.exp(-(t + 3) / 4));
    const early = { at: "A99", x: 300, z: 0, when: -3 };
    const fit = fitDrift(aHeightTable([early, ...visited(16, planted)]), true)!;
    const settling = driftCurves(fit).find(({ model }) => model === "settling")!;
    expect(settling.timeConstant! / 4).toBeCloseTo(1, 1);
    expect(settling.shift(-3)).toBeCloseTo(0, 12);
    expect(settling.shift(9)).toBeCloseTo(planted(9), 1);
  });

  it("do not settle where three visits are too few, or a line or a jump fits as well", () => {
    const models = (list: readonly Read[]) =>
      driftCurves(fitDrift(aHeightTable(list), true)!).map(({ model }) => model);
    const planted = (t: number) => 10 * (1 - Math.exp(-t / 1.2));
    expect(models(visited(2, planted))).not.toContain("settling");
    expect(models(visited(3, planted))).toContain("settling");
    expect(models(visited(8, (t) => t))).not.toContain("settling");
    expect(models(visited(8, (t) => (t > 0 ? 9 : 0)))).not.toContain("settling");
  });
});

describe("the correction of the heights", () => {
  it("takes the line out, says what it did, and carries each doubt into the places", () => {
    const { perReading, drift } = correctDrift(aHeightTable(line), true);
    expect([...perReading]).toEqual([close(0.2), close(0.4), close(2.2), close(2.4)]);
    expect(drift.model).toBe("straight line");
    expect(drift.statement).toBe(
      "the datum returns drift (4.1 µm over the survey by a straight line, standard uncertainty 0.3 µm); the line was taken out; evidence: straight line 71 %, between returns 29 %, and the spread between them is in the doubt of the heights",
    );
    const others = Math.sqrt(1 / (1 + Math.sqrt(6)));
    // from return to return lags behind the line by 0.05 µm, as the rounds end a quarter of a minute after it begins
    expect(drift.modesUm).toEqual([
      [1, 2, 11, 12].map((t) => close((t - 10.25) / Math.sqrt(5200))),
      [1, 2, 11, 12].map(() => close(-0.05 * others)),
    ]);
  });

  it("averages each doubt over the readings of a place", () => {
    const twice = line.map((one) => (one.at === "A4" ? { ...one, at: "A1", x: 0 } : one));
    const { drift } = correctDrift(aHeightTable(twice), true);
    expect(drift.modesUm[0]![0]).toBeCloseTo(
      (6.5 - 10.25) / (1 / fitDrift(aHeightTable(twice), true)!.slopeUncertainty),
      9,
    );
  });

  it("says that nothing was seen where nothing was, with what others allow left out", () => {
    const flat = line.map((one) => (one.at === "D1" ? { ...one, z: 0 } : one.at === "D2" ? { ...one, z: 10 } : one));
    const { perReading, drift, fit } = correctDrift(aHeightTable(flat), true);
    expect([...perReading]).toEqual([0, 0, 0, 0]);
    expect(drift.statement).toBe(
      "the datum returns show no drift beyond their scatter (0.0 µm over the survey by a straight line, standard uncertainty 0.3 µm); nothing was taken out; evidence: none seen 63 %, straight line 26 %, between returns 11 %, and the spread between them is in the doubt of the heights",
    );
    expect(drift.model).toBe("none seen");
    expect(fit!.misclosure!.size).toBe(0);
    const down = line.map((one) => (one.at.startsWith("D") ? { ...one, z: -one.z } : one));
    expect(correctDrift(aHeightTable(down), true).drift.statement).toContain("drift (−4.1 µm over the survey");
  });

  it("follows an uneven drift from return to return, and lets the doubt swell between", () => {
    const uneven = line.map((one) => (one.when === 5 ? { ...one, z: 9 } : one.when === 5.5 ? { ...one, z: 19 } : one));
    const { drift, perReading } = correctDrift(aHeightTable(uneven), true);
    expect(drift.statement).toMatch(
      /^the datum returns drift unevenly \(\d\.\d µm over the survey by a straight line, standard uncertainty 0\.3 µm\); straight lines from return to return were taken out$/,
    );
    // rounds at 0.25, 5.25 and 20.25 min, shifts of 0, 9 and 4 µm
    expect([...perReading]).toEqual([
      close((9 * 0.75) / 5),
      close((9 * 1.75) / 5),
      close(9 - (5 * 5.75) / 15),
      close(9 - (5 * 6.75) / 15),
    ]);
    const fit = fitDrift(aHeightTable(uneven), true)!;
    const rate = (9 - 5 * fit.slope) ** 2 + (-5 - 15 * fit.slope) ** 2 - 2 * u2;
    const bridge = (t: number, from: number, to: number) =>
      [1, 2, 3, 4].map(
        (m) =>
          (Math.sqrt((2 * rate * (to - from)) / 20) / Math.PI / m) * Math.sin((m * Math.PI * (t - from)) / (to - from)),
      );
    expect(drift.modesUm).toHaveLength(2 + 8);
    const first = drift.modesUm.slice(2, 6);
    const second = drift.modesUm.slice(6);
    first.forEach((mode, m) => {
      expect(mode).toEqual([close(bridge(1, 0.25, 5.25)[m]!), close(bridge(2, 0.25, 5.25)[m]!), 0, 0]);
    });
    second.forEach((mode, m) => {
      expect(mode).toEqual([0, 0, close(bridge(11, 5.25, 20.25)[m]!), close(bridge(12, 5.25, 20.25)[m]!)]);
    });
  });

  it("tells a time constant in minutes, readings, or what the times are counted in", () => {
    const list: Read[] = Array.from({ length: 17 }, (_, t) => [
      { at: "D1", z: 30 * (1 - Math.exp(-t / 4)), when: 60 * t },
      { at: `A${t}`, x: 10 * t, z: 0, when: 60 * t + 30 },
    ]).flat();
    const said = (scale: number, whenUnit: string) =>
      correctDrift(
        aHeightTable(
          list.map((one) => ({ ...one, when: one.when! * scale })),
          { whenUnit },
        ),
        true,
      ).drift.statement;
    expect(said(1, "s")).toMatch(
      /^the datum returns settle \(29\.[5-9] µm in all, time constant 4 min\); that curve was taken out$/,
    );
    expect(said(1, "readings")).toContain("time constant 240 readings)");
    expect(said(0.25, "s")).toContain("time constant 60 s)");
    expect(said(1 / 60, "min")).toContain("time constant 4 min)");
    expect(said(0.5, "s")).toContain("time constant 2 min)");
  });

  it("says why drift was not tested", () => {
    const said = (table: ReturnType<typeof aHeightTable>) => {
      const { drift, perReading, fit } = correctDrift(table, true);
      expect(drift.model).toBe("not tested");
      expect(drift.modesUm).toEqual([]);
      expect(fit).toBeUndefined();
      expect([...perReading]).toEqual(Array.from(table.z, () => 0));
      return drift.statement;
    };
    const end = "; drift was not tested and nothing was taken out";
    expect(said({ ...aHeightTable(line), when: undefined })).toBe(
      `the sheet does not say in which order it was read${end}`,
    );
    expect(said(aHeightTable([{ at: "A1", z: 1 }]))).toBe(`the sheet has no datum returns${end}`);
    expect(said(aHeightTable(line.slice(0, 4)))).toBe(
      `the 2 datum readings are no return: no datum was visited at two moments${end}`,
    );
  });
});

describe("where drift makes up much of what passes differ by", () => {
  /** two passes of twelve places that repeat to the last digit, lifted by the drift of the rounds between */
  const passes = (drift: (t: number) => number): Read[] => {
    const list: Read[] = [];
    for (let pass = 1; pass <= 2; pass++) {
      for (let i = 0; i < 12; i++) {
        if (i % 3 === 0) list.push({ at: "D1", z: 0, pass }, { at: "D2", z: 5, pass });
        list.push({ at: `A${i}`, x: 10 * (i % 4), y: 10 * Math.floor(i / 4), z: (i * 7) % 5, pass });
      }
    }
    list.push({ at: "D1", z: 0, pass: 2 }, { at: "D2", z: 5, pass: 2 });
    return list.map((one, t) => ({ ...one, z: one.z + drift(t), when: t }));
  };

  it("the scatter is that of the readings brought from round to round", () => {
    const wavy = (t: number) => 20 * Math.sin(t / 6);
    const fit = fitDrift(aHeightTable(passes(wavy)), true)!;
    const still = fitDrift(aHeightTable(passes(() => 0)), true)!;
    expect(still.visits[0]!.standardUncertainty).toBeCloseTo(1 / Math.sqrt(12), 9);
    // left as it is, the drift would be taken for a scatter of more than 10 µm
    expect(fit.visits[0]!.standardUncertainty).toBeLessThan(3);
    // each pass has a zero of its own: nothing brings one to the other
    expect(fitDrift(aHeightTable(passes(wavy)), false)!.visits[0]!.standardUncertainty).toBeGreaterThan(8);
  });
});

describe("a slip in one pass", () => {
  /** two passes of thirty places that settle by 10 µm, scatter by half a micrometre, datums three times at four moments */
  const sheet = (slip: number): Read[] => {
    const { normal } = randomStream(12);
    const list: Read[] = [];
    const datums = (pass: number) => {
      for (const [at, z] of [
        ["D1", 0],
        ["D2", 5],
      ] as const)
        for (let k = 0; k < 3; k++) list.push({ at, z, pass });
    };
    for (let pass = 1; pass <= 2; pass++) {
      datums(pass);
      for (let i = 0; i < 30; i++) {
        const z = ((i * 7) % 5) + (i === 17 && pass === 2 ? slip : 0);
        list.push({ at: `A${i}`, x: 50 * (i % 6), y: 40 * Math.floor(i / 6), z, pass });
      }
    }
    datums(2);
    return list.map((one, t) => ({
      ...one,
      z: Math.round(one.z + 10 * (1 - Math.exp(-t / 25)) + 0.5 * normal()),
      when: t,
    }));
  };

  it("leaves the drift to be seen: a missed turn hid 9 µm of it behind a doubt of 20 µm", () => {
    const plain = fitDrift(aHeightTable(sheet(0)), true)!;
    for (const slip of [-200, 40, 1000]) {
      const fit = fitDrift(aHeightTable(sheet(slip)), true)!;
      expect(fit.totalUncertainty).toBeCloseTo(plain.totalUncertainty, 0);
      expect(fit.totalUncertainty).toBeLessThan(1);
      expect(correctDrift(aHeightTable(sheet(slip)), true).drift.model).not.toBe("none seen");
    }
  });
});
