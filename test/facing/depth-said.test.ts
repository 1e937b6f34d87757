import { describe, expect, it } from "vitest";
import { cellAreasMm2, nearestPlaces } from "../../kernel-lib/src/facing/cell-area.js";
import { depth } from "../../kernel-lib/src/facing/depth.js";
import { meanOf, quantileOf, standardDeviationOf } from "../../kernel-lib/src/facing/draws.js";
import { mapWeights } from "../../kernel-lib/src/facing/map-weights.js";
import { trueSurfaces } from "../../kernel-lib/src/facing/true-surfaces.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/surface.js";
import { refusal } from "../refusal.js";
import { aMap } from "./a-map.js";

/** known without error: every draw is the readings themselves */
const wedge = aMap((x) => (x - 20) / 10);
const plan = depth(wedge, { thickness: mm(20), draws: 100 });

/** a map of places given as [x, y, z] */
const mapOf = (places: readonly (readonly [number, number, number])[], more: Partial<Surface> = {}): Surface => ({
  ...aMap(() => 0),
  places: places.map(([xMm, yMm, zUm], i) => ({ label: `P${i + 1}`, xMm, yMm, zUm, count: 2 })),
  ...more,
});

describe("a depth, known without error", () => {
  it("is told in a sentence, with its notes", () => {
    expect(String(plan)).toBe(
      "cleans up all of it 48 µm below first contact (95 % interval 48 µm to 48 µm); 48 µm does so with a chance of 95 %; first contact at A13",
    );
    expect(plan.notes).toEqual([
      "depths are below first contact with the highest place, not below the touch-off",
      "rough first and leave 0.2 mm to 0.3 mm; a finishing cut of at least 0.1 mm, even all over, keeps deflection from copying the old form (common practice, no source)",
      "at the places probed: a low spot finer than the pitch is not in it",
      "the 95 % interval is made for 95 in 100; of 1,000 invented machines, their gauges wrong by up to the limit, it held the planted depth in 941",
    ]);
    expect(plan.firstContact).toMatchObject({ chance: 1, place: { label: "A13" } });
    expect(plan.firstContact.expandedUncertainty.si).toBe(0);
  });

  it("cleans the columns that lie within it, takes their cut and leaves the rest", () => {
    // columns every 40 mm at 0, 4, … 48 µm; each stands for 40 mm × 200 mm, the outer two for half of that
    const at = plan.at(um(10));
    // the columns at 48, 44 and 40 µm are cut by 10, 6 and 2 µm
    expect(at.areaCleaned.share).toBeCloseTo(2.5 / 12, 9);
    expect([at.areaCleaned.low, at.areaCleaned.high].map((v) => v.toFixed(9))).toEqual([
      (2.5 / 12).toFixed(9),
      (2.5 / 12).toFixed(9),
    ]);
    expect(at.volume.in("mm3")).toBeCloseTo(40 * 200 * (0.5 * 0.01 + 0.006 + 0.002), 6);
    expect(at.depth.in("um")).toBe(10);
    expect(at.thicknessLeft!.in("mm")).toBeCloseTo(19.99, 9);
    expect(depth(wedge, { draws: 100 }).at(um(10))).not.toHaveProperty("thicknessLeft");
    // a place that the cutter just touches is not cut
    expect(plan.at(um(8)).areaCleaned.share).toBeCloseTo(1.5 / 12, 9);
    expect([plan.at(um(48)).chanceOfCleanUp, plan.at(um(48.001)).chanceOfCleanUp]).toEqual([0, 1]);
  });

  it("is tabled in nine rows up to an eighth past what is sure", () => {
    expect(plan.rows.map((row) => Number(row.depth.in("um").toFixed(6)))).toEqual([6, 12, 18, 24, 30, 36, 42, 48, 54]);
  });

  it("gives the cut at each place, none where the cutter passes above, and the height over the cut", () => {
    const cuts = plan.cutOverArea(um(10));
    expect(cuts).toHaveLength(78);
    const of = (label: string) => cuts.findIndex(({ place }) => place.label === label);
    expect(["A13", "B12", "F11", "A10", "A1"].map((label) => Number(cuts[of(label)]!.cut.in("um").toFixed(9)))).toEqual(
      [10, 6, 2, 0, 0],
    );
    const over = plan.heightsOverCut(um(10));
    expect(["A13", "B12", "F11", "A10", "A1"].map((label) => Number(over[of(label)]!.in("um").toFixed(9)))).toEqual([
      10, 6, 2, -2, -38,
    ]);
    expect(plan.cutAt(mm(260), mm(100), um(10)).terms).toEqual([]);
  });

  it("meets every chance between none and all with a depth", () => {
    expect(plan.depthFor(0.5).in("um")).toBeCloseTo(48, 9);
    for (const chance of [0, 1, -0.1, Number.NaN]) expect(refusal(() => plan.depthFor(chance)).code).toBe("chance");
  });

  it("needs a hundred draws", () => {
    expect(refusal(() => depth(wedge, { draws: 99 }))).toEqual({
      code: "draws",
      message: "facing.depth: 99 draws are too few for a 95 % interval; give 100 or more",
    });
  });
});

