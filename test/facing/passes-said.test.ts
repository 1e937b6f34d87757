import { describe, expect, it } from "vitest";
import * as facing from "../../kernel-lib/src/facing/index.js";
import { kienzle, meanChip } from "../../kernel-lib/src/facing/kienzle.js";
import { millingPower, type PassInput, pass } from "../../kernel-lib/src/facing/pass.js";
import { area, outline, reach } from "../../kernel-lib/src/facing/reach.js";
import { ridges } from "../../kernel-lib/src/facing/ridges.js";
import { MPa, mm, mmPerMin, perMin, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aMap } from "./a-map.js";

const plan: PassInput = {
  lengthAlongFeed: mm(460),
  widthAcrossFeed: mm(200),
  cutterDiameter: mm(50),
  stepOver: mm(30),
  spindleSpeed: perMin(600),
  teeth: 2,
  feedPerTooth: mm(0.1),
  runOut: mm(3),
  returnFeed: mmPerMin(600),
};

describe("a round of passes", () => {
  it("is told row by row", () => {
    // across 200 + 6 − 50 = 156 mm in 6 steps of 26 mm; along 460 + 50 + 6 = 516 mm; 600 × 2 × 0.1 = 120 mm/min;
    // π 50 × 600 = 94 m/min; 7 × 516 / 120 + (6 × 516 + 156) / 600 = 35.5 min
    const got = pass(plan);
    expect(got.rows).toEqual([
      ["passes, one-way", "7"],
      ["step-over", "26.0 mm"],
      ["feed", "120 mm/min"],
      ["cutting speed", "94 m/min"],
      ["travel along the feed", "516 mm"],
      ["travel across the feed", "156 mm"],
      ["time in the cut and back", "36 min"],
    ]);
    expect(String(got)).toBe(
      "passes, one-way 7, step-over 26.0 mm, feed 120 mm/min, cutting speed 94 m/min, travel along the feed 516 mm, travel across the feed 156 mm, time in the cut and back 36 min",
    );
    expect(got.cuttingSpeed.in("m/min")).toBeCloseTo((Math.PI * 50 * 600) / 1000, 9);
    expect(got.time.in("min")).toBeCloseTo((7 * 516) / 120 + (6 * 516 + 156) / 600, 9);
  });

  it("takes a step more only where the width asks for it", () => {
    const across = (width: number) => pass({ ...plan, widthAcrossFeed: mm(width) });
    // 44 + 6 − 50 = 0: one pass; 74 + 6 − 50 = 30: two, a step of just 30 mm apart
    expect([across(44).count, across(44).stepOver.in("mm")]).toEqual([1, 30]);
    expect(across(74).count).toBe(2);
    expect(across(74).stepOver.in("mm")).toBeCloseTo(30, 9);
    expect(across(74.1).count).toBe(3);
    expect(across(74.1).stepOver.in("mm")).toBeCloseTo(15.05, 9);
    expect(pass({ ...plan, runOut: mm(0) }).travelAlongFeed.in("mm")).toBeCloseTo(510, 9);
  });

  it.each(Object.keys(plan).filter((name) => name !== "runOut" && name !== "teeth"))(
    "has to have its %s above zero",
    (name) => {
      const none = plan[name as "stepOver"].times(0);
      expect(refusal(() => pass({ ...plan, [name]: none }))).toEqual({
        code: "not-positive",
        message: `pass: ${name} is ${none.kind === "length" ? "0 mm" : none}; give a value above zero`,
      });
    },
  );

  it("has to have a run-out of nothing at the least, and teeth", () => {
    expect(refusal(() => pass({ ...plan, runOut: mm(-1) })).message).toBe(
      "pass: runOut is −1 mm; give a value above zero",
    );
    expect(refusal(() => pass({ ...plan, teeth: 0 })).message).toBe("pass: teeth is 0; give a value above zero");
  });

  it("takes an efficiency of one, and no more and nothing", () => {
    const power = (efficiency: number) =>
      millingPower({ depth: mm(1), width: mm(60), feed: mmPerMin(1000), specificForce: MPa(1000), efficiency });
    // 1 mm × 60 mm × 1 m/min × 1000 N/mm² = 60,000 N·m a minute
    expect(power(1).in("kW")).toBeCloseTo(1, 9);
    expect(power(0.5).in("kW")).toBeCloseTo(2, 9);
    for (const wrong of [0, 1.01, Number.NaN]) expect(refusal(() => power(wrong)).code).toBe("efficiency");
  });
});

