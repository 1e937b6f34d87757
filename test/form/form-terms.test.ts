import { describe, expect, it } from "vitest";
import { localHighs, localLows, makeUp, plane, reading } from "../../kernel-lib/src/form/index.js";
import { likeness } from "../../kernel-lib/src/form/neighbours.js";
import { legendreProducts } from "../../kernel-lib/src/form/smooth-form.js";
import { termFits } from "../../kernel-lib/src/form/term-fits.js";
import {
  fUpperTail,
  huberFit,
  leastSquares,
  randomStream,
  simultaneousFactor,
  tCdf,
} from "../../kernel-lib/src/numerics/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface, SurfacePlace } from "../../kernel-lib/src/survey/surface.js";
import { refusal } from "../refusal.js";
import { budgetLines } from "./budget-lines.js";
import { grid, mapOf } from "./planted.js";

const dial = { name: "dial", resolution: um(0.1), maximumPermissibleError: um(3) };
const ofDial = ", rectangular, Infinity, B, maximum permissible error of dial, ± over the range used";
const six = (v: number) => Number(v.toPrecision(6));
const u = (x: number) => (x - 225) / 225;
const v = (y: number) => (y - 160) / 160;
const over = (height: (x: number, y: number, i: number) => number): SurfacePlace[] =>
  grid.map((p, i) => ({ ...p, zUm: height(p.xMm, p.yMm, i), count: 2 }));
const noisy = (noiseUm: number, seed: number) => {
  const stream = randomStream(seed);
  return grid.map(() => noiseUm * stream.normal());
};
const columnsOf = (places: readonly SurfacePlace[]) => ({
  x: places.map((p) => p.xMm),
  y: places.map((p) => p.yMm),
  z: places.map((p) => p.zUm),
});

