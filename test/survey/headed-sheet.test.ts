import { describe, expect, it } from "vitest";
import { unitOf, wanted } from "../../kernel-lib/src/survey/column-units.js";
import { HeadedSheet } from "../../kernel-lib/src/survey/headed-sheet.js";
import { refusal } from "../refusal.js";

const kinds = {
  place: "word",
  z: "length",
  time: "time",
  tilt: "slope",
  turn: "angle",
  air: "temperature",
} as const;
const sheet = (heading: string, ...rows: string[]) =>
  new HeadedSheet(["# title: t", heading, ...rows].join("\n"), "t.csv", kinds);
/** the one cell of a column under a heading */
const cell = (heading: string, text: string) => {
  const made = sheet(`place;${heading}`, `A1;${text}`);
  return { made, row: made.rows[0]!, column: heading.split("/")[0]!.toLowerCase() };
};
const length = (heading: string, text: string) => {
  const { made, row, column } = cell(heading, text);
  return made.lengthUm(row, column);
};
const minutes = (heading: string, text: string) => {
  const { made, row, column } = cell(heading, text);
  return made.minutes(row, column);
};
const celsius = (heading: string, text: string) => {
  const { made, row, column } = cell(heading, text);
  return made.celsius(row, column);
};

describe("a sheet with headings of its own", () => {
  it("says which columns it has, how they are written and in which unit", () => {
    const made = sheet("Place, Z / mm ,,time,air/°F,Tilt/µm/m,turn/deg", "A1,1,,19:05,68,2,90", ",,,,,,");
    expect(made.columns("length")).toEqual(["z"]);
    expect(made.columns("temperature")).toEqual(["air"]);
    expect(["place", "z", "time", "air", "tilt", "turn"].map((column) => made.has(column))).toEqual(
      new Array(6).fill(true),
    );
    expect(made.has("x")).toBe(false);
    expect(made.heading("z")).toBe("Z / mm");
    expect(["place", "z", "time", "air", "tilt", "turn"].map((column) => made.unit(column))).toEqual([
      "",
      "mm",
      "clock",
      "degF",
      "um/m",
      "deg",
    ]);
    expect(made.rows).toEqual([{ line: 3, cells: ["A1", "1", "", "19:05", "68", "2", "90"] }]);
    expect(made.lines.takeText("title")).toBe("t");
    const [row] = made.rows;
    expect([made.text(row!, "place"), made.text(row!, "x")]).toEqual(["A1", ""]);
    expect(made.text({ line: 4, cells: [] }, "z")).toBe("");
    expect(made.number(row!, "tilt")).toBe(2);
  });

  it("takes a length in the unit of its heading", () => {
    expect(length("z/um", "3")).toBe(3);
    expect(length("z/mm", "-0,25")).toBe(-250);
    expect(length("z/thou", "2")).toBeCloseTo(50.8, 12);
    expect(length("z/in", "0.001")).toBeCloseTo(25.4, 12);
    expect(length("z/µm", "7")).toBe(7);
  });

  it("takes a time of day or a count of s, min, h as minutes", () => {
    expect(minutes("time", "19:05")).toBe(19 * 60 + 5);
    expect(minutes("time", "00:00")).toBe(0);
    expect(minutes("time", "7:00:30")).toBe(420.5);
    expect(minutes("time/s", "90")).toBe(1.5);
    expect(minutes("time/min", "90")).toBe(90);
    expect(minutes("time/h", "1.5")).toBe(90);
    expect(minutes("time/h", "")).toBeUndefined();
  });

  it("takes a temperature in °C, °F or K, and a blank one as none", () => {
    // 68 °F = 20 °C, 0 °C = 273.15 K: the definitions of the scales
    expect(celsius("air/degC", "20")).toBeCloseTo(20, 9);
    expect(celsius("air/°C", "20,5")).toBeCloseTo(20.5, 9);
    expect(celsius("air/degF", "68")).toBeCloseTo(20, 9);
    expect(celsius("air/K", "293.15")).toBeCloseTo(20, 9);
    expect(celsius("air/K", "")).toBeUndefined();
  });

  it("takes columns of any name where their unit is of a kind that is free", () => {
    const made = new HeadedSheet("time,Spindle nose/um,head/°C\n0:01,3,21\n", "w", { time: "time" }, [
      "length",
      "temperature",
    ]);
    expect(made.columns("length")).toEqual(["spindle nose"]);
    expect(made.columns("temperature")).toEqual(["head"]);
    expect(made.lengthUm(made.rows[0]!, "spindle nose")).toBe(3);
  });
});

