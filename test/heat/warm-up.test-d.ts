import { expectTypeOf, test } from "vitest";
import { degC, figure, heat, kelvin, type Measured, minutes, mm, um } from "../../kernel-lib/src/index.js";

const record = heat.readWarmUp("data/warm-up-spindle.csv");

test("growth settles to a length, a thermometer to a temperature difference", () => {
  expectTypeOf(record.growth("nose").total).toEqualTypeOf<Measured<"length">>();
  expectTypeOf(record.temperature("room").total).toEqualTypeOf<Measured<"temperature difference">>();
  figure.settlingCurve(record.growth("nose"));
  figure.settlingCurve(record.temperature("headstock"));
});

test("a limit has the kind of the curve, a time is no number, a difference no temperature", () => {
  // @ts-expect-error a length as the limit of a temperature
  record.temperature("room").waitUntilLeft(um(1));
  // @ts-expect-error minutes without a unit
  record.between(0, 180);
  const part = { length: mm(500), thickness: mm(20), material: heat.material("steel") };
  // @ts-expect-error a point on the scale is no difference
  heat.warmthBow({ ...part, found: um(3), difference: degC(1) });
  heat.warmthBow({ ...part, found: um(3), difference: kelvin(1) });
  // @ts-expect-error a curve of a temperature is no growth
  heat.correctedForWarmth({ curve: record.temperature("room"), recordStart: minutes(0), heights: "raised" });
});