describe("the terms of a form", () => {
  // each place half its left neighbour, and a third of the one in front
  const errors = noisy(2, 6);
  for (const [i, { xMm }] of grid.entries()) {
    errors[i] = errors[i]! + (xMm > 0 ? 0.5 * errors[i - 1]! : 0) + (i >= 10 ? errors[i - 10]! / 3 : 0);
  }
  const places = over((x, y, i) => 0.03 * x - 8 * u(x) ** 2 + 5 * u(x) * v(y) + errors[i]!);
  const modesUm = [places.map(({ xMm, yMm }) => 3 * u(xMm) * v(yMm) + 2 * u(xMm) + 1.5 * u(xMm) ** 2)];
  const map: Surface = {
    ...mapOf(places, { standardUncertaintyUm: 1.5, degreesOfFreedom: 90, source: "passes" }),
    gauge: dial,
    drift: { model: "settling", statement: "drift", modesUm },
  };
  const found = makeUp(map);
  const { x, y, z } = columnsOf(places);
  const columns = legendreProducts(x, y, 2);
  const fit = leastSquares(columns, z);
  const { alongX, alongY } = likeness({ x, y }, fit.residuals);
  const raised = ((1 + alongX) / (1 - alongX)) * ((1 + alongY) / (1 - alongY));

  it("rest each on the noise, the drift and the gauge, on the scale of its name", () => {
    // tilt: 2 c over the length; bow: the middle above the ends, 3/2 c; twist: the corner out of plane, 4 c
    for (const [term, k, scale, gauge, shift] of [
      [found.tiltX, 1, 2000 / 450, (Math.sqrt(3) * 1000) / 450, 2],
      [found.tiltY, 2, 2000 / 320, (Math.sqrt(3) * 1000) / 320, 0],
      [found.bowX, 3, -1.5, Math.sqrt(3), 1],
      [found.bowY, 5, -1.5, Math.sqrt(3), 0],
      // two differences of two heights each
      [found.twist, 4, 4, Math.sqrt(6), 3],
    ] as const) {
      expect(term.coefficientUm).toBeCloseTo(fit.coefficients[k]!, 9);
      expect(term.amplitude.value.si * 1e6).toBeCloseTo(scale * fit.coefficients[k]!, 6);
      const [noise, ...rest] = budgetLines(term.amplitude, 1e6, 5);
      const sigma = 1.5 * Math.sqrt(fit.covarianceFactor[k]![k]!);
      expect(noise).toBe(`reading noise: ${Number((scale * sigma).toPrecision(5))}, t, 90, A, passes`);
      expect(rest.at(-1)).toBe(`gauge, error in ${term.name}: ${Number(gauge.toPrecision(5))}${ofDial}`);
      if (shift > 0) {
        expect(rest[0]).toBe(
          `drift of the set-up, part 1: ${Number((scale * shift).toPrecision(5))}, normal, Infinity, B, datum returns`,
        );
      }
    }
    expect(found.terms.map(({ name }) => name)).toEqual(["tilt x", "tilt y", "bow x", "bow y", "twist"]);
  });

  it("are tested against the gauge, and against an unevenness raised by the likeness of neighbours", () => {
    const square = fit.coefficients[4]! ** 2 / fit.covarianceFactor[4]![4]!;
    expect(found.twist.beyondGauge.F / (square / 1.5 ** 2)).toBeCloseTo(1, 9);
    expect(found.twist.beyondGauge.p / fUpperTail(square / 1.5 ** 2, 1, 90)).toBeCloseTo(1, 9);
    const meanSquare = (fit.residualSumOfSquares / 84) * raised;
    expect(Math.min(alongX, alongY)).toBeGreaterThan(0.05);
    expect(found.twist.beyondUnevenness.F / (square / meanSquare)).toBeCloseTo(1, 9);
    expect(found.twist.beyondUnevenness.p / fUpperTail(square / meanSquare, 1, 84 / raised)).toBeCloseTo(1, 9);
    expect(found.rest.degreesOfFreedom).toBe(84);
    expect(found.rest.independent).toBeCloseTo(84 / raised, 9);
    expect(found.rest.standardDeviationUm).toBeCloseTo(Math.sqrt(fit.residualSumOfSquares / 84), 9);
  });

  it("share the variance out, each what it adds to those before it, and leave the rest", () => {
    const squares = (count: number) => leastSquares(columns.slice(0, count), z).residualSumOfSquares;
    const total = squares(1);
    for (const [term, k] of [
      [found.tiltX, 1],
      [found.tiltY, 2],
      [found.bowX, 3],
      [found.twist, 4],
      [found.bowY, 5],
    ] as const) {
      expect(term.share).toBeCloseTo((squares(k) - squares(k + 1)) / total, 12);
    }
    expect(found.rest.share).toBeCloseTo(squares(6) / total, 12);
  });

  it("of higher order rest on a fit of all", () => {
    const all = leastSquares(legendreProducts(x, y, 4), z);
    const cubic = found.higher.find(({ name }) => name === "x³")!;
    expect(cubic.amplitude.in("um")).toBeCloseTo(all.coefficients[6]!, 9);
    expect(budgetLines(cubic.amplitude, 1e6, 5).at(-1)).toBe(
      `gauge, error in x³: ${Number(Math.sqrt(3).toPrecision(5))}${ofDial}`,
    );
    expect(found.restOfAll.degreesOfFreedom).toBe(75);
  });

  it("are told in one line", () => {
    expect(`${found}`).toBe(
      `${found.terms.map((t) => `${t.name} ${t.amplitude.text()}`).join(", ")}; left over by these five ${found.rest.standardDeviationUm.toFixed(1)} µm (standard deviation), ${Math.round(100 * found.rest.share)} % of the variance; relative to gravity`,
    );
  });

  it("of a flat plate without any noise share nothing", () => {
    const flat = makeUp(
      mapOf(
        over(() => 5),
        { standardUncertaintyUm: 1e-3, degreesOfFreedom: 9 },
      ),
    );
    expect(flat.rest.standardDeviationUm).toBeLessThan(1e-12);
    expect(flat.terms.every(({ amplitude }) => Math.abs(amplitude.value.si) < 1e-18)).toBe(true);
    const zero = makeUp(
      mapOf(
        over(() => 0),
        { standardUncertaintyUm: 1e-3, degreesOfFreedom: 9 },
      ),
    );
    expect([zero.rest.share, zero.tiltX.share]).toEqual([0, 0]);
    expect(zero.tiltX.beyondUnevenness).toEqual({ F: Number.POSITIVE_INFINITY, p: 1 });
    expect(zero.tiltX.beyondGauge).toEqual({ F: 0, p: 1 });
  });

  it("go as high as rows, columns and six tenths of the places bear", () => {
    const of = (columnCount: number, rows: number) => {
      const x = Array.from({ length: columnCount * rows }, (_, i) => i % columnCount);
      const y = x.map((_, i) => Math.floor(i / columnCount));
      return termFits({ x, y, z: x.map((a, i) => a * y[i]!) });
    };
    // degree 3 has 10 columns and takes four lines and 17 places, degree 4 has 15 and takes five lines and 25 places
    expect([of(3, 9), of(4, 4), of(4, 5), of(4, 9), of(5, 5), of(9, 5)].map(({ degree }) => degree)).toEqual([
      2, 2, 3, 3, 4, 4,
    ]);
    expect(of(5, 5).names).toEqual([
      ...["1", "x", "y", "x²", "xy", "y²", "x³", "x²y", "xy²", "y³"],
      ...["x⁴", "x³y", "x²y²", "xy³", "y⁴"],
    ]);
    expect(of(3, 3).fit(1).coefficients).toHaveLength(3);
    expect(of(3, 3).total).toBeCloseTo(16 - 9 * 1 + 9 * 0 + 9, 9);
  });

  it("need three rows and three columns", () => {
    const few = (keep: (p: (typeof grid)[number]) => boolean) =>
      refusal(() => makeUp(mapOf(over((x) => x % 7).filter(keep))));
    expect(few((p) => p.xMm % 450 === 0)).toEqual({
      code: "too-few-places",
      message: "makeUp: planted map has 2 columns along x; a bow needs three at least, measure one between",
    });
    expect(few((p) => p.yMm % 320 === 0).message).toBe(
      "makeUp: planted map has 2 rows along y; a bow needs three at least, measure one between",
    );
    expect(few((p) => p.xMm <= 50 && p.yMm <= 120).message).toContain("8 places; 9 are needed");
  });
});