describe("Kienzle's law", () => {
  it("is given back from two rows on it, and held below 0.05 mm", () => {
    const law = kienzle([
      { chip: mm(0.1), force: MPa(1000) },
      { chip: mm(1), force: MPa(500) },
    ]);
    expect(law.kc11.in("MPa")).toBeCloseTo(500, 9);
    expect(law.mc).toBeCloseTo(Math.log10(2), 12);
    expect(law.at(mm(0.05)).in("MPa")).toBeCloseTo(500 * 0.05 ** -Math.log10(2), 6);
    expect(law.at(mm(0.06)).in("MPa")).toBeCloseTo(500 * 0.06 ** -Math.log10(2), 6);
    expect(law.at(mm(0.04)).si).toBe(law.at(mm(0.05)).si);
  });

  it.each([
    [
      [0.1, 500],
      [0.1, 600],
    ],
    [
      [0, 500],
      [0.1, 600],
    ],
    [
      [0.1, 0],
      [0.2, 600],
    ],
  ])("refuses %j", (...rows) => {
    const table = rows.map(([chip, force]) => ({ chip: mm(chip!), force: MPa(force!) }));
    expect(refusal(() => kienzle(table)).message).toBe(
      "kienzle: 2 rows give no law; give two or more different chip thicknesses with their forces, all above zero",
    );
  });

  it("takes a width up to the cutter's diameter", () => {
    const chip = (width: number) =>
      meanChip({ feedPerTooth: mm(0.1), engagedWidth: mm(width), cutterDiameter: mm(50) }).in("mm");
    // half a turn: the mean of a sine is 2 / π
    expect(chip(50)).toBeCloseTo((0.1 * 2) / Math.PI, 12);
    for (const wrong of [0, 50.1]) {
      expect(refusal(() => chip(wrong))).toEqual({
        code: "engagement",
        message: `meanChip: a width of ${wrong} mm is no part of a cutter of 50 mm; give a width above zero and up to the diameter`,
      });
    }
  });
});

describe("the reach", () => {
  // places x 20 to 500, y 20 to 220 mm; travel x 0 to 520, y 5 to 235 mm; the rim 25 mm further
  const map = aMap(() => 0);
  const travel = area(mm(0), mm(520), mm(5), mm(235));
  const usual = { travel, cutterRadius: mm(25), runOut: mm(3), feedAlong: "x" as const };
  const over = (xFrom: number, xTo: number, yFrom: number, yTo: number, feedAlong: "x" | "y" = "x") =>
    reach(map, { ...usual, feedAlong, area: area(mm(xFrom), mm(xTo), mm(yFrom), mm(yTo)) });
  const told = (got: ReturnType<typeof over>) => [got.areaIsProbed, got.areaIsCovered, got.passesRunClear];

  it("holds at each of its borders, and not beyond", () => {
    expect(told(over(28, 492, 27, 213))).toEqual([true, true, true]);
    // along x the centre goes a radius and the run-out further, 28 mm, and stays 22 mm inside across
    for (const [a, b, c, d] of [
      [27.9, 492, 27, 213],
      [28, 492.1, 27, 213],
    ] as const) {
      expect(told(over(a, b, c, d))).toEqual([true, true, false]);
    }
    expect(told(over(28, 492, 20, 220))).toEqual([true, true, true]);
    for (const [a, b, c, d] of [
      [19.9, 492, 27, 213],
      [28, 500.1, 27, 213],
      [28, 492, 19.9, 213],
      [28, 492, 27, 220.1],
    ] as const) {
      expect(over(a, b, c, d).areaIsProbed).toBe(false);
    }
    expect(over(-25, 545, -20, 260).areaIsCovered).toBe(true);
    for (const [a, b, c, d] of [
      [-25.1, 500, 0, 100],
      [0, 545.1, 0, 100],
      [0, 500, -20.1, 100],
      [0, 500, 0, 260.1],
    ] as const) {
      expect(over(a, b, c, d).areaIsCovered).toBe(false);
    }
  });

  it("turns with the feed", () => {
    const { needed } = over(100, 200, 60, 150, "y");
    expect(facing.area(needed.xFrom, needed.xTo, needed.yFrom, needed.yTo)).toEqual(needed);
    expect([needed.xFrom, needed.xTo, needed.yFrom, needed.yTo].map((v) => Number(v.in("mm").toFixed(9)))).toEqual([
      122, 178, 32, 178,
    ]);
    expect(over(100, 200, 33, 207, "y").passesRunClear).toBe(true);
    expect(over(100, 200, 32, 207, "y").passesRunClear).toBe(false);
  });

  it("says what does not fit, each in its sentence", () => {
    const got = over(-30, 500, 30, 210);
    expect(got.notes).toEqual([
      "part of the area lies outside the outermost places probed (x 20 mm to 500 mm, y 20 mm to 220 mm): nothing there is called clean or covered",
      "the rim comes only to x −25 mm to 545 mm, y −20 mm to 260 mm: part of the area stays uncut",
      "to run clear at both ends the spindle has to go to x −58 mm to 528 mm, y 52 mm to 188 mm, and the travel is x 0 mm to 520 mm, y 5 mm to 235 mm: one rim alone cuts the last of it, with its own step where the tilts differ",
    ]);
    expect(String(got)).toBe(
      `probed x 20 mm to 500 mm, y 20 mm to 220 mm; rim comes to x −25 mm to 545 mm, y −20 mm to 260 mm; ${got.notes.join("; ")}`,
    );
    expect(String(over(40, 480, 30, 210))).toBe(
      "probed x 20 mm to 500 mm, y 20 mm to 220 mm; rim comes to x −25 mm to 545 mm, y −20 mm to 260 mm",
    );
    expect(() => Object.assign(got, { areaIsProbed: true })).toThrow(TypeError);
  });

  it("refuses travel and area without a size, along either side", () => {
    const none = area(mm(0), mm(520), mm(5), mm(5));
    expect(refusal(() => reach(map, { ...usual, travel: none, area: travel })).message).toBe(
      "reach: travel runs x 0 mm to 520 mm, y 5 mm to 5 mm, which has no size; give xFrom below xTo and yFrom below yTo",
    );
    expect(refusal(() => over(40, 40, 30, 210)).code).toBe("area");
  });

  it("draws the outline of a map by its outermost places", () => {
    const places = [
      { xMm: 5, yMm: -7 },
      { xMm: -3, yMm: 11 },
    ].map((at) => ({ ...at, label: "P", zUm: 0, count: 1 }));
    expect(outline({ places })).toEqual(area(mm(-3), mm(5), mm(-7), mm(11)));
  });
});

