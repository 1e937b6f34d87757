import { expect, it } from "vitest";
import { driveTrain } from "../../kernel-lib/src/axis/drive-train.js";
import { mm, slope, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

it("makes 12.5 µm a full step and 1.5625 µm at 8 microsteps of 200 steps on a lead of 2.5 mm (common practice, no source)", () => {
  const drive = driveTrain({ fullStepsPerTurn: 200, microsteps: 8, lead: mm(2.5) });
  expect(drive.fullStep.in("um")).toBe(12.5);
  expect(drive.microstep.in("um")).toBe(1.5625);
  expect(drive.stepsPerMm).toBe(640);
});

it("asks for about a fifth of the holding torque at an eighth of a step", () => {
  expect(driveTrain({ fullStepsPerTurn: 200, microsteps: 8, lead: mm(4) }).torqueOfMicrostep).toBeCloseTo(0.195, 3);
});

const drive = driveTrain({ fullStepsPerTurn: 200, microsteps: 4, motorTurnsPerScrewTurn: 1.5, lead: mm(6) });

it("never rounds by more than half a microstep, and does not add roundings up", () => {
  const moves = drive.repeated(um(7), 500);
  for (const { rounding } of moves) expect(Math.abs(rounding.si)).toBeLessThanOrEqual(drive.microstep.si / 2 + 1e-15);
  expect(moves.at(-1)!.given.in("mm")).toBeCloseTo(3.5, 2);
});

it("says after how many equal moves the rounding begins anew", () => {
  expect(drive.microstep.in("um")).toBe(5);
  expect([5, 7, 2.5, 12].map((move) => drive.patternOf(um(move)))).toEqual([1, 5, 2, 5]);
});

it("takes a slope out by fewer steps where the axis goes too far", () => {
  expect(drive.stepsPerMmFor(slope(um(100), mm(100)))).toBeCloseTo(200 / 1.001, 9);
});

it("refuses what is no drive", () => {
  expect(refusal(() => driveTrain({ fullStepsPerTurn: 200.5, lead: mm(4) }))).toEqual({
    code: "drive-train",
    message: "driveTrain: fullStepsPerTurn is 200.5; give a whole number from 1",
  });
  expect(refusal(() => driveTrain({ fullStepsPerTurn: 200, lead: mm(0) })).message).toBe(
    "driveTrain: lead is 0 µm; give the travel of one turn of the screw, such as mm(4)",
  );
});
