import { inspect } from "node:util";
import { expect, it } from "vitest";
import { axis, mm, newton, um } from "../../kernel-lib/src/index.js";
import { dial, plantedTest } from "./planted-test.js";

it("shows every result by its one line where a program prints it", () => {
  const test = plantedTest(
    [0, 41, 83, 120, 171],
    [1, 2],
    (at, direction, run) => at / 20 + (direction === "up" ? run : 9),
  );
  const found = axis.positioning(test);
  const rungs = [0, 10, 20, 30, 20, 10, 0].map((at) => um(at));
  const free = axis.smallMoves({ axis: "Z", commanded: rungs, readings: rungs, gauge: dial });
  const held = { pull: newton(900), released: um(0), readings: rungs.map((at) => at.plus(um(18))) };
  const pulled = axis.smallMoves({ axis: "Z", commanded: rungs, gauge: dial, ...held });
  const part = axis.systematicPart(test);
  const diagnosis = axis.diagnosis(found, { ladder: free });
  const results = [
    ...[test, found, part, diagnosis, axis.compensation(found), free],
    axis.liftUnderPull({ free, pulled, weight: newton(690) }),
    axis.threeAxes({ axes: { X: { positioning: found, part } }, work: { X: mm(1), Y: mm(1), Z: mm(1) } }),
    axis.driveTrain({ fullStepsPerTurn: 200, lead: mm(5) }),
    axis.positioningPlan({ axis: "X", travel: [mm(0), mm(300)], gauge: dial, reference: { name: "scale" } }),
  ];
  for (const result of results) {
    expect(inspect(result)).toBe(`${result}`);
    expect(`${result}`.length).toBeGreaterThan(40);
  }
  // a cause without a chance is no test, and raises no false alarm
  const tested = diagnosis.findings.filter(({ chance }) => chance !== undefined).length;
  expect(tested).toBeGreaterThan(1);
  expect(tested).toBeLessThan(diagnosis.findings.length);
  expect(diagnosis.falseAlarm).toBeCloseTo(1 - 0.99 ** tested, 12);
  expect(diagnosis.findings.map(({ cause }) => cause)).toEqual([
    ...[
      "play",
      "pitch error",
      "uneven pitch",
      "periodic error",
      "drift during the test",
      "gauge at its limit",
      "loose gib",
    ],
  ]);
});
