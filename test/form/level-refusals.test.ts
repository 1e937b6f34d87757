import { describe, expect, it } from "vitest";
import {
  type LevelReading,
  type LevelSurvey,
  levelNetwork,
  levelRuns,
  unionJackLines,
} from "../../kernel-lib/src/form/index.js";
import { mm, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { frame, instrument } from "./union-jack.js";

const place = (label: string, xMm: number, yMm: number) => ({ label, xMm, yMm });
const reading = (from: string, to: string, value: number, line = "a"): LevelReading => ({
  line,
  from,
  to,
  inclination: umPerM(value),
  foot: mm(100),
});
const square = [place("A1", 0, 0), place("A2", 100, 0), place("B1", 0, 100), place("B2", 100, 100)];
const round = [
  reading("A1", "A2", 1),
  reading("A2", "A1", 3),
  reading("A1", "B1", 4),
  reading("A2", "B2", 2),
  reading("B1", "B2", 1),
];
const survey = (more: Partial<LevelSurvey> = {}): LevelSurvey => ({
  name: "bed",
  frame,
  instrument,
  places: square,
  readings: round,
  ...more,
});
const of = (more: Partial<LevelSurvey>) => refusal(() => levelNetwork(survey(more)));
const inLine = [place("A1", 0, 0), place("A2", 100, 0), place("A3", 200, 0)];

describe("a level network says what it cannot be made of", () => {
  it.each<[string, Partial<LevelSurvey>, string]>([
    [
      "too-few-places",
      { places: square.slice(0, 2), readings: round.slice(0, 2) },
      "bed has 2 places; three are needed at least, step off a longer line",
    ],
    ["label", { places: [...square, place("A1", 5, 5)] }, "bed has two places A1; give each place its own label"],
    ["place", { places: [...square, place("C1", Number.NaN, 5)] }, "place C1 of bed has no x or y; give both in mm"],
    ["place", { readings: [...round, reading("A1", "D4", 0)] }, 'bed has no place D4 (line "a"); give its x and y'],
    [
      "foot",
      { readings: [...round, reading("A1", "B2", 0)] },
      'A1 and B2 of bed are 141.42 mm apart, the foot of line "a" is 100 mm; places of one reading stand a foot apart, correct the places or the foot',
    ],
    [
      "not-connected",
      { places: [...square, place("D1", 900, 0), place("D2", 1000, 0)], readings: [...round, reading("D1", "D2", 1)] },
      "no reading joins D1, D2 of bed to A1; read a step between the two parts, or survey them apart",
    ],
    [
      "zero-one-way",
      { readings: round.filter(({ to }) => to !== "A1") },
      'the zero of the level was read one way only in bed and cannot be told from a tilt; read a step again with the level turned end for end, state the zero, or write tilt: "not wanted"',
    ],
    [
      "zero-one-way",
      { places: inLine, readings: [reading("A1", "A2", 1), reading("A2", "A3", 2)] },
      'the zero of the level was read one way only in bed and cannot be told from a tilt; read a step again with the level turned end for end, state the zero, or write tilt: "not wanted"',
    ],
    [
      "zero-in-form",
      { places: inLine, zero: "a line, drifting", readings: [reading("A1", "A2", 1), reading("A2", "A3", 2)] },
      "the zero of the level (or its drift) was read one way only on lines of bed that nothing else closes, and cannot be told from their form; read those lines again with the level turned end for end",
    ],
  ])("%s", (code, more, message) => {
    expect(of(more)).toEqual({ code, message: `levelNetwork: ${message}` });
  });

  it("takes a zero that was stated, one that loops tell, and one that nobody wants to know of", () => {
    const oneWay = round.filter(({ to }) => to !== "A1");
    const untilted = levelNetwork(survey({ readings: oneWay, tilt: "not wanted" }));
    expect(untilted.tiltKnown).toBe(false);
    const message = (what: string) =>
      `levelNetwork: ${what} of bed can't be told: the zero of the level was read one way only; turn the level end for end on one step`;
    expect(refusal(() => untilted.rise("A1", "A2"))).toEqual({ code: "tilt", message: message("a rise") });
    expect(refusal(() => untilted.tilt("x"))).toEqual({ code: "tilt", message: message("a tilt") });
    expect(levelNetwork(survey()).tiltKnown).toBe(true);
  });

  it("says what it does not hold", () => {
    const network = levelNetwork(survey());
    expect(refusal(() => network.deviation("Z9"))).toEqual({
      code: "place",
      message: "levelNetwork: bed has no place Z9; see its places",
    });
    expect(refusal(() => network.withoutReading("a", "B2", "B1", "loose"))).toEqual({
      code: "reading",
      message: "levelNetwork: bed has no reading on line a, B2 to B1; see its readings",
    });
    expect(refusal(() => network.withoutReading("a", "A1", "A2", " "))).toEqual({
      code: "no-reason",
      message: "levelNetwork: line a, A1 to A2 of bed is left out for no reason; say why, it stays with the result",
    });
    const both = [reading("A1", "A2", 1), reading("A2", "A1", 1), reading("A2", "A3", 2)];
    const line = levelNetwork(survey({ places: inLine, readings: both }));
    expect(refusal(() => line.tilt("x"))).toEqual({
      code: "on-a-line",
      message:
        "levelNetwork: the places of bed lie on one line; a tilt along x takes a line beside it, ask for the rise between its ends",
    });
    expect(refusal(() => line.surface())).toEqual({
      code: "on-a-line",
      message: "levelNetwork: the places of bed lie on one line; a map needs a line beside it, take its straightness",
    });
  });
});

it("names places that bear no name of their own by their coordinates, with the unit", () => {
  const run = { line: "front", foot: mm(100), start: { xMm: -100, yMm: 0 }, end: { xMm: 200, yMm: 0 } };
  const slopes = [umPerM(1), umPerM(2), umPerM(3)];
  const { places, readings } = levelRuns([{ ...run, readings: slopes, turned: slopes }]);
  const network = levelNetwork(survey({ places, readings }));
  const said = (act: () => unknown) => refusal(act).message.replace("levelNetwork: ", "");
  expect(said(() => network.deviation("(12.5, −3)"))).toBe("bed has no place (12.5 mm, −3 mm); see its places");
  expect(said(() => network.withoutReading("front", "(0, 0)", "(900, 0)", "loose"))).toBe(
    "bed has no reading on line front, (0 mm, 0 mm) to (900 mm, 0 mm); see its readings",
  );
  expect(said(() => network.withoutReading("front", "(−100, 0)", "(0, 0)", ""))).toBe(
    "line front, (−100 mm, 0 mm) to (0 mm, 0 mm) of bed is left out for no reason; say why, it stays with the result",
  );
  expect(of({ places: places.slice(1), readings }).message).toBe(
    'levelNetwork: bed has no place (−100 mm, 0 mm) (line "front"); give its x and y',
  );
  expect(of({ places: [...places, places[0]!], readings }).message).toBe(
    "levelNetwork: bed has two places (−100 mm, 0 mm); give each place its own label",
  );
  const halved = readings.map((one) => ({ ...one, foot: mm(50) }));
  expect(of({ places, readings: halved }).message).toBe(
    'levelNetwork: (−100 mm, 0 mm) and (0 mm, 0 mm) of bed are 100 mm apart, the foot of line "front" is 50 mm; places of one reading stand a foot apart, correct the places or the foot',
  );
  expect(of({ places, readings: readings.slice(0, 1) }).message).toBe(
    "levelNetwork: no reading joins (100 mm, 0 mm), (200 mm, 0 mm) of bed to (−100 mm, 0 mm); read a step between the two parts, or survey them apart",
  );
  // a name that somebody gave stays as it is, whatever it looks like
  expect(said(() => network.deviation("corner (1)"))).toBe("bed has no place corner (1); see its places");
});

it("lines that the foot does not divide, or whose readings do not fit, are refused", () => {
  const run = {
    line: "front",
    start: { xMm: 0, yMm: 0 },
    end: { xMm: 200, yMm: 0 },
    foot: mm(100),
    readings: [umPerM(1), umPerM(2)],
  };
  expect(refusal(() => levelRuns([{ ...run, readings: [umPerM(1)] }]))).toEqual({
    code: "count",
    message: 'levelRuns: line "front" has 1 reading for 2 steps of 100 mm; give each step its reading',
  });
  expect(refusal(() => levelRuns([{ ...run, turned: [] }]))).toEqual({
    code: "count",
    message: 'levelRuns: line "front" has 0 turned readings for 2 steps of 100 mm; give each step its reading',
  });
  expect(refusal(() => unionJackLines({ xMm: [0, 500], yMm: [0, 360] }, mm(60)))).toEqual({
    code: "foot",
    message:
      "unionJackLines: a foot of 60 mm does not cut the front of 500 mm into an even number of steps; choose sides in the ratio 4 to 3 and a foot that goes an even number of times into both",
  });
});
