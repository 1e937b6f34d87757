import { describe, expect, it } from "vitest";
import { deg, seconds, um } from "../../kernel-lib/src/quantity/index.js";
import { gauge } from "../../kernel-lib/src/survey/gauge.js";
import { heightTable, passesOf, withoutPlaces } from "../../kernel-lib/src/survey/height-table.js";
import { type KnownCourse, withoutCourse } from "../../kernel-lib/src/survey/known-course.js";
import { parseSheet, sourceOfText } from "../../kernel-lib/src/survey/parse-sheet.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { refusal } from "../refusal.js";
import { aHeightTable } from "./a-height-table.js";
import { inspected } from "./inspected.js";

const above = [
  "# relative to: travel",
  "# front: y-",
  "# +x: right",
  "# +y: back",
  "# gauge resolution: 1 um",
  "# gauge maximum permissible error: 4 um",
];
const text = (rows: readonly string[], heading = "place,x/mm,y/mm,z/um,pass", more: readonly string[] = []) =>
  [...above, ...more, heading, ...rows].join("\n");
const table = (...given: Parameters<typeof text>) =>
  heightTable(parseSheet(sourceOfText(text(...given)), { name: "t" }));
const close = (value: number) => expect.closeTo(value, 9);

describe("a sheet as heights", () => {
  const rows = [
    "datum 1,0,0,7,1",
    "B1,50,0,2,1",
    "A1,0,10,1,1",
    "C1,90,0,,1",
    "datum 1,0,0,8,1",
    "A1,0,10,3,2",
    "datum 1,0,0,9,2",
    "B1,50,0,4,2",
  ];

  it("has its places in the order of the sheet, datums apart, blanks left out", () => {
    const made = table(rows);
    expect(made.labels).toEqual(["B1", "A1"]);
    expect([...made.x]).toEqual([50, 0]);
    expect([...made.y]).toEqual([0, 10]);
    expect([...made.place]).toEqual([0, 1, 1, 0]);
    expect([...made.pass]).toEqual([1, 1, 2, 2]);
    expect([...made.z]).toEqual([2, 1, 3, 4]);
    expect([...made.when!]).toEqual([2, 3, 6, 8]);
    expect(made.whenUnit).toBe("readings");
    expect(made.passes).toEqual([1, 2]);
    expect(made.datum.label).toEqual(["datum 1", "datum 1", "datum 1"]);
    expect([...made.datum.pass]).toEqual([1, 1, 2]);
    expect([...made.datum.z]).toEqual([7, 8, 9]);
    expect([...made.datum.when!]).toEqual([1, 5, 7]);
    expect(made.step).toBe(1);
  });

  it("is in mm and µm whatever the sheet is in, with sign and cosines of the gauge in heights and step", () => {
    const made = table(["A1,1,2,3,1", "datum,4,5,6,1"], "place,x/in,y/m,z/thou,pass", [
      "# positive: surface stands low",
      "# gauge lever angle: 60 deg",
    ]);
    expect([[...made.x], [...made.y]]).toEqual([[25.4], [2000]]);
    // cos 60° = 1/2
    expect([...made.z]).toEqual([close(-38.1)]);
    expect([...made.datum.z]).toEqual([close(-76.2)]);
    expect(made.step).toBeCloseTo(0.5, 12);
  });

  it("goes by the clock where every reading has a time that does not run back", () => {
    const clock = "place,x/mm,y/mm,z/um,pass,time";
    const timed = (times: string[], heading = clock, more: string[] = []) => {
      const made = table(
        times.map((time, i) => `${i === 1 ? "datum" : `A${i}`},${i},0,${i},1,${time}`),
        heading,
        more,
      );
      return [made.whenUnit, made.when && [...made.when], made.datum.when && [...made.datum.when]];
    };
    expect(timed(["19:00", "19:01", "19:05:30"])).toEqual(["s", [68_400, 68_730], [68_460]]);
    expect(timed(["1", "2", "4"], `${clock}/h`)).toEqual(["h", [1, 4], [2]]);
    expect(timed(["1", "1", "1"], `${clock}/min`)).toEqual(["min", [1, 1], [1]]);
    // a time is missing, or the clock runs back: the order instead
    expect(timed(["19:00", "", "19:05"])).toEqual(["readings", [1, 3], [2]]);
    expect(timed(["19:00", "18:59", "19:05"])).toEqual(["readings", [1, 3], [2]]);
    // nobody knows the order, so the times stand alone and need not grow down the sheet
    expect(timed(["19:00", "18:59", "19:05"], clock, ["# order: unknown"])).toEqual(["readings", undefined, undefined]);
    expect(timed(["19:00", "19:01", "19:05"], clock, ["# order: unknown"])[0]).toBe("s");
  });

  it("goes by the column order, which may stand in any row, and not where one is blank", () => {
    const heading = "place,x/mm,y/mm,z/um,pass,order,time/min";
    const ordered = table(["A1,0,0,1,1,30,9", "datum,5,0,2,1,20,8", "datum,5,0,3,1,10,7", "A2,9,0,4,1,5,6"], heading);
    expect([...ordered.when!]).toEqual([9, 6]);
    // datum returns stand in the order of reading
    expect([...ordered.datum.z]).toEqual([3, 2]);
    expect([...ordered.datum.when!]).toEqual([7, 8]);
    const plain = "place,x/mm,y/mm,z/um,pass,order";
    expect([...table(["A1,0,0,1,1,30", "A2,9,0,4,1,5"], plain).when!]).toEqual([30, 5]);
    expect(table(["A1,0,0,1,1,30", "A2,9,0,4,1,"], plain).when).toBeUndefined();
    // a blank row need not say when it was not read
    expect([...table(["A1,0,0,1,1,30", "A2,9,0,,1,"], plain).when!]).toEqual([30]);
  });

  it("is without the readings set aside, in that pass alone", () => {
    const made = table(rows, undefined, ["# removed: A1, pass 2: swarf", "# removed: datum 1, pass 2: knocked"]);
    expect([...made.z]).toEqual([2, 1, 4]);
    expect([...made.datum.z]).toEqual([7, 8]);
  });

  it("knows its passes, least first", () => {
    expect(passesOf([3, 3, 1, 3, 2, 2])).toEqual([1, 2, 3]);
    expect(passesOf([])).toEqual([]);
  });

  it("can be had without some places, what is left numbered anew", () => {
    const made = table(rows);
    expect(withoutPlaces(made, new Set())).toBe(made);
    const less = withoutPlaces(made, new Set([0]));
    expect(less.labels).toEqual(["A1"]);
    expect([[...less.x], [...less.y], [...less.place], [...less.pass], [...less.z], [...less.when!]]).toEqual([
      [0],
      [10],
      [0, 0],
      [1, 2],
      [1, 3],
      [3, 6],
    ]);
    expect(less.datum).toBe(made.datum);
    expect(withoutPlaces({ ...made, when: undefined }, new Set([1])).when).toBeUndefined();
  });
});

