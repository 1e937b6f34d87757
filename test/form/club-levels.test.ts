import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { form, readSurvey } from "../../kernel-lib/src/index.js";
import { leastSquaresPlane, minimumZonePlane } from "../../kernel-lib/src/numerics/index.js";

const data = resolve(import.meta.dirname, "../../data");
interface Place {
  readonly xMm: number;
  readonly yMm: number;
  readonly zUm: number;
}
const truth = JSON.parse(readFileSync(resolve(data, "truth.json"), "utf8")).levels as {
  readonly misread: { readonly line: string };
  readonly sweep: { readonly leanXUmPerM: number; readonly leanYUmPerM: number };
  readonly square: { readonly axesUmPerM: number; readonly squareUmPerM: number };
  readonly heights: { readonly [what: string]: readonly Place[] };
};
const survey = form.readLevels(resolve(data, "levels-table.csv"));
const found = form.levelNetwork(survey);
const misread = found.suspects[0]!;
const clean = found.withoutReading(misread.line, misread.from, misread.to, "misread by a division");
const flatTruth = (places: readonly Place[]) => {
  const [x, y, z] = [places.map((p) => p.xMm), places.map((p) => p.yMm), places.map((p) => p.zUm)];
  const plane = leastSquaresPlane(x, y, z);
  return {
    plane,
    zone: minimumZonePlane(x, y, z).zone,
    z: z.map((v, i) => v - plane.slopeX * x[i]! - plane.slopeY * y[i]! - plane.offset),
  };
};

describe("the club's level survey of its table", () => {
  it("names the one misread step, by a division of 20 µm/m", () => {
    expect(found.suspects.map(({ line, from, to }) => [line, from, to])).toEqual([
      [truth.misread.line, "(260, 95)", "(340, 95)"],
    ]);
    expect(Math.abs(misread.off!.in("um/m") - 20)).toBeLessThan(10);
    expect(clean.suspects).toEqual([]);
    expect(`${clean}`).toMatch(/left out, line row 95, \(260 mm, 95 mm\) to \(340 mm, 95 mm\): misread by a division$/);
  });

  it("holds the planted tilt and flatness, and 20 of 21 places at least, within U", () => {
    const planted = flatTruth(truth.heights["levels-table.csv"]!);
    for (const [along, slope] of [
      ["x", planted.plane.slopeX],
      ["y", planted.plane.slopeY],
    ] as const) {
      const tilt = clean.tilt(along);
      expect(Math.abs(tilt.in("um/m") - slope * 1000)).toBeLessThan(tilt.expandedUncertainty().in("um/m"));
    }
    const zone = clean.minimumZone.corrected;
    expect(Math.abs(zone.in("um") - planted.zone)).toBeLessThan(zone.expandedUncertainty().in("um"));
    const held = truth.heights["levels-table.csv"]!.filter(({ xMm, yMm }, i) => {
      const own = clean.deviation(`(${xMm}, ${yMm})`);
      return Math.abs(own.in("um") - planted.z[i]!) <= own.expandedUncertainty().in("um");
    });
    expect(held.length).toBeGreaterThanOrEqual(20);
  });

  it("parts the table from the travel as they were planted", () => {
    const map = readSurvey(resolve(data, "table-before.csv")).withoutReading("D9", 1, "swarf").surface();
    const { table, travel } = form.travelAndTable({ byIndicator: map, byLevel: clean.surface() });
    for (const [part, what] of [
      [table, "levels-table.csv"],
      [travel, "travel over the table"],
    ] as const) {
      const planted = flatTruth(truth.heights[what]!);
      const { corrected } = form.flatness(part).minimumZone;
      expect(Math.abs(corrected.in("um") - planted.zone), what).toBeLessThan(corrected.expandedUncertainty().in("um"));
    }
    const bow = form.makeUp(travel).bowX.amplitude;
    expect(Math.abs(bow.in("um") - 7)).toBeLessThan(bow.expandedUncertainty().in("um"));
  });
});

it("the club's marking-off plate comes back flat within U, all eight lines closed", () => {
  const plate = form.levelNetwork(form.readLevels(resolve(data, "levels-plate.csv")));
  const { zone } = flatTruth(truth.heights["levels-plate.csv"]!);
  const { corrected } = plate.minimumZone;
  expect(Math.abs(corrected.in("um") - zone)).toBeLessThan(corrected.expandedUncertainty().in("um"));
  expect([plate.suspects.length, plate.loops.length]).toEqual([0, 8]);
});

it("the club's sweep and square hold what was planted within U", () => {
  const map = readSurvey(resolve(data, "table-before.csv")).withoutReading("D9", 1, "swarf");
  const sweep = form.readSweep(resolve(data, "sweep-head.csv"));
  const { lean } = form.spindleTram({ ...sweep, tableSlope: form.slopeUnder(map, sweep) });
  const { angle, square } = form.squareness(form.readSquare(resolve(data, "square-y-to-x.csv")));
  for (const [held, planted] of [
    [lean.x, truth.sweep.leanXUmPerM],
    [lean.y, truth.sweep.leanYUmPerM],
    [angle, truth.square.axesUmPerM],
    [square!, truth.square.squareUmPerM],
  ] as const) {
    expect(Math.abs(held.in("um/m") - planted)).toBeLessThan(held.expandedUncertainty().in("um/m"));
  }
});
