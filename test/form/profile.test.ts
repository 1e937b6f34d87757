import { describe, expect, it } from "vitest";
import { heightsAlong, levelLine, straightness, straightnessOf } from "../../kernel-lib/src/form/index.js";
import { type LevelReadings, type Line, lineOfMap } from "../../kernel-lib/src/form/line.js";
import { leastSquares } from "../../kernel-lib/src/numerics/index.js";
import { arcsec, mm, um, umPerM } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/surface.js";
import { refusal } from "../refusal.js";
import { budgetLines } from "./budget-lines.js";
import { mapOf } from "./planted.js";

const dial = { name: "dial", resolution: um(0.1), maximumPermissibleError: um(3) };
const near = (found: readonly number[], wanted: readonly number[], digits = 9) => {
  expect(found).toHaveLength(wanted.length);
  for (const [i, v] of wanted.entries()) expect(found[i]).toBeCloseTo(v, digits);
};
/** rows at y 0, 40, 100 mm read from right to left, columns at x 10, 60, 160, 310 mm */
const xs = [310, 160, 60, 10];
const ys = [100, 0, 40];
const places = ys.flatMap((yMm) =>
  xs.map((xMm) => ({ label: `${xMm}/${yMm}`, xMm, yMm, zUm: xMm / 10 + yMm, count: 2 })),
);
const modesUm = [places.map((_, i) => i), places.map(({ xMm }) => xMm)];
const map: Surface = {
  ...mapOf(places, { standardUncertaintyUm: 1, degreesOfFreedom: 9 }, "travel"),
  gauge: dial,
  drift: { model: "settling", statement: "drift", modesUm },
};

describe("a line of a map", () => {
  it("is a row or a column in order, with its part of the drift", () => {
    expect(lineOfMap(map, { along: "x", at: mm(40) })).toEqual({
      name: "planted map, y 40 mm",
      along: "x",
      relativeTo: "travel",
      atMm: [10, 60, 160, 310],
      labels: ["10/40", "60/40", "160/40", "310/40"],
      readUm: [41, 46, 56, 71],
      reads: "heights",
      noise: map.noise,
      gauge: dial,
      modesUm: [
        [11, 10, 9, 8],
        [10, 60, 160, 310],
      ],
    });
    const column = lineOfMap({ ...mapOf(places), gauge: dial }, { along: "y", at: mm(160) });
    expect([column.name, column.along, column.atMm, column.readUm, column.modesUm]).toEqual([
      "planted map, x 160 mm",
      "y",
      [0, 40, 100],
      [16, 56, 116],
      [],
    ]);
  });

  it("is found within a quarter of the least pitch of its neighbours", () => {
    // rows are 40 and 60 mm apart, columns 50 mm at least
    const at = (along: "x" | "y", atMm: number) => lineOfMap(map, { along, at: mm(atMm) }).name;
    expect([at("x", 50), at("x", 30), at("x", 110), at("y", 22.5)]).toEqual([
      "planted map, y 40 mm",
      "planted map, y 40 mm",
      "planted map, y 100 mm",
      "planted map, x 10 mm",
    ]);
    expect(refusal(() => at("x", 50.1))).toEqual({
      code: "no-such-line",
      message: "straightness: no places of planted map at y 50.1 mm; there are some at 0, 40, 100 mm",
    });
    expect(refusal(() => at("y", 22.6)).message).toBe(
      "straightness: no places of planted map at x 22.6 mm; there are some at 10, 60, 160, 310 mm",
    );
  });

  it("has three places at least", () => {
    const few = { ...map, places: places.filter(({ xMm, yMm }) => xMm < 100 || yMm > 0) };
    expect(refusal(() => lineOfMap(few, { along: "x", at: mm(0) }))).toEqual({
      code: "too-few-places",
      message: "straightness: planted map, y 0 mm has 2 places in line; three are needed at least, measure between",
    });
  });
});