describe("a course known beforehand", () => {
  const course: KnownCourse = {
    statement: "the growth of the spindle was taken out",
    shiftUm: (s) => s / 60,
    doubtsUm: (s) => [s / 600, 1],
  };

  it("is taken out of each reading by its time, datums included, and its doubt averaged over the readings of a place", () => {
    const made = aHeightTable([
      { at: "D1", z: 0, when: 1 },
      { at: "A1", z: 10, when: 2 },
      { at: "A2", z: 20, when: 4 },
      { at: "A1", z: 30, when: 8, pass: 2 },
      { at: "D1", z: 5, when: 9 },
    ]);
    const inMinutes = withoutCourse(made, course, "t");
    expect([...inMinutes.table.z]).toEqual([8, 16, 22]);
    expect([...inMinutes.table.datum.z]).toEqual([-1, -4]);
    expect(inMinutes.modesUm).toEqual([
      [close((0.2 + 0.8) / 2), close(0.4)],
      [1, 1],
    ]);
    const inHours = withoutCourse({ ...made, whenUnit: "h" }, course, "t");
    expect([...inHours.table.z]).toEqual([10 - 120, 20 - 240, 30 - 480]);
    expect(withoutCourse({ ...made, whenUnit: "s" }, course, "t").table.z[0]).toBeCloseTo(10 - 2 / 60, 12);
    const { when: _, ...datum } = made.datum;
    const noWhen = withoutCourse({ ...made, datum: { ...datum, when: undefined } }, course, "t").table;
    expect([...noWhen.datum.z]).toEqual([0, 5]);
  });

  it("is refused where readings have no time", () => {
    const refused = {
      code: "no-times",
      message:
        "t: not every reading has a time that runs on with the order of reading; what moved meanwhile can be taken out by the time of each reading only: read with a column time, or take the drift from the datum returns",
    };
    const made = aHeightTable([{ at: "A1", z: 1 }]);
    expect(refusal(() => withoutCourse({ ...made, whenUnit: "readings" }, course, "t"))).toEqual(refused);
    expect(refusal(() => withoutCourse({ ...made, when: undefined }, course, "t"))).toEqual(refused);
  });

  it("stands in what was done and in the doubt of the map, before the drift", () => {
    const rows = ["A1,0,0,10,1,1", "B1,50,0,20,1,2", "C1,90,0,30,1,3"];
    const survey = parseSurvey(text(rows, "place,x/mm,y/mm,z/um,pass,time/min"), { name: "t" });
    const map = survey.surfaceWithout(course);
    expect(map.places.map(({ zUm }) => zUm)).toEqual([close(9), close(18), close(27)]);
    expect(map.done).toEqual([
      "the growth of the spindle was taken out",
      "the sheet has no datum returns; drift was not tested and nothing was taken out",
    ]);
    expect(map.drift!.modesUm).toEqual([
      [close(0.1), close(0.2), close(0.3)],
      [1, 1, 1],
    ]);
    expect(survey.surface().drift!.modesUm).toEqual([]);
    expect(survey.timesAre).toBe("from the start");
  });
});

