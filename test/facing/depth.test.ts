import { expect, it } from "vitest";
import { depth } from "../../kernel-lib/src/facing/depth.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aMap } from "./a-map.js";

const wedge = aMap((x) => (x - 20) / 10);

it("cleans up a wedge known without error at its rise, from first contact at the high edge", () => {
  const plan = depth(wedge, { thickness: mm(20) });
  expect(plan.cleansAll.depth.in("um")).toBeCloseTo(48, 6);
  expect(plan.cleansAll.high.in("um")).toBeCloseTo(48, 6);
  expect(plan.firstContact.place.xMm).toBe(500);
  expect(plan.firstContact.height.in("um")).toBeCloseTo(48, 6);
  expect(plan.at(um(100)).chanceOfCleanUp).toBe(1);
  expect(plan.at(um(100)).thicknessLeft?.in("mm")).toBeCloseTo(19.9, 9);
});

it("takes the volume of the wedge: area times the mean cut", () => {
  const plan = depth(wedge);
  expect(plan.area.in("mm2")).toBeCloseTo(480 * 200, 3);
  // a cut of 48 µm at the high edge falls to nothing at the low one: 24 µm in the mean
  expect(plan.at(um(48)).volume.in("cm3")).toBeCloseTo(480 * 200 * 0.024e-3, 1);
});

it("cleans more with depth, never less", () => {
  const plan = depth(
    aMap((x, y) => Math.sin(x / 90) * 8 + y / 20, { noiseUm: 1, gaugeUm: 4 }),
    { draws: 200 },
  );
  const shares = plan.rows.map((row) => row.areaCleaned.share);
  const chances = plan.rows.map((row) => row.chanceOfCleanUp);
  expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  expect(chances).toEqual(chances.toSorted((a, b) => a - b));
  expect(shares.at(-1)).toBeGreaterThan(0.99);
});

it("gives the same figures for the same seed and others for another", () => {
  const map = aMap((x) => x / 40, { noiseUm: 1, gaugeUm: 4 });
  const text = (seed: number) => depth(map, { seed, draws: 200 }).cleansAll.depth.in("um");
  expect(text(4)).toBe(text(4));
  expect(text(4)).not.toBe(text(5));
});

it("refuses a map that is not relative to travel", () => {
  const frame = { ...wedge.frame, relativeTo: "gravity" as const };
  expect(refusal(() => depth({ ...wedge, frame }))).toEqual({
    code: "wrong-frame",
    message:
      "facing.depth: a map is relative to gravity, and a cut follows the travel; give a map probed from the spindle",
  });
});

it.each([
  [
    { ...wedge, places: wedge.places.slice(0, 3) },
    "too-few-places",
    "facing.depth: a map has 3 places; 4 are needed at least, measure more",
  ],
  [
    { ...wedge, noise: { standardUncertaintyUm: 1, degreesOfFreedom: 0 } },
    "few-repeats",
    "facing.depth: the scatter of a map rests on 0 degrees of freedom; more than 2 are needed: probe the places twice",
  ],
])("refuses a map it can't know the doubt of", (map, code, message) => {
  expect(refusal(() => depth(map))).toEqual({ code, message });
});

it("refuses a chance that no depth can meet", () => {
  expect(refusal(() => depth(wedge).depthFor(1))).toEqual({
    code: "chance",
    message: "depthFor: a chance of 1 can't be met by a depth; give a number between 0 and 1",
  });
});

it("gives the cut at a screw, on a place and between places", () => {
  const plan = depth(wedge);
  expect(plan.cutAt(mm(260), mm(100), um(100)).in("um")).toBeCloseTo(100 - 24, 6);
  expect(plan.cutAt(mm(280), mm(120), um(100)).in("um")).toBeCloseTo(100 - 22, 6);
  expect(plan.cutAt(mm(20), mm(20), um(40)).in("um")).toBeCloseTo(-8, 6);
});

it("carries the doubt of the map into the cut at a screw", () => {
  const plan = depth(
    aMap((x) => x / 40, { noiseUm: 1, gaugeUm: 4 }),
    { draws: 200 },
  );
  const u = plan.cutAt(mm(260), mm(100), um(100)).standardUncertainty.in("um");
  expect(u).toBeGreaterThan(1);
  expect(u).toBeLessThan(8);
});

it("keeps its cautions", () => {
  const plan = depth(wedge);
  expect(plan.cautions.length).toBeGreaterThan(5);
  expect(() => Object.assign(plan, { cautions: [] })).toThrow(TypeError);
});
