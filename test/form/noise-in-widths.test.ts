import { describe, expect, it } from "vitest";
import { corrected, leastSquaresWidth, minimumZoneWidth } from "../../kernel-lib/src/form/corrected-width.js";
import { mapDoubt, newDoubt, noiseInput, tiltTerms, widthTerms } from "../../kernel-lib/src/form/flatness-terms.js";
import { flatness } from "../../kernel-lib/src/form/index.js";
import { noiseBiases } from "../../kernel-lib/src/form/noise-bias.js";
import { placesOf, range } from "../../kernel-lib/src/form/places.js";
import { leastSquares, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/surface.js";
import { covariance, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { budgetLines } from "./budget-lines.js";
import { forms, mapOf, planted } from "./planted.js";

const six = (v: number) => Number(v.toPrecision(6));
const dial = { name: "dial", resolution: um(0.1), maximumPermissibleError: um(3) };
const ofDial = ", rectangular, Infinity, B, maximum permissible error of dial, ± over the range used";
const root3 = six(Math.sqrt(3));

describe("the bias that noise makes", () => {
  const figure = (h: Float64Array) => h[0]! ** 2 + h[1]!;
  const noise = 0.7;

  it("is what a figure comes out too high by on average, its growth d bias / d ln noise, counted draw by draw", () => {
    const [first, second] = noiseBiases(
      [
        [2, 1],
        [0, 5],
      ],
      noise,
      { figure },
      { seed: 9, draws: 10 },
    );
    const stream = randomStream(9);
    const errors = Array.from({ length: 10 }, () => [noise * stream.normal(), noise * stream.normal()] as const);
    const over = (f: number, [e, g]: readonly [number, number]) => (f + e) ** 2 - f ** 2 + g;
    const mean = (values: readonly number[]) => values.reduce((s, v) => s + v, 0) / values.length;
    const spread = (values: readonly number[]) => Math.sqrt(mean(values.map((v) => v * v)) - mean(values) ** 2);
    const all = errors.map((e) => over(2, e));
    expect(first!.bias).toBeCloseTo(mean(all), 12);
    expect(first!.spread).toBeCloseTo(spread(all), 12);
    // (f + 1.1 e)² − (f + e)² over a tenth
    expect(first!.growth).toBeCloseTo(mean(errors.map(([e, g]) => 4 * e + 2.1 * e * e + g)), 9);
    // the second form meets the first three of ten draws, a quarter rounded up
    const few = errors.slice(0, 3).map((e) => over(0, e));
    expect(second!.bias).toBeCloseTo(mean(few), 12);
    expect(second!.spread).toBeCloseTo(spread(few), 12);
    expect(second!.growth).toBe(0);
  });

  it("is found after the linear first step, in the form and in each draw", () => {
    const reduce = (h: Float64Array) => {
      h[0] = h[0]! - h[1]!;
      h[1] = 0;
    };
    const plain = noiseBiases([[3]], noise * Math.SQRT2, { figure: (h) => h[0]! }, { seed: 1, draws: 4000 });
    const [found] = noiseBiases([[8, 5]], noise, { reduce, figure: (h) => h[0]! + h[1]! }, { seed: 1, draws: 4000 });
    expect(found!.spread / plain[0]!.spread).toBeCloseTo(1, 1);
    expect(Math.abs(found!.bias)).toBeLessThan(0.06);
  });

  it("has no spread below zero where all draws give the same, and asks nothing of no form", () => {
    const [still] = noiseBiases([[1, 1]], noise, { figure: () => 0.1 }, { seed: 1, draws: 7 });
    expect(still).toEqual({ bias: 0, spread: 0, growth: 0 });
    expect(noiseBiases([], noise, { figure }, { seed: 1, draws: 3 })).toEqual([]);
  });
});

describe("a width with the bias taken off", () => {
  const noise = { standardUncertaintyUm: 2, degreesOfFreedom: 8, source: "passes" };
  const doubt = newDoubt({ noise, gauge: dial }, 2);
  const seen = { bias: 4, spread: 1.5, growth: 3 };

  it("rests on the noise, the gauge, the drift, the choice of the form and how well the noise is known", () => {
    const found = Measured.of(um(10), widthTerms(doubt, seen, 0.25, [5, -7]));
    expect(budgetLines(found)).toEqual([
      "reading noise: 1.5, t, 8, A, passes",
      `gauge, error between highest and lowest: ${root3}${ofDial}`,
      "drift of the set-up, part 1: 5, normal, Infinity, B, datum returns",
      "drift of the set-up, part 2: -7, normal, Infinity, B, datum returns",
      "form without noise, in the correction: 0.25, normal, Infinity, B, other forms that the readings bear",
      // a standard deviation from ν degrees of freedom is known to 1/√(2ν) of itself: 3 × 1/4
      "size of the noise, in the correction: 0.75, normal, Infinity, B, 8 degrees of freedom of the noise",
    ]);
    expect(found.terms[0]!.input.group).toBe(doubt.group);
  });

  it("leaves out what does not matter: no gauge, one form, noise exactly known, a bias that noise does not move", () => {
    const labels = (of: Parameters<typeof widthTerms>[0], bias = seen, apart = 0) =>
      widthTerms(of, bias, apart, []).map(({ input }) => input.label);
    const known = newDoubt({ noise: { ...noise, degreesOfFreedom: Number.POSITIVE_INFINITY } }, 0);
    expect(labels(known)).toEqual(["reading noise"]);
    expect(labels(doubt, { ...seen, growth: 0 })).toEqual(["reading noise", "gauge, error between highest and lowest"]);
    expect(labels(newDoubt({ noise }, 0), seen)).toEqual(["reading noise", "size of the noise, in the correction"]);
    expect(labels(newDoubt({ noise }, 0), { ...seen, growth: -1 })).toHaveLength(2);
    const unnamed = newDoubt({ noise: { standardUncertaintyUm: 1, degreesOfFreedom: 8 } }, 0);
    expect(noiseInput(unnamed, "a", um(1)).source).toBe("repeats of the survey");
  });

  it("is raw less bias, not below zero, and the farthest of the other forms is its doubt", () => {
    // the figure of a form is its first height plus, by the second, a constant that noise brings about
    const figure = (h: Float64Array) => h[0]! + (h[2] === 0 ? 0 : h[1]!);
    const options = { seed: 4, draws: 8, drift: [2, 0] };
    const all = [
      [0, 6, 0],
      [0, 7, 0],
      [0, 2, 0],
    ];
    const found = corrected(doubt, all, { figure }, { ...options, raw: 10 });
    const [first, ...others] = noiseBiases(all, 2, { figure }, options);
    expect(found.raw.in("um")).toBe(10);
    expect(found.bias.in("um")).toBeCloseTo(first!.bias, 12);
    expect(found.corrected.in("um")).toBeCloseTo(10 - first!.bias, 12);
    const apart = Math.max(...others.map(({ bias }) => Math.abs(bias - first!.bias)));
    expect(apart).toBeGreaterThan(3);
    const lines = budgetLines(found.corrected);
    expect(lines[0]).toBe(`reading noise: ${six(first!.spread)}, t, 8, A, passes`);
    expect(lines.find((line) => line.startsWith("form"))).toContain(`: ${six(apart)},`);
    expect(lines.filter((line) => line.startsWith("drift"))).toEqual([
      "drift of the set-up, part 1: 2, normal, Infinity, B, datum returns",
    ]);
    expect(corrected(doubt, all, { figure }, { ...options, raw: 1 }).corrected.value.si).toBe(0);
  });
});

describe("the tilts of a plane", () => {
  // places askew, so that the two slopes hang together
  const points = [
    [0, 0, 1],
    [200, 10, 5],
    [180, 150, 2],
    [40, 90, -3],
    [100, 60, 4],
  ] as const;
  const places = points.map(([xMm, yMm, zUm], i) => ({ label: `P${i}`, xMm, yMm, zUm, count: 2 }));
  const noise = { standardUncertaintyUm: 2, degreesOfFreedom: 5 };
  const modesUm = [
    [0, 2, 1.8, 0.4, 1],
    [1, -1, 3, 0, 2],
  ];
  const map: Surface = {
    ...mapOf(places, noise),
    gauge: dial,
    drift: { model: "settling", statement: "drift", modesUm },
  };
  const columns = [points.map(() => 1), points.map(([x]) => x), points.map(([, y]) => y)];
  const doubt = mapDoubt(map, placesOf("here", map));

  it("have the covariance σ²(XᵀX)⁻¹ from the noise, and one estimate of it", () => {
    const bare = { ...map, gauge: { ...dial, maximumPermissibleError: um(1e-9) } };
    const { drift, ...still } = bare;
    expect(drift).toBeDefined();
    const [x, y] = tiltTerms(mapDoubt(still, doubt.places)).map((terms) => Measured.of(um(0), terms));
    const { covarianceFactor: c } = leastSquares(
      columns,
      points.map(([, , z]) => z),
    );
    // slopes in µm per mm are 1e-3 in SI; covariance of the two included
    const unit = 2 * 2 * 1e-6;
    expect(covariance(x!, x!) / (c[1]![1]! * unit)).toBeCloseTo(1, 9);
    expect(covariance(y!, y!) / (c[2]![2]! * unit)).toBeCloseTo(1, 9);
    expect(covariance(x!, y!) / (c[1]![2]! * unit)).toBeCloseTo(1, 9);
    expect(
      new Set([...x!.terms, ...y!.terms].filter(({ input }) => input.evaluation === "A").map((t) => t.input.group))
        .size,
    ).toBe(1);
  });

  it("rest on noise, drift and the gauge over the length of the map", () => {
    const [x, y] = tiltTerms(doubt).map((terms) => budgetLines(Measured.of(um(0), terms)));
    const slopes = modesUm.map((mode) => leastSquares(columns, mode).coefficients);
    const { covarianceFactor: c } = leastSquares(
      columns,
      points.map(([, , z]) => z),
    );
    const l = Math.sqrt(c[1]![1]!);
    const of = (row: 1 | 2) => [
      `drift of the set-up, part 1: ${six(slopes[0]![row]! * 1000)}, normal, Infinity, B, datum returns`,
      `drift of the set-up, part 2: ${six(slopes[1]![row]! * 1000)}, normal, Infinity, B, datum returns`,
    ];
    expect(x).toEqual([
      `reading noise: ${six(2000 * l)}, t, 5, A, repeats of the survey`,
      ...of(1),
      `gauge, error over the map along x: ${six((Math.sqrt(3) * 1000) / 200)}${ofDial}`,
    ]);
    expect(y).toEqual([
      `reading noise: ${six((2000 * c[1]![2]!) / l)}, t, 5, A, repeats of the survey`,
      `reading noise, second part: ${six(2000 * Math.sqrt(c[2]![2]! - (c[1]![2]! / l) ** 2))}, t, 5, A, repeats of the survey`,
      ...of(2),
      `gauge, error over the map along y: ${six((Math.sqrt(3) * 1000) / 150)}${ofDial}`,
    ]);
  });

  it("count places by their weights", () => {
    const weights = [1, 0.5, 1, 0.2, 0];
    const [x] = tiltTerms(doubt, weights).map((terms) => Measured.of(um(0), terms));
    const roots = weights.map(Math.sqrt);
    const weighted = columns.map((column) => column.map((v, i) => v * roots[i]!));
    const { covarianceFactor: c } = leastSquares(weighted, roots);
    expect(x!.terms[0]!.sensitivity * x!.terms[0]!.input.uncertaintySi * 1e6).toBeCloseTo(
      2000 * Math.sqrt(c[1]![1]!),
      6,
    );
    const moved =
      leastSquares(
        weighted,
        modesUm[1]!.map((v, i) => v * roots[i]!),
      ).coefficients[1]! * 1000;
    expect(x!.terms.find(({ input }) => input.label.endsWith("part 2"))!.sensitivity * 1e6).toBeCloseTo(moved, 6);
  });
});

describe("the widths of a map", () => {
  const { surface } = planted({ form: forms.bow!, noiseUm: 0.01, passes: 2, seed: 2 });
  const drifted: Surface = {
    ...surface,
    drift: {
      model: "settling",
      statement: "drift",
      modesUm: [surface.places.map(({ xMm }) => ((xMm - 225) / 225) ** 2), surface.places.map(({ xMm }) => 0.01 * xMm)],
    },
  };
  const drift = (measured: Measured<"length">) =>
    measured.terms.filter(({ input }) => input.label.startsWith("drift")).map(({ sensitivity }) => sensitivity * 1e6);

  it("move with the drift at the extremes, and with a drift along a plane not at all", () => {
    // bow of 20 (1 − u²), drift of u²: highest at the crest, u = 1/9, lowest at the ends, u = 1; so for the zone
    const found = flatness(drifted);
    const between = 1 / 81 - 1;
    expect(drift(found.overall)[0]).toBeCloseTo(between, 9);
    expect(Math.abs(drift(found.overall)[1] ?? 0)).toBeLessThan(1e-9);
    expect(drift(found.minimumZone.corrected)[0]).toBeCloseTo(between, 6);
    expect(Math.abs(drift(found.minimumZone.corrected)[1] ?? 0)).toBeLessThan(1e-6);
  });

  it("are simulated after the plane is taken out of form and noise", () => {
    const few = { ...surface, places: surface.places.filter(({ xMm, yMm }) => xMm % 200 === 0 && yMm % 160 === 0) };
    const places = placesOf("here", few);
    const z = [...places.z];
    const doubt = mapDoubt(few, places);
    const least = leastSquaresWidth(doubt, [z], 5);
    const plane = [places.x.map(() => 1), places.x, places.y];
    const reduce = (h: Float64Array) => h.set(leastSquares(plane, h).residuals);
    const noise = few.noise.standardUncertaintyUm;
    const [own] = noiseBiases([z], noise, { reduce, figure: range }, { seed: 5, draws: 2000 });
    expect(least.bias.in("um")).toBeCloseTo(own!.bias, 9);
    expect(least.raw.in("um")).toBeCloseTo(range(leastSquares(plane, z).residuals), 9);
    const zone = minimumZoneWidth(doubt, [z], 5);
    expect(zone.width.raw.in("um")).toBeCloseTo(zone.plane.zone, 12);
  });
});

it("flatness is told whole: figure, what noise adds, tilts, extremes, and what lies between the places", () => {
  const places = [0, 100, 200].flatMap((xMm) =>
    [0, 90, 180].map((yMm) => ({
      label: `${xMm}/${yMm}`,
      xMm,
      yMm,
      zUm: 0.02 * xMm + (xMm === 100 && yMm === 90 ? 9 : 0),
      count: 2,
    })),
  );
  const found = flatness({ ...mapOf(places, { standardUncertaintyUm: 0.01, degreesOfFreedom: 90 }), gauge: dial });
  expect(`${found}`).toMatch(
    /^flatness relative to gravity: 9\.0 µm ± 3\.\d µm \(k = 2\.0\); 9\.0 µm as read about the least-squares plane less 0\.0 µm that the noise of the readings adds; tilt along x 20 µm\/m ± 17 µm\/m \(k = 2\.0\), along y −?0 µm\/m ± 19 µm\/m \(k = 2\.0\); highest 100\/90 \(middle\), lowest 0\/0 \(left front\); at the 9 places probed, a lower bound for what lies between them$/,
  );
  // one place of nine 9 µm high: plane through the mean at 1 µm, peak 8, valley 1, rms √(8² + 8 × 1²)/3
  expect(found.FLTp.in("um")).toBeCloseTo(8, 9);
  expect(found.FLTv.in("um")).toBeCloseTo(1, 9);
  expect(found.FLTq.in("um")).toBeCloseTo(Math.sqrt(72 / 9), 9);
  expect(found.plane).toEqual({
    slopeX: expect.closeTo(0.02, 9),
    slopeY: expect.closeTo(0, 9),
    offset: expect.closeTo(1, 9),
  });
  expect([found.highest.label, found.highest.where, found.lowest.residualUm.toFixed(6)]).toEqual([
    "100/90",
    "middle",
    "-1.000000",
  ]);
});