describe("a line of levels", () => {
  const given: LevelReadings = {
    name: "guide",
    base: mm(100),
    passes: [[umPerM(10), umPerM(-20), umPerM(30)]],
    maximumPermissibleError: umPerM(6),
    resolution: umPerM(2),
  };

  it("has a place more than readings; each rise is the inclination over the base", () => {
    const line = levelLine(given);
    expect(line).toEqual({
      name: "guide",
      along: "the line",
      relativeTo: "gravity",
      atMm: [0, 100, 200, 300],
      labels: ["0", "1", "2", "3"],
      readUm: [0, expect.closeTo(1, 9), expect.closeTo(-2, 9), expect.closeTo(3, 9)],
      reads: "steps",
      noise: {
        // 6 µm/m and 2 µm/m over 100 mm: (0.6/√3)² + (0.2/√12)²
        standardUncertaintyUm: expect.closeTo(Math.sqrt(0.12 + 0.04 / 12), 9),
        degreesOfFreedom: Number.POSITIVE_INFINITY,
        source: "the resolution and the instrument",
      },
      modesUm: [],
    });
    near(heightsAlong(line), [0, 1, -1, 2]);
    const named = levelLine({ ...given, along: "x", relativeTo: "artefact" });
    expect([named.along, named.relativeTo]).toEqual(["x", "artefact"]);
  });

  it("takes one second for a round figure where the table does", () => {
    const read = {
      ...given,
      passes: [[arcsec(2), arcsec(4)]],
      maximumPermissibleError: arcsec(1),
      resolution: arcsec(1),
    };
    const [round, exact] = [levelLine({ ...read, secondTakenAs: umPerM(5) }), levelLine(read)];
    near(round.readUm, [0, 1, 2]);
    near(exact.readUm, [0, 2 * 0.484_813_68, 4 * 0.484_813_68], 6);
    expect(round.noise.standardUncertaintyUm).toBeCloseTo(Math.sqrt(0.25 / 3 + 0.25 / 12), 9);
  });

  it("takes its noise from the passes against each other, each at its own angle", () => {
    const passes = [
      [10, -20, 30],
      [18, -10, 44],
    ].map((pass) => pass.map(umPerM));
    const { noise, readUm } = levelLine({ ...given, passes });
    near(readUm, [0, 1.4, -1.5, 3.7]);
    // rises 1 −2 3 and 1.8 −1 4.4 µm; the second is 32/30 µm higher a step: what is left is ∓4/30, ∓1/30, ±5/30
    const squares = (2 * (16 + 1 + 25)) / 900;
    const variance = squares / 2 / 2;
    const total = variance + 0.12;
    expect(noise.standardUncertaintyUm).toBeCloseTo(Math.sqrt(total), 9);
    expect(noise.degreesOfFreedom).toBeCloseTo((2 * total ** 2) / variance ** 2, 6);
    expect(noise.source).toBe("passes against each other, and the instrument");
    // passes that agree better than the level resolves are not believed
    const alike = levelLine({ ...given, passes: [passes[0]!, passes[0]!] }).noise;
    expect(alike.standardUncertaintyUm).toBeCloseTo(Math.sqrt(0.12 + 0.04 / 12), 9);
    expect(alike.degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });

  it("is refused with too few readings, uneven passes, no base, and a reading that is none", () => {
    const of = (more: Partial<LevelReadings>) => refusal(() => levelLine({ ...given, ...more }));
    expect(of({ passes: [] })).toEqual({
      code: "too-few-places",
      message: "straightness: guide has 1 place in line; three are needed at least, measure between",
    });
    expect(levelLine({ ...given, passes: [[umPerM(1), umPerM(2)]] }).atMm).toEqual([0, 100, 200]);
    expect(of({ passes: [given.passes[0]!, [umPerM(1)]] })).toEqual({
      code: "passes",
      message: "straightness: guide has passes of 3, 1 readings; give each step in every pass",
    });
    expect(of({ base: mm(0) })).toEqual({
      code: "base",
      message: "straightness: the base of guide is 0 mm; give the distance of the feet",
    });
    expect(of({ passes: [[umPerM(1), 5 as never, umPerM(2)]] })).toEqual({
      code: "inclination",
      message: "straightness: step 2 of pass 1 of guide is 5; give an inclination, such as arcsec(3)",
    });
  });
});

describe("the three reference lines", () => {
  const atMm = [0, 50, 100, 200, 400];
  const readUm = [1, 4, 9, 2, -3];
  const quiet = { standardUncertaintyUm: 1e-3, degreesOfFreedom: 20, source: "passes" };
  const line: Line = {
    ...{
      name: "guide",
      along: "y",
      relativeTo: "gravity",
      atMm,
      labels: atMm.map((v) => `${v}`),
      readUm,
      reads: "heights",
    },
    ...{ noise: quiet, gauge: dial, modesUm: [[0, 1, 4, 2, 8]] },
  };
  const found = straightnessOf(line);
  const drift = (figure: typeof found.minimumZone) => {
    const term = figure.width.corrected.terms.find(({ input }) => input.label.startsWith("drift"))!;
    return term.sensitivity * 1e6;
  };

  it("by least squares: the line of the fit, width and drift between its extremes", () => {
    const { slope, offset, residualsUm, width } = found.leastSquares;
    const { coefficients, residuals } = leastSquares([atMm.map(() => 1), atMm], readUm);
    near([offset, slope], coefficients);
    near(residualsUm, residuals);
    expect(width.raw.in("um")).toBeCloseTo(Math.max(...residuals) - Math.min(...residuals), 9);
    const moved = leastSquares([atMm.map(() => 1), atMm], [0, 1, 4, 2, 8]).residuals;
    const [high, low] = [2, residuals.indexOf(Math.min(...residuals))];
    expect(drift(found.leastSquares)).toBeCloseTo(moved[high]! - moved[low]!, 9);
  });

  it("through the ends: slope −1 µm over 100 mm, the third place 9 µm above it", () => {
    const { slope, offset, residualsUm, width } = found.endPoints;
    near([slope, offset], [-0.01, 1]);
    near(residualsUm, [0, 3.5, 9, 3, 0]);
    expect(width.raw.in("um")).toBeCloseTo(9, 9);
    // the drift 0 1 4 2 8 off its own ends: 4 − 2 at the third place, nothing at the first
    expect(drift(found.endPoints)).toBeCloseTo(2, 9);
  });

  it("of least width: the third place above the chord of the ends, which is what the drift moves", () => {
    const { slope, width, residualsUm } = found.minimumZone;
    expect(slope).toBeCloseTo(-0.01, 9);
    expect(width.raw.in("um")).toBeCloseTo(9, 9);
    near([Math.max(...residualsUm), Math.min(...residualsUm)], [4.5, -4.5]);
    // chord of the drift over the ends 0 and 8: 2 at 100 mm, where it is 4
    expect(drift(found.minimumZone)).toBeCloseTo(2, 9);
    // the other way up, the third place lies below the chord: the width grows as it falls
    const hollow = straightnessOf({ ...line, readUm: readUm.map((v) => -v) });
    expect(hollow.minimumZone.width.raw.in("um")).toBeCloseTo(9, 9);
    expect(drift(hollow.minimumZone)).toBeCloseTo(-2, 9);
  });

  it("rest on noise, gauge and drift, and are found once", () => {
    const lines = budgetLines(found.overall);
    expect(lines[0]).toMatch(/^reading noise: 0\.00\d+, t, 20, A, passes$/);
    expect(lines.slice(1, 3)).toEqual([
      `gauge, error between highest and lowest: ${Number(Math.sqrt(3).toPrecision(6))}, rectangular, Infinity, B, maximum permissible error of dial, ± over the range used`,
      "drift of the set-up, part 1: 2, normal, Infinity, B, datum returns",
    ]);
    expect(found.minimumZone).toBe(found.minimumZone);
    const { gauge, ...bare } = line;
    expect(gauge).toBe(dial);
    expect(budgetLines(straightnessOf({ ...bare, modesUm: [] }).overall).join()).not.toMatch(/gauge|drift/);
  });

  it("are told together, in one sentence", () => {
    const least = found.leastSquares.width.raw.in("um").toFixed(1);
    expect(`${found}`).toBe(
      `straightness of guide along y, relative to gravity: ${found.overall} (minimum zone 9.0 µm as read, less 0.0 µm that the noise of the readings adds); least-squares line ${least} µm, end-point line 9.0 µm as read; at the 5 places probed`,
    );
  });

  it("take readings of steps for what they are: heights are their sums, noise carries on", () => {
    const steps = levelLine({
      ...{ name: "guide", base: mm(100), passes: [[0, 10, -30, 0].map(umPerM)] },
      ...{ maximumPermissibleError: umPerM(30), resolution: umPerM(1) },
    });
    const { leastSquares: least, endPoints, heightsUm } = straightnessOf(steps);
    near(heightsUm, [0, 0, 1, -2, -2]);
    near(endPoints.residualsUm, [0, 0.5, 2, -0.5, 0]);
    // the doubt of a sum of steps: simulated, against the widths of heights whose steps are drawn by the same law
    const spread = least.width.corrected.terms[0]!;
    const sigma = Math.hypot(3 / Math.sqrt(3), 0.1 / Math.sqrt(12));
    expect(spread.input.uncertaintySi * 1e6).toBeCloseTo(sigma, 9);
    expect(spread.sensitivity).toBeGreaterThan(0.5);
    expect(least.width.bias.in("um")).toBeGreaterThan(0);
  });

  it("of a map come by its name, the seed of the simulation with them", () => {
    const row = straightness(map, { along: "x", at: mm(40), seed: 3 });
    expect(row.relative).toBe("relative to travel");
    expect(row.leastSquares.width.raw.in("um")).toBeCloseTo(0, 9);
    const again = (seed?: number) =>
      straightness(map, { along: "x", at: mm(40), ...(seed ? { seed } : {}) }).leastSquares.width.bias.si;
    expect(again(3)).toBe(row.leastSquares.width.bias.si);
    expect(again(1)).toBe(again());
    expect(again(2)).not.toBe(again());
  });
});