describe("the map of a sheet", () => {
  const rows = ["A1,0,0,3,1", "B1,50,0,-2,1", "C1,90,0,,1", "A1,0,0,5,2", "B1,50,0,-2,2", "C1,90,0,8,2"];

  it("has everything that a fit needs", () => {
    const survey = parseSurvey(text(rows), { name: "t" });
    const { frame, gauge: dial } = survey;
    const { caveat, ...map } = survey.surface();
    // a blank cell is no place of the map, and said beside it
    expect(caveat?.sentence()).toBeUndefined();
    expect(map).toEqual({
      name: "t",
      frame,
      gauge: dial,
      places: [
        { label: "A1", xMm: 0, yMm: 0, zUm: close(4), count: 2 },
        { label: "B1", xMm: 50, yMm: 0, zUm: close(-2), count: 2 },
        { label: "C1", xMm: 90, yMm: 0, zUm: close(7.5), count: 1 },
      ],
      // after the means of the passes A1 ∓½, B1 ±½: s = 1, one degree of freedom; 2, 2 and 1 readings, harmonic mean 1.5
      noise: {
        standardUncertaintyUm: close(1 / Math.sqrt(1.5)),
        degreesOfFreedom: 1,
        source: "passes against each other",
      },
      drift: {
        model: "not tested",
        statement: "the sheet has no datum returns; drift was not tested and nothing was taken out",
        modesUm: [],
      },
      done: [
        "the sheet has no datum returns; drift was not tested and nothing was taken out",
        "the passes were brought to one level before means were taken, as some places lack a pass",
      ],
    });
  });

  it("says nothing of levels where passes are whole, or where there is one", () => {
    const done = (list: string[]) => parseSurvey(text(list)).surface().done;
    const untested = "the sheet has no datum returns; drift was not tested and nothing was taken out";
    expect(done(rows.filter((row) => !row.startsWith("C")))).toEqual([untested]);
    expect(done(rows.slice(0, 2))).toEqual([untested]);
    expect(
      done(
        ["A1,0,0,3,1", "A1,0,0,3,1", "B1,5,0,3,1"]
          .map((row, i) => `${row},${i + 1}`)
          .slice(0, 0)
          .concat(rows.slice(0, 2)),
      ),
    ).toEqual([untested]);
  });

  it("brings three passes with gaps to one level", () => {
    // heights 0, 10, 20, 30; passes lifted by 0, 6 and −3, whose mean is 1
    const lifted = [0, 6, -3];
    const list = [0, 1, 2].flatMap((k) =>
      [0, 1, 2, 3].filter((i) => i !== k).map((i) => `P${i},${10 * i},0,${10 * i + lifted[k]!},${k + 1}`),
    );
    const { places } = parseSurvey(text(list)).surface();
    const heights = Object.fromEntries(places.map(({ label, zUm }) => [label, zUm]));
    expect([0, 1, 2, 3].map((i) => heights[`P${i}`])).toEqual([0, 1, 2, 3].map((i) => expect.closeTo(10 * i + 1, 6)));
  });

  it("takes its noise from the gauge where nothing was read twice, and from its step where that is all there is", () => {
    const noise = (more: string[], list = rows.slice(0, 2)) => parseSurvey(text(list, undefined, more)).surface().noise;
    expect(noise([])).toEqual({
      standardUncertaintyUm: close(1 / Math.sqrt(12)),
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      source: "the resolution of the gauge alone, as nothing was read twice",
    });
    expect(noise(["# gauge repeatability: 2 um with 9 degrees of freedom"])).toEqual({
      standardUncertaintyUm: close(2),
      degreesOfFreedom: 9,
      source: "the repeatability stated for the gauge",
    });
    expect(noise(["# gauge repeatability: 0.3 um with 9 degrees of freedom"])).toEqual({
      standardUncertaintyUm: close(0.3),
      degreesOfFreedom: 9,
      source: "the repeatability stated for the gauge",
    });
    expect(noise(["# gauge repeatability: 0.2 um with 9 degrees of freedom"])).toEqual({
      standardUncertaintyUm: close(1 / Math.sqrt(12)),
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      source: "the resolution of the gauge, as repeats scatter by less than half a step",
    });
    // repeats at the datum, s = 2 with 2 degrees of freedom, before what is stated
    expect(
      noise(
        ["# gauge repeatability: 5 um with 9 degrees of freedom"],
        ["datum,0,0,1,1", "datum,0,0,3,1", "datum,0,0,5,1", ...rows.slice(0, 2)],
      ),
    ).toEqual({ standardUncertaintyUm: close(2), degreesOfFreedom: 2, source: "repeats at the datum" });
  });

  it("says by what readings were multiplied, and what was set aside", () => {
    const lever = gauge({ resolution: um(1), maximumPermissibleError: um(4), leverAngle: deg(60), sense: "minus" });
    const survey = parseSurvey(text(rows.slice(0, 2)), { gauge: lever }).withoutReading("B1", 1, "swarf\n there ");
    expect(survey.surface().done).toEqual([
      "readings were multiplied by -0.5000 for the sign and the angles of the gauge",
      "the sheet has no datum returns; drift was not tested and nothing was taken out",
      "B1, pass 1 was set aside: swarf there",
    ]);
    expect(survey.surface().places).toHaveLength(1);
  });
});

