import { expect, it } from "vitest";
import { type OptionsInput, options } from "../../kernel-lib/src/decision/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/index.js";
import { aMap } from "../facing/a-map.js";
import { refusal } from "../refusal.js";

const bow = (sizeUm: number) => (x: number) => sizeUm * ((x - 260) / 240) ** 2;
// the table is bowed by 3 µm, the travel by 15 µm: the map shows the table less the travel
const map = aMap(bow(3 - 15), { noiseUm: 0.4, gaugeUm: 1 });
const level: Surface = {
  ...aMap(bow(3), { noiseUm: 0.4, gaugeUm: 1 }),
  name: "by level",
  frame: { ...map.frame, relativeTo: "gravity" },
};
const at = (more: Partial<OptionsInput>) =>
  options({ surface: map, tolerance: { upper: um(8), source: "the job" }, draws: 200, ...more });

it("corrects the travel's part alone: the map then shows the table's own form", () => {
  const { prediction, errorOfForm } = at({ independent: level, playOfZ: um(1) }).option("correct");
  expect(Math.abs(prediction!.estimate.in("um") - 3)).toBeLessThan(1.5);
  expect(errorOfForm!.high.in("um")).toBeLessThan(5);
});

it("says what a straightedge would see once the second survey is there: the table itself, and the travel under a faced plate", () => {
  const plate = { texture: um(1), deflectionUpTo: um(1), travelRepeatUpTo: um(1), heatUpTo: um(1) };
  const decision = at({ independent: level, plate });
  const [, low, high] = /^the table itself \d+\.\d µm \((\d+\.\d) µm to (\d+\.\d) µm\) by by level; /.exec(
    decision.option("leave").byStraightedge,
  )!;
  // the table is bowed by 3 µm
  expect(Number(low)).toBeLessThan(3);
  expect(Number(high)).toBeGreaterThan(3);
  expect(Number(high)).toBeLessThan(6);
  const [, least, most, travel] =
    /^at most (\d+) µm to (\d+) µm: what the machine sees and the travel's part of this map by by level, (\d+\.\d) µm/.exec(
      decision.option("plate").byStraightedge,
    )!;
  // the travel is bowed by 15 µm, and 1 µm to 4 µm come on top
  expect(Math.abs(Number(travel) - 15)).toBeLessThan(1.5);
  expect(Number(least)).toBeGreaterThan(13);
  expect(Number(most)).toBeLessThan(22);
  expect(at({}).option("leave").byStraightedge).toMatch(/^unknown unless/);
});

it("does nothing where the play of Z is wider than the correction", () => {
  const { errorOfForm } = at({ independent: level, playOfZ: um(60) }).option("correct");
  expect(Math.abs(errorOfForm!.estimate.in("um") - 15)).toBeLessThan(1.5);
});

it("can't be judged without the second survey or without the play", () => {
  expect(at({ playOfZ: um(1) }).option("correct").assumes).toMatch(/^can't be judged without a second/);
  expect(at({ independent: level }).option("correct").assumes).toMatch(/^can't be judged without the play of Z/);
});

it.each([
  [
    map,
    "same-reference",
    "a map is relative to travel and a map to travel; travel and table are told apart by one map against travel and one by level or straightedge, give both",
  ],
  [
    { ...level, frame: { ...level.frame, front: "y+" as const } },
    "two-frames",
    "a map and by level do not have the same FRONT, +X and +Y; check whether one sheet is mirrored or turned round, and state both the same way",
  ],
  [
    { ...level, places: level.places.slice(3) },
    "other-places",
    "3 of 78 places of a map were not probed in by level; probe the same places in both",
  ],
])("refuses a second survey that is none: %#", (independent, code, words) => {
  const message = `decision.options: ${words}`;
  expect(refusal(() => at({ independent, playOfZ: um(1) }))).toEqual({ code, message });
});

it("takes the reader's own option by the reader's own model", () => {
  const own = {
    name: "lap with a ring",
    assumes: "half of the form goes",
    canBeUndone: "no",
    risks: "grit in the ways",
    after: ({ zUm }: { readonly zUm: number }) => um(zUm / 2),
  };
  const decision = at({ own: [own] });
  const halved = decision.option("own: lap with a ring").prediction!.estimate.in("um");
  expect(halved).toBeCloseTo(decision.option("leave").prediction!.estimate.in("um") / 2, 6);
  expect(decision.rows.at(-1)!.option).toBe("lap with a ring");
});