describe("ridges", () => {
  it("are told in one sentence, with the two checks", () => {
    const got = ridges({
      cutterRadius: mm(25),
      stepOver: mm(30),
      tiltAlongFeed: umPerM(200),
      tiltAcrossFeed: umPerM(-100),
    });
    // 200 µm/m × (25 − √(625 − 225)) mm = 1 µm; 30 mm × 100 µm/m = 3 µm
    expect(got.step.in("um")).toBeCloseTo(3, 9);
    expect(got.hollow.in("um")).toBeCloseTo(1, 9);
    expect(String(got)).toBe(
      `ridges of ${got.height.in("um").toFixed(1)} µm, ${got.heightAfterHalfStep.in("um").toFixed(1)} µm after a second round offset by half a step; checks for one tilt alone: step 3.0 µm, hollow 1.0 µm`,
    );
    expect(() => Object.assign(got, { height: mm(0) })).toThrow(TypeError);
  });

  it("are the range of the lowest rim over one step, both leans together", () => {
    // an independent envelope: every line of one step, the lowest of all circles that pass it
    const [radius, step, along, across] = [25, 18, 150, 90];
    const heights = Array.from({ length: 20_001 }, (_, i) => {
      const y = (i / 20_000 - 0.5) * step;
      const rims = [-2, -1, 0, 1, 2]
        .map((k) => y - k * step)
        .filter((t) => t ** 2 <= radius ** 2)
        .map((t) => (across * t - along * Math.sqrt(radius ** 2 - t ** 2)) / 1000);
      return Math.min(...rims);
    });
    const expected = Math.max(...heights) - Math.min(...heights);
    const got = ridges({
      cutterRadius: mm(radius),
      stepOver: mm(step),
      tiltAlongFeed: umPerM(along),
      tiltAcrossFeed: umPerM(across),
    });
    expect(got.height.in("um")).toBeCloseTo(expected, 3);
  });

  it("are refused for a cutter and a step of nothing, and given up to the diameter", () => {
    const at = (radius: number, step: number) =>
      ridges({ cutterRadius: mm(radius), stepOver: mm(step), tiltAlongFeed: umPerM(0), tiltAcrossFeed: umPerM(100) });
    for (const [radius, step] of [
      [0, 1],
      [25, 0],
      [25, 50],
      [-25, 10],
      [Number.MIN_VALUE, 1],
    ] as const) {
      expect(refusal(() => at(radius, step)).code).toBe("step-over");
    }
    expect(at(25, 49.99).step.in("um")).toBeCloseTo(4.999, 9);
  });
});