describe("a depth in doubt", () => {
  const noisy = aMap((x) => (x - 20) / 10, { noiseUm: 2 });
  const plan = depth(noisy, { draws: 400, seed: 3 });

  it("has quantiles of its draws in order, and a chance that goes with them", () => {
    const { low, depth: middle, sure, high } = plan.cleansAll;
    expect(low.si).toBeLessThan(middle.si);
    expect(middle.si).toBeLessThan(sure.si);
    expect(sure.si).toBeLessThan(high.si);
    for (const chance of [0.025, 0.5, 0.95, 0.975]) {
      expect(plan.at(plan.depthFor(chance)).chanceOfCleanUp).toBeCloseTo(chance, 2);
    }
    expect(plan.depthFor(0.95).si).toBe(sure.si);
    const { areaCleaned } = plan.at(um(24));
    expect(areaCleaned.low).toBeLessThan(areaCleaned.share);
    expect(areaCleaned.high).toBeGreaterThan(areaCleaned.share);
  });

  it("meets first one of the highest places, by the share of the draws, at its height", () => {
    const { chance, place, height, expandedUncertainty } = plan.firstContact;
    expect(place.xMm).toBe(500);
    expect(chance).toBeGreaterThan(1 / 6);
    expect(chance).toBeLessThan(0.9);
    expect(height.in("um")).toBeGreaterThan(47);
    expect(height.in("um")).toBeLessThan(53);
    expect(expandedUncertainty.in("um")).toBeGreaterThan(0.5);
    expect(expandedUncertainty.in("um")).toBeLessThan(5);
  });

  it("names the map as what the cut at a screw is in doubt by", () => {
    const [term] = plan.cutAt(mm(260), mm(100), um(100)).terms;
    expect(term!.input).toMatchObject({ label: "map at x 260 mm, y 100 mm", source: "a map, noise, drift and gauge" });
    expect(Math.abs(term!.sensitivity)).toBe(1);
  });
});

describe("draws", () => {
  it("have quantiles between their values, a mean and a standard deviation", () => {
    expect([0, 0.1, 0.5, 0.75, 1].map((p) => quantileOf([1, 2, 4, 8, 16], p))).toEqual([1, 1.4, 4, 8, 16]);
    expect(meanOf([1, 2, 6])).toBe(3);
    // 2, 4, 4, 4, 5, 5, 7, 9: mean 5, squares about it 32
    expect(standardDeviationOf([2, 4, 4, 4, 5, 5, 7, 9])).toBeCloseTo(Math.sqrt(32 / 7), 12);
  });
});

