import { inspect } from "node:util";
import { expect, it } from "vitest";
import { deg, form, gauge, input, Measured, mm, um, umPerM } from "../../kernel-lib/src/index.js";
import { mapOf } from "./planted.js";

const places = [0, 1, 2, 3].flatMap((i) =>
  [0, 1, 2, 3].map((j) => ({ label: `P${i}${j}`, xMm: 50 * i, yMm: 40 * j, zUm: (i * j) % 3, count: 2 })),
);
const map = mapOf(places, { standardUncertaintyUm: 0.5, degreesOfFreedom: 16 });
const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
const between = form.surface(map, { method: "bilinear" });
const leg = (rise: number) => [0, 1, 2].map((i) => ({ at: mm(100 * i), reading: um(rise * i) }));
const tilt = Measured.from(input.normal({ label: "tilt", estimate: umPerM(90), standardUncertainty: umPerM(5) }));
const run = {
  ...{ line: "front", start: { xMm: 0, yMm: 0 }, end: { xMm: 300, yMm: 0 }, foot: mm(100) },
  ...{ readings: [1, 2, 3].map(umPerM), turned: [-1, -2, -4].map(umPerM) },
};
const instrument = { resolution: umPerM(1), maximumPermissibleError: umPerM(5) };

it.each<[string, () => object]>([
  ["flatness", () => form.flatness(map)],
  ["a plane", () => form.plane(map)],
  ["the make-up of a form", () => form.makeUp(map)],
  ["a reading", () => form.reading(map)],
  ["local highs", () => form.localHighs(map)],
  ["local lows", () => form.localLows(map)],
  ["straightness", () => form.straightness(map, { along: "x", at: mm(40) })],
  ["a surface", () => between],
  ["a chance", () => between.chanceAbove(um(1))],
  ["places left out", () => between.leaveOneOut()],
  ["a comparison", () => form.compareSurfaces(map)],
  [
    "squareness",
    () => form.squareness({ name: "Y", gauge: dial, first: leg(0), second: leg(1), square: { within: umPerM(9) } }),
  ],
  ["a level network", () => form.levelNetwork({ name: "bed", frame: map.frame, instrument, ...form.levelRuns([run]) })],
  [
    "a tram",
    () =>
      form.spindleTram({
        ...{ name: "head", radius: mm(80), gauge: dial },
        readings: [0, 90, 180, 270].map((angle) => ({ angle: deg(angle), reading: um(angle / 9) })),
      }),
  ],
  [
    "a reversal",
    () =>
      form.straightedgeReversal({
        ...{ name: "edge", plane: "horizontal", standardUncertainty: um(1) },
        ...{ at: [0, 1, 2].map(mm), normal: [0, 1, 0].map(um), reversed: [0, 3, 0].map(um) },
      }),
  ],
  [
    "shims",
    () =>
      form.shims({
        ...{ name: "re-tram", what: "column", foils: [um(20)], tilt: { as: "lean", x: tilt, y: tilt } },
        bolts: ["1", "2", "3"].map((label, i) => ({ label, x: mm(100 * (i % 2)), y: mm(50 * i) })),
      }),
  ],
  [
    "travel and table",
    () => form.travelAndTable({ byIndicator: { ...map, frame: { ...map.frame, relativeTo: "travel" } }, byLevel: map }),
  ],
])("%s shows its sentence where no notebook is", (_, make) => {
  const made = make();
  expect(inspect(made)).toBe(`${made}`);
  expect(`${made}`).toMatch(/^[a-z0-9].{40}/s);
});