describe("is refused with line and column", () => {
  const said = (act: () => unknown) => {
    const { code, message } = refusal(act);
    return `${code}: ${message}`;
  };
  it.each<[what: string, act: () => unknown, sentence: string]>([
    [
      "a heading that is not known",
      () => sheet("place,z/um,q"),
      'heading: t.csv line 2, column 3: the heading "q" is not known; use place, z, time, tilt, turn, air',
    ],
    [
      "a name that every object has",
      () => sheet("place,toString"),
      'heading: t.csv line 2, column 2: the heading "toString" is not known; use place, z, time, tilt, turn, air',
    ],
    [
      "a length without a unit",
      () => sheet("place,z"),
      'heading-unit: t.csv line 2, column 2: the heading "z" has no unit; write z/ and one of m, mm, um, nm, in, thou, tenth',
    ],
    [
      "a length over something else",
      () => sheet("place,z/kg"),
      'heading-unit: t.csv line 2, column 2: the heading "z/kg" has the unit "kg"; write z/ and one of m, mm, um, nm, in, thou, tenth',
    ],
    [
      "a time over something else",
      () => sheet("place,time/day"),
      'heading-unit: t.csv line 2, column 2: the heading "time/day" has the unit "day"; write time/ and one of s, min, h',
    ],
    [
      "a temperature over something else",
      () => sheet("place,air/C"),
      'heading-unit: t.csv line 2, column 2: the heading "air/C" has the unit "C"; write air/ and one of degC, degF, K',
    ],
    [
      "an inclination over something else",
      () => sheet("place,tilt/mm"),
      'heading-unit: t.csv line 2, column 2: the heading "tilt/mm" has the unit "mm"; write tilt/ and one of um/m, mm/m, arcsec, div',
    ],
    [
      "an angle over something else",
      () => sheet("place,turn/rad"),
      'heading-unit: t.csv line 2, column 2: the heading "turn/rad" has the unit "rad"; write turn/deg',
    ],
    [
      "a word over a unit",
      () => sheet("place/mm"),
      'heading-unit: t.csv line 2, column 1: the heading "place/mm" has the unit "mm"; write place alone',
    ],
    [
      "a column twice",
      () => sheet("place,z/um,Z/mm"),
      'heading-twice: t.csv line 2, column 3: the heading "Z/mm" names z once more; leave one of the two',
    ],
    [
      "a column that is missing",
      () => sheet("place,z/um").need(["place", "x", "z", "y"], "place,x/mm,y/mm,z/um"),
      "heading: t.csv: there is no column x, y; write the heading place,x/mm,y/mm,z/um",
    ],
    [
      "a blank length",
      () => length("z/um", ""),
      "blank: t.csv line 3, column z/um: is blank; every reading is needed, read it again",
    ],
    [
      "a length that is none",
      () => length("z/um", "high"),
      'not-a-number: t.csv line 3, column z/um: "high" is not a number; type digits only',
    ],
    [
      "a length with digits behind a word",
      () => length("z/um", "a 3 mm"),
      'not-a-number: t.csv line 3, column z/um: "a 3 mm" is not a number; type digits only',
    ],
    ...["3 mm", "+3 µm", "-2.5mm", "−1,5 um"].map((text): [string, () => unknown, string] => [
      `a length with a unit of its own, ${text}`,
      () => length("z/um", text),
      `mixed-units: t.csv line 3, column z/um: "${text}" brings a unit of its own; the unit stands once, in the heading: convert the cell and write digits only`,
    ]),
    [
      "a number that is none",
      () => {
        const { made, row } = cell("tilt/um/m", "steep");
        return made.number(row, "tilt");
      },
      'not-a-number: t.csv line 3, column tilt/um/m: "steep" is not a number; type digits only, the unit stands in the heading',
    ],
    [
      "a time of day that is none",
      () => minutes("time", "25:00"),
      'time: t.csv line 3, column time: "25:00" is no time; write hours and minutes like 19:05',
    ],
    [
      "a count of minutes that is none",
      () => minutes("time/min", "19:05"),
      'time: t.csv line 3, column time/min: "19:05" is no time; type digits only',
    ],
    [
      "a temperature that is none",
      () => celsius("air/degC", "warm"),
      'not-a-number: t.csv line 3, column air/degC: "warm" is not a number; type digits only, the unit stands in the heading',
    ],
    ...["20 °C", "+68F", "-3 deg C", "−3,5 K"].map((text): [string, () => unknown, string] => [
      `a temperature with a unit of its own, ${text}`,
      () => celsius("air/degC", text),
      `mixed-units: t.csv line 3, column air/degC: "${text}" brings a unit of its own; the unit stands once, in the heading: convert the cell and write digits only`,
    ]),
    [
      "a column of its own name whose unit is not said",
      () => new HeadedSheet("time,nose\n0:01,3\n0:02,-7\n0:03,\n", "w", { time: "time" }, ["length", "temperature"]),
      'heading-unit: w line 1, column 2: the heading "nose" has no unit and its cells run from -7 to 3; are they °C, °F, or a length? write nose/degC, nose/degF or nose/um',
    ],
    [
      "a column of its own name whose unit is not known",
      () => new HeadedSheet("time,nose/ell\n0:01,4\n", "w", { time: "time" }, ["length"]),
      'heading-unit: w line 1, column 2: the heading "nose/ell" has the unit "ell", which is not known, and its cells run from 4 to 4; are they °C, °F, or a length? write nose/degC, nose/degF or nose/um',
    ],
    [
      "a column of its own name whose unit is not known, nothing in it",
      () => new HeadedSheet("time,nose / ell\n0:01,a\n", "w", { time: "time" }, ["length"]),
      'heading-unit: w line 1, column 2: the heading "nose / ell" has the unit "ell", which is not known; are they °C, °F, or a length? write nose/degC, nose/degF or nose/um',
    ],
  ])("%s", (_, act, sentence) => {
    expect(said(act)).toBe(sentence);
  });
});

describe("the unit of a heading", () => {
  it("belongs to the kind of its column or to none", () => {
    const table = {
      word: [undefined, "mm"],
      length: [undefined, "mm", "µm", "inch", "degC"],
      time: [undefined, "s", "min", "h", "day"],
      temperature: [undefined, "degC", "°C", "degF", "°F", "K", "mm"],
      slope: [undefined, "um/m", "µm/m", "mm/m", "arcsec", "div", "mm"],
      angle: [undefined, "deg", "°", "rad"],
    } as const;
    const found = Object.entries(table).map(([kind, given]) => [kind, given.map((one) => unitOf(kind as "word", one))]);
    expect(Object.fromEntries(found)).toEqual({
      word: ["", undefined],
      length: [undefined, "mm", "um", "in", undefined],
      time: ["clock", "s", "min", "h", undefined],
      temperature: [undefined, "degC", "degC", "degF", "degF", "K", undefined],
      slope: [undefined, "um/m", "um/m", "mm/m", "arcsec", "div", undefined],
      angle: [undefined, "deg", "deg", undefined],
    });
    expect(wanted("temperature", "table")).toBe("write table/ and one of degC, degF, K");
  });
});