describe("the area that a place stands for", () => {
  it("is what lies nearest to it: all of the rectangle together", () => {
    // corners of 60 mm × 40 mm, and one place in the middle: a quarter of half the rectangle each, and half of it
    const got = cellAreasMm2(
      mapOf([
        [10, 5, 0],
        [70, 5, 0],
        [10, 45, 0],
        [70, 45, 0],
        [40, 25, 0],
      ]),
    );
    expect(got.reduce((a, b) => a + b, 0)).toBeCloseTo(2400, 6);
    // the border to a corner cuts its quarter of the rectangle, 30 mm × 20 mm, in two halves
    for (const area of got.slice(0, 4)) expect(Math.abs(area - 300)).toBeLessThan(6);
  });

  it("is found along both sides of a row", () => {
    const got = cellAreasMm2(
      mapOf([
        [0, 0, 0],
        [30, 0, 0],
        [90, 0, 0],
        [0, 20, 0],
        [30, 20, 0],
        [90, 20, 0],
      ]),
    );
    expect(got.map((area) => Number(area.toFixed(3)))).toEqual([150, 450, 300, 150, 450, 300]);
  });
});

describe("the nearest places", () => {
  const map = mapOf([
    [0, 0, 0],
    [10, 0, 0],
    [0, 20, 0],
    [30, 0, 0],
    [0, 70, 0],
  ]);

  it("are four, by the square of their distance", () => {
    // squares of the distances from x 4, y 2: 20, 40, 340, 680
    const weights = [1 / 20, 1 / 40, 1 / 340, 1 / 680];
    const total = weights.reduce((a, b) => a + b, 0);
    const got = nearestPlaces(map, 4, 2);
    expect(got.map(({ index }) => index)).toEqual([0, 1, 2, 3]);
    for (const [i, { weight }] of got.entries()) expect(weight).toBeCloseTo(weights[i]! / total, 12);
  });

  it("is one alone where it is hit", () => {
    expect(nearestPlaces(map, 0, 70)).toEqual([{ index: 4, weight: 1 }]);
  });
});

describe("weights between the places", () => {
  const at = (map: Surface, x: number, y: number) =>
    mapWeights(map)(x, y).reduce((sum, { index, weight }) => sum + weight * map.places[index]!.zUm, 0);

  it("are bilinear on a grid whose steps differ, up to its last lines and beyond", () => {
    const form = (x: number, y: number) => 2 * x - 3 * y + (x * y) / 5;
    const map = mapOf([0, 10, 40].flatMap((x) => [0, 5].map((y) => [x, y, form(x, y)] as const)));
    for (const [x, y] of [
      [0, 0],
      [5, 1],
      [10, 5],
      [33, 4],
      [40, 5],
    ] as const) {
      expect(at(map, x, y)).toBeCloseTo(form(x, y), 9);
    }
    expect(at(map, -9, -9)).toBeCloseTo(form(0, 0), 9);
    expect(at(map, 99, 2)).toBeCloseTo(form(40, 2), 9);
    expect(at(map, 20, 99)).toBeCloseTo(form(20, 5), 9);
  });

  it("go by distance where the places make no grid", () => {
    // a row alone, and places on a slant: fewer than half of the crossings are there
    const row = mapOf([
      [0, 0, 1],
      [10, 0, 2],
      [20, 0, 3],
      [30, 0, 4],
      [40, 0, 5],
    ]);
    const slant = mapOf([
      [0, 0, 1],
      [10, 10, 2],
      [20, 20, 3],
      [30, 30, 4],
      [40, 40, 5],
    ]);
    for (const map of [row, slant]) {
      expect(mapWeights(map)(12, 3)).toEqual(nearestPlaces(map, 12, 3));
    }
    // half of the crossings: a grid with blanks, bilinear where the four corners are there
    const half = mapOf([
      [0, 0, 0],
      [10, 0, 10],
      [0, 10, 20],
      [10, 10, 30],
      [30, 30, 99],
      [20, 20, 50],
      [20, 0, 20],
      [30, 10, 70],
    ]);
    expect(at(half, 5, 5)).toBeCloseTo(15, 9);
    expect(mapWeights(half)(25, 25)).toEqual(nearestPlaces(half, 25, 25));
  });
});

