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
    "driveTrain: lead is 0 mm; give the travel of one turn of the screw, such as mm(4)",
  );
});

it("counts places from zero on, to both sides, each to the nearest microstep", () => {
  const seen = drive.places([um(12), um(-12), um(13), um(0), um(-2)]);
  expect(seen.map(({ steps }) => steps)).toEqual([2, -2, 3, 0, 0]);
  expect(seen.map(({ given }) => given.in("um"))).toEqual([10, -10, 15, 0, 0]);
  expect(seen.map(({ rounding }) => rounding.in("um"))).toEqual([-2, 2, 2, 0, 2].map((off) => expect.closeTo(off, 9)));
  expect(seen[1]!.asked.in("um")).toBe(-12);
});

it("sums equal moves up before it rounds them", () => {
  expect(drive.repeated(um(7), 5).map(({ asked, steps }) => [asked.in("um"), steps])).toEqual([
    [expect.closeTo(7, 9), 1],
    [expect.closeTo(14, 9), 3],
    [expect.closeTo(21, 9), 4],
    [expect.closeTo(28, 9), 6],
    [expect.closeTo(35, 9), 7],
  ]);
  expect(drive.repeated(um(7), 1)).toHaveLength(1);
  expect(drive.repeated(um(7), 10_000)).toHaveLength(10_000);
  for (const count of [0, 10_001, 1.5]) {
    expect(refusal(() => drive.repeated(um(7), count)).message).toBe(
      `driveTrain: repeated: ${count} moves; give a whole number from 1 to 10000`,
    );
  }
});

it("looks for the pattern of a move the other way too, and gives up after a thousand", () => {
  expect(drive.patternOf(um(-7))).toBe(5);
  expect(drive.patternOf(um(5.005))).toBe(1000);
  expect(drive.patternOf(um(5.0049))).toBeUndefined();
});

it("asks for the whole torque at a full step, and 38 % at a quarter (sine of the electrical angle)", () => {
  const torque = (microsteps: number) =>
    driveTrain({ fullStepsPerTurn: 200, microsteps, lead: mm(4) }).torqueOfMicrostep;
  expect(torque(1)).toBe(1);
  expect(torque(2)).toBeCloseTo(Math.SQRT1_2, 12);
  // half-angle formula: sin 22.5° = √(2 − √2) / 2
  expect(torque(4)).toBeCloseTo(Math.sqrt(2 - Math.SQRT2) / 2, 12);
});

it("says in one line what a command can ask for, and what was seen of it", () => {
  expect(`${drive}`).toBe(
    "drive: full step 20 µm, smallest command 5 µm (1/4 step), 200 steps a millimetre; the smallest move seen is not tested (a ladder of small moves tells); one microstep asks for 38 % of the holding torque, and the grid begins anew when the power comes on",
  );
  expect(drive.motorTurn.in("mm")).toBe(4);
  const direct = driveTrain({ name: "drive of Z", fullStepsPerTurn: 200, lead: mm(4), smallestMoveSeen: um(40) });
  expect(`${direct}`).toBe(
    "drive of Z: full step 20 µm, smallest command 20 µm (1/1 step), 50 steps a millimetre; smallest move seen 40 µm",
  );
  expect([direct.microsteps, direct.motorTurn.in("mm"), direct.lead.in("mm")]).toEqual([1, 4, 4]);
});

it("refuses every number of a drive that is none", () => {
  const given = { fullStepsPerTurn: 200, microsteps: 8, motorTurnsPerScrewTurn: 2, lead: mm(5) };
  const of = (more: object) => refusal(() => driveTrain({ ...given, ...more })).message;
  expect(of({ fullStepsPerTurn: 0 })).toBe("driveTrain: fullStepsPerTurn is 0; give a whole number from 1");
  expect(of({ microsteps: 0 })).toBe("driveTrain: microsteps is 0; give a whole number from 1");
  expect(of({ microsteps: 2.5 })).toBe("driveTrain: microsteps is 2.5; give a whole number from 1");
  const ratio = "give a number above zero, 2 for a belt of 2 : 1";
  for (const turns of [-2, Number.NaN, Number.POSITIVE_INFINITY]) {
    expect(of({ motorTurnsPerScrewTurn: turns })).toBe(`driveTrain: motorTurnsPerScrewTurn is ${turns}; ${ratio}`);
  }
  const lead = "give the travel of one turn of the screw, such as mm(4)";
  expect(of({ lead: 5 })).toBe(`driveTrain: lead is 5; ${lead}`);
  expect(of({ lead: slope(um(1), mm(1)) })).toBe(`driveTrain: lead is 1000 µm/m; ${lead}`);
  expect(of({ lead: mm(-5) })).toBe(`driveTrain: lead is −5 mm; ${lead}`);
});
