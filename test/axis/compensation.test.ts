import { expect, it } from "vitest";
import { compensation } from "../../kernel-lib/src/axis/compensation.js";
import { positioning } from "../../kernel-lib/src/axis/positioning.js";
import { readPositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const found = positioning(readPositioning("data/positioning-x.csv"));
const made = compensation(found);

it("takes the mean reversal out, and never more than half a step is left", () => {
  expect(Math.abs(made.after.meanReversal.in("um"))).toBeLessThanOrEqual(0.5 + 1e-9);
  expect(made.after.meanDeviation.in("um")).toBeLessThanOrEqual(1 + 1e-9);
});

it("makes the axis better, on runs that the table was not made from too", () => {
  expect(made.after.accuracy.in("um")).toBeLessThan(found.accuracy.in("um") / 2);
  expect(made.afterOnOtherRuns!.accuracy.in("um")).toBeLessThan(found.accuracy.in("um") / 2);
});

it("leaves the repeatability of one direction alone", () => {
  expect(made.after.repeatabilityUp.in("um")).toBeCloseTo(found.repeatabilityUp.in("um"), 9);
});

it("shows that twice the lost motion is as bad as none", () => {
  const [none, , , , twice] = made.settings;
  // the value set is rounded to 1 µm: twice half a step at most
  expect(Math.abs(twice!.meanReversal.in("um") + none!.meanReversal.in("um"))).toBeLessThanOrEqual(1 + 1e-9);
  const left = made.settings.map(({ systematic }) => systematic.in("um"));
  expect(left.indexOf(Math.min(...left))).toBe(2);
});

it("writes a table that says its units", () => {
  const lines = made.toCsv().split("\n");
  expect(lines[2]).toBe("# lost motion: 14 um");
  expect(lines[5]).toBe("target/mm,correction/um");
  expect(lines[6]).toBe("21.3,0");
});

it("refuses a granularity that is none", () => {
  expect(refusal(() => compensation(found, { granularity: um(0) }))).toEqual({
    code: "granularity",
    message: "compensation: granularity 0 µm; give the smallest correction that the control takes, such as um(1)",
  });
});