describe("areas that stand off", () => {
  const errors = noisy(0.8, 12);
  const bumps: { readonly [label: string]: number } = { B2: 30, C2: 34, B3: 26, E5: -20, J9: 15 };
  const places = over(
    (x, y, i) => 0.02 * x + 6 * u(x) ** 2 - 4 * u(x) * v(y) + errors[i]! + (bumps[grid[i]!.label] ?? 0),
  );
  const map: Surface = { ...mapOf(places, { standardUncertaintyUm: 1, degreesOfFreedom: 90 }), gauge: dial };
  const { x, y, z } = columnsOf(places);
  const fit = huberFit(legendreProducts(x, y, 2), z, { leastScale: 1 });
  const index = (label: string) => grid.findIndex((p) => p.label === label);
  const off = (label: string) => fit.residuals[index(label)]!;
  const spread = (label: string) => fit.scale * Math.sqrt(1 + fit.leverages[index(label)]!);
  // above the noise the scale of the robust fit holds, with a third of its degrees of freedom: 0.37 × 84
  const nu = fit.scale <= 1 ? 90 : 31;
  const [highs, lows] = [localHighs(map), localLows(map)];

  it("stand above or below the robust surface by more than the limit for all places", () => {
    expect(highs.areas.map((a) => a.places.map((p) => p.label))).toEqual([["B2", "C2", "B3"], ["J9"]]);
    expect(lows.areas.map((a) => a.places.map((p) => p.label))).toEqual([["E5"]]);
    expect([highs.side, lows.side]).toEqual(["above", "below"]);
    expect(highs.factor).toBeCloseTo(simultaneousFactor(90, nu), 9);
    expect(highs.spread.in("um")).toBeCloseTo(fit.scale, 9);
    expect(highs.limit.in("um")).toBeCloseTo(fit.scale * simultaneousFactor(90, nu), 9);
    expect(highs.familyWiseRate).toBe(0.05);
    for (const [i, r] of fit.residuals.entries()) expect(lows.residualsUm[i]).toBeCloseTo(r, 9);
  });

  it("each have their top, its height with its doubt, their extent and place", () => {
    const [block, corner] = highs.areas;
    expect([block!.top.label, block!.where, block!.extentMm]).toEqual([
      "C2",
      "left front",
      { x: [50, 100], y: [40, 80] },
    ]);
    expect(block!.height.in("um")).toBeCloseTo(off("C2"), 9);
    const source = nu === 90 ? "noise of the readings" : "unevenness all over the map";
    expect(budgetLines(block!.height)).toEqual([
      `place against the robust surface: ${six(spread("C2"))}, t, ${nu}, A, ${source}`,
      `gauge, error between the place and its surroundings: ${six(Math.sqrt(3))}${ofDial}`,
    ]);
    expect([corner!.top.label, corner!.where, corner!.extentMm]).toEqual([
      "J9",
      "right back",
      { x: [450, 450], y: [320, 320] },
    ]);
    const [low] = lows.areas;
    expect(low!.height.in("um")).toBeCloseTo(off("E5"), 9);
    expect(low!.height.value.si).toBeLessThan(0);
    expect([low!.top.label, low!.where]).toEqual(["E5", "middle"]);
  });

  it("hold at least the volume between their places: half a cell where three of its corners stand off, nothing at one", () => {
    const [block, corner] = highs.areas;
    const mean = (off("B2") + off("C2") + off("B3")) / 3;
    expect(block!.volumeAtLeast.in("mm3")).toBeCloseTo((mean * 50 * 40 * 0.5) / 1000, 6);
    expect(corner!.volumeAtLeast.in("mm3")).toBe(0);
    const sunk = localLows({
      ...map,
      places: places.map((p) => ({ ...p, zUm: p.zUm - (/^[EFG][567]$/.test(p.label) ? 40 : 0) })),
    });
    const nine = sunk.areas[0]!;
    expect(nine.places).toHaveLength(9);
    const r = (label: string) => -sunk.residualsUm[index(label)]!;
    const cell = (a: string, b: string) =>
      ["EF", "FG"].flatMap((c) => [`${c[0]}${a}`, `${c[0]}${b}`, `${c[1]}${a}`, `${c[1]}${b}`]);
    const four = [...cell("5", "6"), ...cell("6", "7")];
    const sum = four.reduce((s, label) => s + r(label) / 4, 0) * 50 * 40;
    expect(nine.volumeAtLeast.in("mm3")).toBeCloseTo(sum / 1000, 6);
  });

  it("name the chance that one of all places stands so far off, by t and Šidák", () => {
    const corner = highs.areas[1]!;
    const each = 2 * tCdf(-Math.abs(off("J9")) / spread("J9"), nu);
    // so small that it is ninety times that of one
    expect(corner.chance / (90 * each)).toBeCloseTo(1, 6);
    expect(lows.areas[0]!.chance).toBeLessThan(1e-6);
    expect(lows.areas[0]!.chance).toBeGreaterThan(0);
    const slight = { ...map, places: places.map((p) => (p.label === "I3" ? { ...p, zUm: p.zUm + 1.5 } : p)) };
    const found = localHighs(slight);
    const little = found.areas.find((a) => a.top.label === "I3")!;
    const one = 2 * tCdf(-little.height.value.si / little.height.terms[0]!.input.uncertaintySi, nu);
    expect(little.chance).toBeCloseTo(1 - (1 - one) ** 90, 9);
    expect(little.chance).toBeGreaterThan(1e-4);
  });

  it("are told with size, place and the rule they were found by", () => {
    const rule = (side: string) =>
      `a place counts from ${highs.limit.in("um").toFixed(1)} µm ${side} the robust surface (${highs.factor.toFixed(2)} × ${fit.scale.toFixed(2)} µm; a false alarm anywhere among 90 places in 5 of 100 maps)`;
    const [block, corner] = highs.areas;
    expect(`${highs}`).toBe(
      `2 local highs, relative to gravity: left front at B2, C2, B3: ${block!.height.text()} high; right back at J9: ${corner!.height.text()} high; ${rule("above")}`,
    );
    expect(`${lows}`).toBe(
      `1 local low, relative to gravity: middle at E5: ${lows.areas[0]!.height.times(-1).text()} low; ${rule("below")}`,
    );
    const none = localLows(mapOf(over((_, __, i) => errors[i]!)));
    expect(`${none}`).toMatch(
      /^no local low, relative to gravity: a place counts from .+ of 100 maps\); smaller than the pitch goes unseen$/,
    );
  });

  it("of scattered places hold no volume, as nobody says which ones are neighbours", () => {
    const scattered = places.map((p, i) => ({ ...p, xMm: p.xMm + 0.01 * (i % 13), yMm: p.yMm + 0.01 * (i % 7) }));
    const [first] = localHighs({ ...map, places: scattered }).areas;
    expect(first!.volumeAtLeast.si).toBe(0);
  });

  it("are judged by the noise where the map is no more uneven than that", () => {
    const quiet = mapOf(
      over((_, __, i) => 0.1 * errors[i]! + (grid[i]!.label === "E5" ? 30 : 0)),
      { standardUncertaintyUm: 1, degreesOfFreedom: 25 },
    );
    const { areas, spread: by, factor } = localHighs(quiet);
    expect([by.in("um").toFixed(9), factor]).toEqual(["1.000000000", simultaneousFactor(90, 25)]);
    expect(areas[0]!.height.terms[0]!.input.source).toBe("noise of the readings");
    expect(areas[0]!.height.terms[0]!.input.degreesOfFreedom).toBe(25);
  });
});

