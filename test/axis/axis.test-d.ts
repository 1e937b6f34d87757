import { expectTypeOf, it } from "vitest";
import type { Diagnosis, GrowTogether, ThreeAxes } from "../../kernel-lib/src/axis/index.js";
import { axis, degC, figure, form, gauge, type Measured, mm, um } from "../../kernel-lib/src/index.js";

declare const test: ReturnType<typeof axis.readPositioning>;
declare const lean: Measured<"slope">;

it("gives lengths as lengths and a slope as a slope", () => {
  const found = axis.positioning(test);
  expectTypeOf(found.accuracy).toEqualTypeOf<Measured<"length">>();
  expectTypeOf(found.lostMotion).toEqualTypeOf<Measured<"length">>();
  const part = axis.systematicPart(test, { lead: mm(5), harmonics: { lead: 2 } });
  expectTypeOf(part.slope).toEqualTypeOf<Measured<"slope">>();
  expectTypeOf(part.newStepsPerMm(400)).toEqualTypeOf<Measured<"number">>();
  expectTypeOf(axis.diagnosis(found)).toEqualTypeOf<Diagnosis>();
  figure.deviationPlot(found, { limitUm: 40 });
  // @ts-expect-error an evaluation is asked for, not the test itself
  figure.deviationPlot(test);
});

it("takes travels, deviations and steps only with their unit", () => {
  // @ts-expect-error a bare number is no lead
  axis.systematicPart(test, { lead: 5 });
  // @ts-expect-error a temperature is no lead
  axis.systematicPart(test, { lead: degC(5) });
  // @ts-expect-error a compensation is made of an evaluation
  axis.compensation(test);
  // @ts-expect-error a correction comes in steps of a length
  axis.compensation(axis.positioning(test), { granularity: 1 });
  const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
  // @ts-expect-error a move is a length
  axis.smallMoves({ axis: "X", commanded: [0, 5], readings: [um(0), um(5)], gauge: dial });
  // @ts-expect-error a direction is "up" or "down"
  axis.positioningTest({ axis: "X", readings: [{ target: mm(1), direction: "left", run: 1, deviation: um(1) }] });
});

it("joins axes by angles, never by lengths, and may have nothing to say of a direction", () => {
  const work = { X: mm(200), Y: mm(100), Z: mm(50) };
  const whole: ThreeAxes = axis.threeAxes({ axes: {}, squareness: { XY: lean }, tram: { x: lean, y: lean }, work });
  expectTypeOf(whole.likely("X")).toEqualTypeOf<Measured<"length"> | undefined>();
  expectTypeOf(whole.sharedDoubt("X")).toEqualTypeOf<readonly GrowTogether[]>();
  // @ts-expect-error there are three directions
  whole.likely("A");
  // @ts-expect-error the size of the work along Z is missing
  axis.threeAxes({ axes: {}, work: { X: mm(200), Y: mm(100) } });
  // @ts-expect-error a flatness is no angle between axes
  axis.threeAxes({ axes: {}, squareness: { XY: form.flatness }, work });
});