describe("true surfaces that fit the readings", () => {
  const form = (x: number, y: number) => 20 * ((x - 260) / 240) ** 2 - 6 * ((y - 120) / 100) ** 2 + x / 50;
  const dinged = (more: Parameters<typeof aMap>[1]) => {
    const map = aMap((x, y) => form(x, y), more);
    return { ...map, places: map.places.map((p) => (p.label === "C5" ? { ...p, zUm: p.zUm - 25 } : p)) };
  };

  it("are the readings where they are known without error, and their smooth form leaves a ding out", () => {
    const { likelyUm, smoothUm, standsOut, draw } = trueSurfaces("here", dinged({ noiseUm: 1e-4 }), 1);
    const map = dinged({});
    const ding = map.places.findIndex(({ label }) => label === "C5");
    expect(standsOut).toEqual([ding]);
    for (const [i, { xMm, yMm, zUm }] of map.places.entries()) {
      expect(likelyUm[i]!).toBeCloseTo(zUm, 3);
      expect(smoothUm[i]!).toBeCloseTo(form(xMm, yMm), 3);
    }
    const drawn = draw(3);
    expect(Math.max(...drawn.heightUm.map((z, i) => Math.abs(z - map.places[i]!.zUm)))).toBeLessThan(1e-3);
    expect(drawn.likely.smoothUm).toEqual(smoothUm);
  });

  it("scatter about the smooth form by no more than the readings, and about a ding by the noise", () => {
    const map = dinged({ noiseUm: 1 });
    const doubt = trueSurfaces("here", map, 5);
    const ding = map.places.findIndex(({ label }) => label === "C5");
    const drawn = Array.from({ length: 400 }, (_, k) => doubt.draw(k));
    const spread = (i: number, of: "heightUm" | "seenUm") => standardDeviationOf(drawn.map((d) => d[of][i]!));
    // t law of 75 degrees of freedom: √(75 / 73); twice the doubt of a standard deviation of 400 draws is 7 %
    expect(spread(ding, "seenUm")).toBeCloseTo(Math.sqrt(75 / 73), 0);
    expect(Math.abs(spread(ding, "seenUm") / Math.sqrt(75 / 73) - 1)).toBeLessThan(0.1);
    const middle = map.places.findIndex(({ label }) => label === "D7");
    // ten terms for 78 places: about √(10 / 78) of the noise
    expect(spread(middle, "seenUm")).toBeLessThan(0.45);
    expect(spread(middle, "seenUm")).toBeGreaterThan(0.1);
    expect(meanOf(drawn.map((d) => d.seenUm[middle]!))).toBeCloseTo(form(260, 140), 0);
    // no gauge error was given
    expect(drawn[7]!.heightUm).toEqual(drawn[7]!.seenUm);
    expect(doubt.draw(7)).toEqual(drawn[7]);
  });

  it("carry an error of the gauge up to its limit, the same for the same reading", () => {
    const map = aMap((x) => (x - 20) / 10, { gaugeUm: 3 });
    const doubt = trueSurfaces("here", map, 5);
    const errors = Array.from({ length: 300 }, (_, k) => {
      const { heightUm, seenUm } = doubt.draw(k);
      return heightUm.map((z, i) => z - seenUm[i]!);
    });
    const all = errors.flat().map(Math.abs);
    expect(Math.max(...all)).toBeLessThanOrEqual(3);
    expect(Math.max(...all)).toBeGreaterThan(2.7);
    for (const error of errors.slice(0, 20)) {
      // places of one column have one reading
      expect(error[0]!).toBeCloseTo(error[13]!, 9);
    }
    // the error bends with the reading: from end to end it changes in most draws
    expect(errors.filter((error) => Math.abs(error[0]! - error[12]!) > 0.1).length).toBeGreaterThan(200);
    // waves of a sixth of the range to four times as long: neighbours 4 µm of 48 apart differ little in long ones
    const turns = errors.map((error) => {
      const row = error.slice(0, 13);
      return row.slice(2).filter((e, i) => (e - row[i + 1]!) * (row[i + 1]! - row[i]!) < 0).length;
    });
    expect(Math.max(...turns)).toBeGreaterThanOrEqual(8);
    // one that is longer than two ranges may rise or fall all along: 6 in 100 by their law, some more as 13 places see it
    const steady = turns.filter((n) => n === 0).length;
    expect(steady).toBeGreaterThan(9);
    expect(steady).toBeLessThan(45);
  });

  it("carry the drift that the places share", () => {
    const modesUm = [Array.from({ length: 78 }, (_, i) => (i < 39 ? 2 : -1))];
    const drift = { model: "straight line" as const, statement: "drift", modesUm };
    const doubt = trueSurfaces("here", { ...aMap(() => 0), drift }, 9);
    const shifts = Array.from({ length: 400 }, (_, k) => doubt.draw(k).seenUm);
    for (const shift of shifts.slice(0, 10)) expect(shift[0]! / shift[77]!).toBeCloseTo(-2, 6);
    expect(Math.abs(standardDeviationOf(shifts.map((s) => s[0]!)) - 2)).toBeLessThan(0.2);
    expect(doubt.draw(4).smoothUm[0]!).toBeCloseTo(shifts[4]![0]!, 6);
    expect(doubt.draw(4).likely.heightUm[0]!).toBeCloseTo(0, 6);
  });

  it("ask for more than two degrees of freedom", () => {
    const known = (degreesOfFreedom: number, u = 1) => ({
      ...wedge,
      noise: { standardUncertaintyUm: u, degreesOfFreedom },
    });
    for (const [nu, u] of [
      [2, 1],
      [Number.NaN, 1],
      [75, Number.NaN],
      [75, -1],
    ] as const) {
      expect(refusal(() => trueSurfaces("here", known(nu, u), 1)).code).toBe("few-repeats");
    }
    expect(trueSurfaces("here", known(2.5), 1).standsOut).toEqual([]);
    expect(trueSurfaces("here", known(Number.POSITIVE_INFINITY), 1).standsOut).toEqual([]);
  });

  it("take the third degree at least from 30 places on, the second from 18, a plane below, down to four places", () => {
    // of a level map the draws scatter by the doubt of the terms alone: their mean square is terms / places
    const level = (columns: number, rows: number) => {
      const places = Array.from(
        { length: columns * rows },
        (_, i) => [10 * (i % columns), 10 * Math.floor(i / columns), 0] as const,
      );
      const doubt = trueSurfaces(
        "here",
        mapOf(places, { noise: { standardUncertaintyUm: 1, degreesOfFreedom: Number.POSITIVE_INFINITY } }),
        2,
      );
      const all = Array.from({ length: 300 }, (_, k) => doubt.draw(k).seenUm).flat();
      return meanOf(all.map((v) => v ** 2)) * places.length;
    };
    for (const [columns, rows, terms] of [
      [6, 5, 10],
      [9, 6, 10],
      [7, 4, 6],
      [6, 3, 6],
      [4, 4, 3],
      [2, 2, 3],
    ] as const) {
      expect(Math.abs(level(columns, rows) / terms - 1)).toBeLessThan(0.15);
    }
  });

  it("go up to the sixth degree where the places bear it", () => {
    const places = Array.from({ length: 81 }, (_, i) => {
      const [x, y] = [10 * (i % 9), 10 * Math.floor(i / 9)];
      return [x, y, 40 * ((x - 40) / 40) ** 6] as const;
    });
    const { smoothUm } = trueSurfaces(
      "here",
      mapOf(places, { noise: { standardUncertaintyUm: 0.01, degreesOfFreedom: 75 } }),
      2,
    );
    for (const [i, [, , z]] of places.entries()) expect(smoothUm[i]!).toBeCloseTo(z, 6);
  });

  it("take as high a degree as the map explains: a form of the fifth is followed, noise is not", () => {
    const wavy = aMap((x) => 60 * Math.sin((x - 20) / 90), { noiseUm: 0.3 });
    const { smoothUm } = trueSurfaces("here", wavy, 1);
    const worst = Math.max(...smoothUm.map((s, i) => Math.abs(s - wavy.places[i]!.zUm)));
    expect(worst).toBeLessThan(8);
    const third = aMap((x) => ((x - 260) / 120) ** 3, { noiseUm: 0.01 });
    expect(
      Math.max(...trueSurfaces("here", third, 1).smoothUm.map((s, i) => Math.abs(s - third.places[i]!.zUm))),
    ).toBeLessThan(1e-6);
  });
});