describe("the reading of a form", () => {
  const errors = noisy(1, 21);
  const map = (height: (x: number, y: number) => number, more: { readonly [label: string]: number } = {}) =>
    mapOf(
      over((x, y, i) => height(x, y) + errors[i]! + (more[grid[i]!.label] ?? 0)),
      { standardUncertaintyUm: 1, degreesOfFreedom: 90 },
    );
  const size = String.raw`\d+\.\d+ µm ± \d+\.\d+ µm`;
  const said = (...args: Parameters<typeof map>) => reading(map(...args)).sentence;
  const noise = "what is left is the noise of the readings$";

  it("says round or hollow along either axis, and nothing where there is nothing", () => {
    expect(said(() => 0)).toBe("no bow, twist or patch beyond chance; what is left is the noise of the readings");
    expect(said((x) => -20 * u(x) ** 2)).toMatch(new RegExp(`^round by ${size} along x; ${noise}`));
    expect(said((_, y) => 20 * v(y) ** 2)).toMatch(new RegExp(`^hollow by ${size} along y; ${noise}`));
    expect(said((x, y) => 20 * u(x) ** 2 - 20 * v(y) ** 2)).toMatch(
      new RegExp(`^hollow by ${size} along x, and round by ${size} along y; ${noise}`),
    );
    expect(said((x, y) => 20 * u(x) ** 2 - 20 * v(y) ** 2 + 9 * u(x) * v(y))).toMatch(
      new RegExp(
        `^hollow by ${size} along x, round by ${size} along y, and twisted by ${size} \\(left front and right back high\\); ${noise}`,
      ),
    );
    expect(said((x, y) => -9 * u(x) * v(y))).toMatch(
      new RegExp(`^twisted by ${size} \\(right front and left back high\\); ${noise}`),
    );
  });

  it("names waves by their order, and patches by side and place", () => {
    expect(said((x) => 12 * ((5 * u(x) ** 3 - 3 * u(x)) / 2))).toMatch(
      new RegExp(`^waves of third or fourth order \\(x³\\); ${noise}`),
    );
    expect(said(() => 0, { E5: 40, A1: -40 })).toMatch(
      new RegExp(`^a raised patch of ${size} in the middle, and a sunk patch of ${size} at the left front; ${noise}`),
    );
  });

  it("says what it is relative to, and at how many places", () => {
    expect(`${reading(map(() => 0))}`).toMatch(/ \(relative to gravity, tilt taken out, at the 90 places probed\)$/);
  });

  it("says how uneven the rest is where it is more than the readings explain", () => {
    const rough = noisy(6, 8);
    const found = reading(
      mapOf(
        over((_, __, i) => rough[i]!),
        { standardUncertaintyUm: 1, degreesOfFreedom: 90 },
      ),
    );
    const { standardDeviationUm } = found.makeUp.restOfAll;
    // terms of it are larger than the noise, but not than the unevenness
    expect(found.makeUp.terms.some(({ beyondGauge }) => beyondGauge.p < 0.01)).toBe(true);
    expect(found.parts).toHaveLength(1);
    expect(found.parts.at(-1)).toBe(
      `what is left, ${standardDeviationUm.toPrecision(2)} µm (standard deviation of a place), is more than the 1.0 µm of the readings explain: the surface is uneven from place to place`,
    );
  });

  it("leaves the places of patches out of the terms, with their part of the drift, as long as enough others are left", () => {
    const modesUm = [grid.map((_, i) => i)];
    const drift = { model: "settling", statement: "drift", modesUm } as const;
    const patched = { ...map((x) => -20 * u(x) ** 2, { C3: 60, H7: -60 }), drift };
    const { makeUp: terms, highs, lows } = reading(patched);
    expect([...highs.areas, ...lows.areas].map((a) => a.top.label)).toEqual(["C3", "H7"]);
    const kept = patched.places.flatMap((p, i) => (["C3", "H7"].includes(p.label) ? [] : [i]));
    expect(terms.surface.places.map((p) => p.label)).toEqual(kept.map((i) => grid[i]!.label));
    expect(terms.surface.drift!.modesUm).toEqual([kept]);
    expect(terms.surface.drift!.statement).toBe("drift");
    const clean = map(() => 0);
    expect(reading(clean).makeUp.surface).toBe(clean);
  });
});