it("a survey turned over twice says what its sign is", () => {
  const survey = parseSurvey(text(["A1,0,0,3,1"]));
  expect([survey, survey.flipped(), survey.flipped().flipped()].map(({ gauge: { sense } }) => sense)).toEqual([
    undefined,
    "minus",
    "plus",
  ]);
  expect(Object.isFrozen(survey.flipped().gauge)).toBe(true);
});

describe("a survey in one line", () => {
  it("names places, what they stand against, readings, passes, returns, blanks and what was set aside", () => {
    const rows = ["A1,0,0,3,1", "B1,50,0,-2,1", "C1,90,0,,1", "datum,5,5,1,1", "datum,5,5,2,1"];
    const one = parseSurvey(text(rows), { name: "t" });
    expect(`${one}`).toBe("t: 3 places against travel, 2 readings in 1 pass, 2 datum readings, 1 blank");
    expect(`${one.withoutReading("A1", 1, "why")}`).toBe(
      "t: 3 places against travel, 1 readings in 1 pass, 2 datum readings, 1 blank, 1 set aside",
    );
    const artefact = parseSurvey(text(rows).replace("travel", "artefact"), { name: "t" });
    expect(`${artefact}`).toContain("3 places against an artefact, ");
    expect(inspected(one)).toBe(`${one}`);
    expect([...one].map(({ place }) => place)).toEqual(["A1", "B1"]);
    expect(one.datumReturns.map(({ place, z }) => `${place} ${z.in("um")}`)).toEqual(["datum 1", "datum 2"]);
  });

  it("says how its times were written, or that some are missing", () => {
    const timed = (heading: string, ...times: string[]) =>
      parseSurvey(
        text(
          times.map((time, i) => `${i > 1 ? "datum" : `A${i}`},${i > 1 ? 9 : i},0,1,1,${time}`),
          `place,x/mm,y/mm,z/um,pass,${heading}`,
        ),
      ).timesAre;
    expect(timed("time", "19:00", "19:01", "19:02")).toBe("of the day");
    expect(timed("time/s", "1", "2", "3")).toBe("from the start");
    expect(timed("time", "19:00", "", "19:02")).toBeUndefined();
    expect(timed("time", "19:00", "19:01", "19:02", "")).toBeUndefined();
    expect(timed("note", "a", "b")).toBeUndefined();
  });

  it("gives a reading with everything its row says, and nothing that it does not", () => {
    const heading = "place,x/mm,y/mm,z/um,pass,order,time,temperature/degF,approach,note";
    const [full, bare] = parseSurvey(text(["A1,1,2,3,4,5,0:00:30,68,+x,ok", "B1,6,7,8,9,,,,,"], heading)).readings();
    expect(full).toEqual({
      place: "A1",
      x: expect.objectContaining({ si: 0.001 }),
      y: expect.objectContaining({ si: 0.002 }),
      z: expect.objectContaining({ si: expect.closeTo(3e-6, 15) }),
      pass: 4,
      order: 5,
      time: seconds(30),
      temperature: expect.objectContaining({ si: expect.closeTo(293.15, 9) }),
      approach: "+x",
      note: "ok",
    });
    expect(Object.keys(bare!).sort()).toEqual(["pass", "place", "x", "y", "z"]);
    const [datum] = parseSurvey(text(["datum,,,3,1", "A1,0,0,1,1"])).datumReturns;
    expect(Object.keys(datum!).sort()).toEqual(["order", "pass", "place", "z"]);
  });
});

