import { expect, it } from "vitest";
import { positioning } from "../../kernel-lib/src/axis/positioning.js";
import { readPositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { systematicPart } from "../../kernel-lib/src/axis/systematic-part.js";
import { threeAxes } from "../../kernel-lib/src/axis/three-axes.js";
import { input, Measured, mm, slope, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const test = readPositioning("data/positioning-x.csv");
const square = Measured.from(
  input.normal({ label: "square", estimate: slope(um(-30), mm(1000)), standardUncertainty: slope(um(2), mm(1000)) }),
);
const work = { X: mm(200), Y: mm(100), Z: mm(50) };

it("adds what is measured in each direction, all the same way, and counts nothing unmeasured as zero", () => {
  const part = systematicPart(test, { lead: mm(5) });
  const whole = threeAxes({ axes: { X: { part } }, squareness: { XY: square }, work });
  const sum = part.play.in("um") + part.slope.in("um/m") * 0.2 + 3;
  expect(whole.together("X")!.in("um")).toBeCloseTo(sum, 9);
  expect(whole.together("Y")).toBeUndefined();
  expect(whole.missing).toContain("positioning of Y: no test");
  expect(whole.missing).toContain("squareness of X to Z: a square turned over shows it");
});

it("refuses a test under another axis, and work without a size", () => {
  expect(refusal(() => threeAxes({ axes: { Y: { positioning: positioning(test) } }, work }))).toEqual({
    code: "three-axes",
    message: "threeAxes: under Y stands a test of X; give each axis its own",
  });
  expect(refusal(() => threeAxes({ axes: {}, work: { ...work, Z: mm(0) } })).message).toBe(
    "threeAxes: the work along Z is 0 µm; give its size, such as mm(100)",
  );
});
