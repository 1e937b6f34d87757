import { it } from "vitest";
import type { LevelReading, ShimsGiven, SpindleTram, SweepGiven } from "../../kernel-lib/src/form/index.js";
import { levelNetwork } from "../../kernel-lib/src/form/index.js";
import { deg, mm, um, umPerM } from "../../kernel-lib/src/quantity/index.js";

declare const reading: LevelReading;
declare const sweep: SweepGiven;
declare const given: ShimsGiven;
declare const tram: SpindleTram;

it("takes no bare number and no other kind for what a level, a sweep or a foil gives", () => {
  const readings: LevelReading[] = [
    { ...reading, inclination: umPerM(3), foot: mm(80) },
    // @ts-expect-error an inclination is no length
    { ...reading, inclination: um(3) },
    // @ts-expect-error feet are so many mm apart, not so many
    { ...reading, foot: 80 },
  ];
  const swept: SweepGiven[] = [
    { ...sweep, radius: mm(75) },
    // @ts-expect-error an angle of the stylus is an angle
    { ...sweep, readings: [{ angle: 90, reading: um(1) }] },
    // @ts-expect-error a reading is a length, not an angle
    { ...sweep, readings: [{ angle: deg(90), reading: deg(1) }] },
  ];
  const laid: ShimsGiven[] = [
    { ...given, foils: [um(20)] },
    // @ts-expect-error a foil of 20 what?
    { ...given, foils: [20] },
    // @ts-expect-error a tilt is given as a lean or a slope
    { ...given, tilt: { ...given.tilt, as: "tilt" } },
  ];
  return [readings, swept, laid];
});

it("does not take a lean that may be missing for one that is there, nor a survey that says no frame", () => {
  // @ts-expect-error against the travel only once the slope of the table is given
  const { x } = tram.againstTravel;
  const { x: known } = tram.lean;
  // @ts-expect-error which edge is FRONT, and against what?
  levelNetwork({
    name: "bed",
    places: [],
    readings: [],
    instrument: { resolution: umPerM(1), maximumPermissibleError: umPerM(2) },
  });
  return [x, known];
});