describe("statistics by place", () => {
  it("count what was read and not set aside, by name, with n − 1", () => {
    const survey = parseSurvey(
      text([
        "A10,0,0,1,1",
        "A2,10,5,2,1",
        "A2,10,5,4,2",
        "A2,10,5,9,3",
        "B1,20,0,,1",
        "datum,1,1,5,1",
        "A10,0,0,5,2",
        "A10,0,0,77,3",
      ]),
      { name: "t" },
    ).withoutReading("A10", 3, "slip");
    const found = survey.byPlace();
    expect(found.toArray().map(({ place, count }) => `${place} ${count}`)).toEqual(["A2 3", "A10 2"]);
    const [a2, a10] = [...found];
    expect([a2!.x.in("mm"), a2!.y.in("mm"), a2!.mean.in("um")]).toEqual([10, 5, close(5)]);
    // 9 + 1 + 16 over 2
    expect(a2!.standardDeviation!.in("um")).toBeCloseTo(Math.sqrt(13), 9);
    expect(a10!.standardDeviation!.in("um")).toBeCloseTo(Math.sqrt(8), 9);
    expect([found.length, found.at(-1)?.place, found.at(2), found.at(0)?.place]).toEqual([2, "A10", undefined, "A2"]);
    expect(`${found}`).toBe("t: 2 places, 5 readings");
    expect(inspected(found)).toBe(`${found}`);
    const once = parseSurvey(text(["A1,0,0,1,1", "B1,0,5,3,1"])).byPlace();
    expect(once.at(0)).not.toHaveProperty("standardDeviation");
    expect(once.toArray().map(({ place }) => place)).toEqual(["A1", "B1"]);
  });
});
