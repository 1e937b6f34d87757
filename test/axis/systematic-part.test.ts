import { expect, it } from "vitest";
import { readPositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { positioningTest } from "../../kernel-lib/src/axis/positioning-test.js";
import { systematicPart } from "../../kernel-lib/src/axis/systematic-part.js";
import { gauge, mm, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const dial = gauge({ resolution: um(0.001), maximumPermissibleError: um(1) });

/** an axis with slope 100 µm/m, play 6 µm and a wave of 2 µm, greatest 1 mm from zero, every 5 mm */
function exact(targets: readonly number[]) {
  const at = (target: number, down: boolean) =>
    um(target / 10 + (down ? 3 : -3) + 2 * Math.cos((2 * Math.PI * (target - 1)) / 5));
  const readings = [1, 2, 3].flatMap((run) => [
    ...targets.map((t) => ({ target: mm(t), direction: "up" as const, run, deviation: at(t, false) })),
    ...targets.toReversed().map((t) => ({ target: mm(t), direction: "down" as const, run, deviation: at(t, true) })),
  ]);
  return positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "scale" } });
}

it("gives slope, play and a wave back exactly where there is no scatter", () => {
  const part = systematicPart(exact([0, 41.3, 83.9, 121.7, 160.2, 202.6, 241.1]), { lead: mm(5) });
  expect(part.slope.in("um/m")).toBeCloseTo(100, 6);
  expect(part.play.in("um")).toBeCloseTo(6, 6);
  expect(part.drift.in("um")).toBeCloseTo(0, 6);
  expect(part.periodic[0]!.amplitude.in("um")).toBeCloseTo(2, 6);
  expect(part.periodic[0]!.greatestAt.in("mm")).toBeCloseTo(1, 6);
  expect(part.newStepsPerMm(400).value.si).toBeCloseTo(400 / 1.0001, 9);
});

it("names a lead that targets whole turns apart can't tell", () => {
  const part = systematicPart(exact([0, 40, 80, 120, 160, 200]), { lead: mm(5) });
  expect(part.periodic).toEqual([]);
  expect(part.aliased).toEqual([
    "turn of the screw (5 mm): the targets stand whole periods apart, so that it looks like a constant; it can't be told, choose targets with random offsets",
  ]);
});

it("finds what was planted in the demonstration of X", () => {
  const part = systematicPart(readPositioning("data/positioning-x.csv"), { lead: mm(5) });
  const [low, high] = part.play.interval().map((end) => end.in("um"));
  expect(low).toBeLessThan(14);
  expect(high).toBeGreaterThan(14);
  expect(part.periodic[0]!.p).toBeLessThan(0.05);
});

it("refuses a period that is none", () => {
  expect(refusal(() => systematicPart(exact([0, 40, 80]), { lead: mm(0) }))).toEqual({
    code: "period",
    message: "systematicPart: turn of the screw is 0 µm; give the travel of one, such as mm(5)",
  });
});