describe("a plane through the places", () => {
  const errors = noisy(1, 30);
  const clean = mapOf(
    over((x, y, i) => 5 + 0.02 * x - 0.01 * y + errors[i]!),
    { standardUncertaintyUm: 1, degreesOfFreedom: 90 },
  );
  const hurt = {
    ...clean,
    places: clean.places.map((p) => (/^[HIJ][89]$/.test(p.label) ? { ...p, zUm: p.zUm - 50 } : p)),
  };

  it("is told with its way of fitting, tilts, width, and what was set apart", () => {
    const named = (by: Parameters<typeof plane>[1], map = clean) => {
      const found = plane(map, by);
      const rest = `relative to gravity: tilt along x ${found.tiltX}, along y ${found.tiltY}; highest less lowest place ${found.width.in("um").toFixed(1)} µm`;
      return { text: `${found}`, rest, reference: found.reference };
    };
    for (const [by, words, tail] of [
      ["least squares", "plane of least squares, distances along z", ""],
      ["orthogonal", "plane of least squares, distances square to it", "; its width bears no FLT name"],
      ["huber", "robust plane (Huber)", "; its width bears no FLT name"],
    ] as const) {
      const { text, rest, reference } = named({ by });
      expect(text).toBe(`${words}, ${rest}${tail}`);
      expect(reference).toBe(`above the ${words}`);
    }
    for (const [by, words] of [
      ["bisquare", "robust plane (bisquare)"],
      ["trimmed", "robust plane (least trimmed squares)"],
    ] as const) {
      const { text, rest } = named({ by }, hurt);
      expect(text).toBe(`${words}, ${rest}; its width bears no FLT name; set apart: H8, I8, J8, H9, I9, J9`);
    }
    expect(`${plane(clean)}`).toBe(named({ by: "least squares" }).text);
  });

  it("gives distances along z, or square to the plane where it is steep", () => {
    const steep = mapOf(over((x, _, i) => 60 * x + (i === 44 ? 100 : 0)));
    const along = plane(steep);
    const square = plane(steep, { by: "orthogonal" });
    const [slope] = [square.plane.slopeX / 1000];
    expect(along.residualsUm[44]! / square.residualsUm[44]!).toBeCloseTo(Math.hypot(1, slope), 3);
    expect(square.plane.slopeX).toBeCloseTo(60, 0);
    const both = plane(mapOf(over((x, y) => 40 * x + 30 * y + (x === 200 ? 9 : 0))), { by: "orthogonal" });
    const { slopeX, slopeY, offset } = both.plane;
    const across = Math.hypot(1, slopeX / 1000, slopeY / 1000);
    const p = grid[13]!;
    expect(both.residualsUm[13]).toBeCloseTo(
      (40 * p.xMm + 30 * p.yMm - slopeX * p.xMm - slopeY * p.yMm - offset) / across,
      6,
    );
  });

  it("robust counts all places alike where none stands off by more than the noise", () => {
    const quiet = mapOf(
      over((x, _, i) => 0.02 * x + 0.1 * errors[i]!),
      { standardUncertaintyUm: 1, degreesOfFreedom: 90 },
    );
    const slope = plane(quiet).plane.slopeX;
    expect(plane(quiet, { by: "huber" }).weights.every((w) => w === 1)).toBe(true);
    expect(plane(quiet, { by: "huber" }).plane.slopeX).toBeCloseTo(slope, 12);
    expect(Math.min(...plane(quiet, { by: "bisquare" }).weights)).toBeGreaterThan(0.97);
  });

  it("trimmed keeps what stands within three robust scales, and all of it counts alike", () => {
    const found = plane(hurt, { by: "trimmed" });
    expect(new Set(found.weights)).toEqual(new Set([0, 1]));
    const kept = grid.flatMap((p, i) => (found.weights[i] === 1 ? [{ ...p, zUm: hurt.places[i]!.zUm }] : []));
    const { coefficients } = leastSquares(
      [kept.map(() => 1), kept.map((p) => p.xMm), kept.map((p) => p.yMm)],
      kept.map((p) => p.zUm),
    );
    expect(found.plane.slopeX).toBeCloseTo(coefficients[1]!, 9);
    expect(found.plane.offset).toBeCloseTo(coefficients[0]!, 9);
    // a place three noises off is none of the damage: the scale is never below the noise
    const still = mapOf(
      over((_, __, i) => (i === 44 ? 2.9 : i === 45 ? 3.2 : 0)),
      { standardUncertaintyUm: 1, degreesOfFreedom: 90 },
    );
    expect(plane(still, { by: "trimmed" }).setApart.map((p) => p.label)).toEqual([grid[45]!.label]);
    expect(plane(hurt, { by: "trimmed", share: 1 }).setApart.length).toBeGreaterThanOrEqual(0);
    for (const share of [0.5, 1.01, Number.NaN])
      expect(refusal(() => plane(clean, { by: "trimmed", share })).code).toBe("share");
  });
});
