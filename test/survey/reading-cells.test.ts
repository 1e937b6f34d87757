import { isDeepStrictEqual } from "node:util";
import { describe, expect, it } from "vitest";
import { um } from "../../kernel-lib/src/quantity/index.js";
import type { ColumnMap } from "../../kernel-lib/src/survey/column-map.js";
import { gauge } from "../../kernel-lib/src/survey/gauge.js";
import { parseCarefully, parseSheet, sourceOfText } from "../../kernel-lib/src/survey/parse-sheet.js";
import { clockSeconds } from "../../kernel-lib/src/survey/row-reader.js";
import { scanSheet } from "../../kernel-lib/src/survey/scan-sheet.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { refusal } from "../refusal.js";

const above = [
  "# relative to: travel",
  "# front: y-",
  "# +x: right",
  "# +y: back",
  "# gauge resolution: 1 um",
  "# gauge maximum permissible error: 4 um",
];
const text = (rows: readonly string[], heading = "place,x/mm,y/mm,z/um,pass") =>
  [...above, heading, ...rows].join("\n");
/** the columns as plain lists, read the quick way, which must have read them, and the careful way, which must agree */
const columns = (sheet: string) => {
  const source = sourceOfText(sheet);
  expect(scanSheet(source.bytes!, "t", undefined)).toBeDefined();
  const quick = parseSheet(source, { name: "t" });
  expect(isDeepStrictEqual(quick, parseCarefully(sheet, { name: "t" }))).toBe(true);
  return quick.columns;
};
const list = (column: ArrayLike<number> | undefined) => column && Array.from(column);
/** whether the quick way left a sheet to the careful one, and what came of it */
const left = (sheet: string, map?: ColumnMap) => scanSheet(sourceOfText(sheet).bytes!, "t", map) === undefined;
/** which fault a sentence tells, as a notebook may ask for it */
const codes: readonly (readonly [RegExp, string])[] = [
  [/ was read in line \d+ already/, "two-readings"],
  [/ and in line \d+ at x /, "two-spots"],
  [/column pass: (is blank|\S+ is not a pass)/, "pass"],
  [/: is blank( at|;)/, "blank"],
  [/ is not a number/, "not-a-number"],
  [/ is not a time of day/, "time"],
  [/ is not a name for a place/, "place-name"],
  [/ stands below the heading/, "late-preamble"],
  [/ where the heading has \d/, "row-width"],
  [/ use one of the two throughout$/, "mixed-decimals"],
  [/ in the middle of a cell/, "quotation-mark"],
  [/ (has no unit|has the unit ".*");/, "heading-unit"],
  [/ (is not known|has no column .*);/, "heading"],
  [/ names .*, as column /, "heading-twice"],
  [/columns\.\S+ names the heading|is in no entry of columns/, "column-map"],
];
const sentenceOf = (act: () => unknown) => {
  const { code, message } = refusal(act);
  expect(code).toBe(codes.find(([pattern]) => pattern.test(message))?.[1]);
  return message;
};
const said = (sheet: string) => {
  expect(left(sheet)).toBe(true);
  return sentenceOf(() => parseSurvey(sheet, { name: "t" }));
};

describe("the cells of a long sheet, read at speed", () => {
  it("hold numbers to the last digit, with sign, point, blanks around and nothing", () => {
    const cells = [
      "0",
      "-0",
      "+3.",
      ".5",
      "-.25",
      " 7 ",
      "\t8\t",
      "",
      "  ",
      "0.1",
      "123456789012345",
      "12345678901234.5",
      "0.00000000000001",
      "1234567890123456",
      "0.1234567890123456",
      "1e-7",
      "−4",
      "100",
      "99.99",
    ];
    const { z } = columns(text(cells.map((cell, i) => `P${i},${i},0,${cell},1`)));
    const wanted = cells.map((cell) => (cell.trim() === "" ? Number.NaN : Number(cell.replace("−", "-")) + 0));
    expect(list(z)).toEqual(wanted);
    expect(Object.is(z[1], 0)).toBe(true);
  });

  it("have a decimal comma between semicolons and tabs", () => {
    for (const mark of [";", "\t"]) {
      const sheet = text(
        ["A1,0,0,1:5,1", "B1,50:25,0,-2:125,1"].map((row) => row.replaceAll(",", mark).replaceAll(":", ",")),
        "place,x/mm,y/mm,z/um,pass".replaceAll(",", mark),
      );
      expect(list(columns(sheet).z)).toEqual([1.5, -2.125]);
      expect(list(columns(sheet).x)).toEqual([0, 50.25]);
    }
  });

  it("end at any line end, with blank cells and blank lines between", () => {
    for (const end of ["\n", "\r\n", "\r"]) {
      const sheet = text(["A1,0,0,1,1,, ", "", ",,,", "B1,50,0,2,1,\t", ""]).replaceAll("\n", end);
      expect(list(columns(sheet).z)).toEqual([1, 2]);
    }
  });

  it("hold words: places, approaches, notes, each kept once", () => {
    const made = columns(
      text(
        ["A1,0,0,1,1,+x,first", "B1,5,0,2,1,-x,", "C1,9,0,3,1,,é ö", "B1,5,0,4,2,+x,first", "A1,0,0,5,2,-x, é ö "],
        "place,x/mm,y/mm,z/um,pass,approach,note",
      ),
    );
    expect(made.labels).toEqual(["A1", "B1", "C1"]);
    expect(list(made.place)).toEqual([0, 1, 2, 1, 0]);
    expect(list(made.pass)).toEqual([1, 1, 1, 2, 2]);
    expect(made.approach!.words).toEqual(["+x", "-x"]);
    expect(list(made.approach!.at)).toEqual([0, 1, -1, 0, 1]);
    expect(made.note!.words).toEqual(["first", "é ö"]);
    expect(list(made.note!.at)).toEqual([0, -1, 1, 0, 1]);
  });

  it("hold times of day or counts, temperatures and an order, and none where a column is blank", () => {
    const made = columns(
      text(
        ["A1,0,0,1,1,3,19:05:07,20.5", "B1,5,0,2,1,1,7:00,", "C1,9,0,3,1,,,21"],
        "place,x/mm,y/mm,z/um,pass,order,time,temperature/degC",
      ),
    );
    expect(list(made.order as Float64Array)).toEqual([3, 1, Number.NaN]);
    expect(list(made.time)).toEqual([19 * 3600 + 5 * 60 + 7, 7 * 3600, Number.NaN]);
    expect(list(made.temperature)).toEqual([20.5, Number.NaN, 21]);
    const blank = columns(
      text(["A1,0,0,1,1,,,,,"], "place,x/mm,y/mm,z/um,pass,order,time,temperature/degC,approach,note"),
    );
    expect([blank.order, blank.time, blank.temperature, blank.approach, blank.note]).toEqual(
      new Array(5).fill(undefined),
    );
    expect(list(columns(text(["A1,0,0,1,1,90"], "place,x/mm,y/mm,z/um,pass,time/min")).time)).toEqual([90]);
  });

  it("stand in the order of reading, unless the sheet says that it is unknown", () => {
    expect(columns(text(["A1,0,0,1,1"])).order).toBe("as written");
    expect(columns(`# order: as written\n${text(["A1,0,0,1,1"])}`).order).toBe("as written");
    expect(columns(`# order:unknown\n${text(["A1,0,0,1,1"])}`).order).toBeUndefined();
    const spelled = `# Order: unknown\n${text(["A1,0,0,1,1"])}`;
    expect(left(spelled)).toBe(true);
    expect(parseSurvey(spelled).readings()[0]!.order).toBeUndefined();
  });

  it("may leave a datum without a spot, and give it one later", () => {
    const made = columns(text(["datum,,,1,1", "A1,0,0,2,1", "datum,5,6,3,1", "datum,,,4,1", "datum,5,6,4,1"]));
    expect(list(made.x)).toEqual([Number.NaN, 0, 5, Number.NaN, 5]);
    expect(list(made.y)).toEqual([Number.NaN, 0, 6, Number.NaN, 6]);
  });

  it("may be many more than were made room for, and hold many words", () => {
    const rows = Array.from({ length: 300 }, (_, i) => `P${i},${i},${i % 7},${i % 11},1,`);
    // read again in no order that the next place could be guessed from
    const again = Array.from({ length: 300 }, (_, i) => rows[(i * 77) % 300]!.replace(/,1,$/, ",2,"));
    // lines grow shorter behind the first ones
    const long = Array.from({ length: 30 }, (_, i) => `L${i},${i},0,0,1,${"n".repeat(900)}`);
    const made = columns(text([...long, ...rows, ...again], "place,x/mm,y/mm,z/um,pass,note"));
    expect(made.count).toBe(630);
    expect(made.labels).toHaveLength(330);
    expect(made.labels[329]).toBe("P299");
    expect(list(made.place)).toEqual([
      ...Array.from({ length: 330 }, (_, i) => i),
      ...Array.from({ length: 300 }, (_, i) => 30 + ((i * 77) % 300)),
    ]);
    expect(list(made.y)!.slice(30, 330)).toEqual(Array.from({ length: 300 }, (_, i) => i % 7));
  });

  it("take a heading in any order, marked, in quotation marks or not, behind lines in them", () => {
    const sheet = `\uFEFF"# note: a ""b""",,\n${text(["1,3,A1,0,0"], "pass,z/um,place,y/mm,x/mm")}`;
    expect(list(columns(sheet).z)).toEqual([3]);
    expect(left(text(["A1,0,0,1,1"], '"place",x/mm,y/mm,z/um,pass'))).toBe(true);
    expect(parseSurvey(text(["A1,0,0,1,1"], '"place",x/mm,y/mm,z/um,pass')).readings()).toHaveLength(1);
  });

  it("are left to the careful way where anything is out of the ordinary, which then reads the same", () => {
    const odd = [text(['"A1",0,0,1,1']), text(["A1,0,0,1,1", 'A1,0,0,"2",2']), text(["\u00a0A1,0,0,1,1"])];
    for (const sheet of odd) {
      expect(left(sheet)).toBe(true);
      expect(parseSurvey(sheet).places[0]!.label).toBe("A1");
    }
  });
});

describe("the same sheets are refused where something is wrong", () => {
  it.each<[rows: string[], sentence: string, heading?: string]>([
    [
      ["A1,0,0,1,1", "A1,0,0,2,1"],
      'line 9: "A1", pass 1 was read in line 8 already; number the pass, or add a column order with a number for each reading',
    ],
    [
      ["A1,0,0,1,1,4", "B1,5,0,1,1,5", "A1,0,0,2,1,4"],
      'line 10: "A1", pass 1, order 4 was read in line 8 already; number the pass, or add a column order with a number for each reading',
      "place,x/mm,y/mm,z/um,pass,order",
    ],
    [
      ["datum,0,0,1,1,4", "datum,0,0,1,1,4"],
      'line 9: "datum", pass 1, order 4 was read in line 8 already; number the pass, or add a column order with a number for each reading',
      "place,x/mm,y/mm,z/um,pass,order",
    ],
    [
      ["A1,0,0,1,1,", "A1,0,0,1,1,"],
      'line 9: "A1", pass 1 was read in line 8 already; number the pass, or add a column order with a number for each reading',
      "place,x/mm,y/mm,z/um,pass,order",
    ],
    [
      ["A1,0,0,1,1", "A1,0,1,2,2"],
      'line 9: "A1" stands at x 0, y 1, and in line 8 at x 0, y 0; correct one, or give the second place a name of its own',
    ],
    [
      ["A1,0,0,1,1", "A1,1,0,2,2"],
      'line 9: "A1" stands at x 1, y 0, and in line 8 at x 0, y 0; correct one, or give the second place a name of its own',
    ],
    [
      ["datum,0,0,1,1", "datum,1,0,2,1"],
      'line 9: "datum" stands at x 1, y 0, and in line 8 at x 0, y 0; correct one, or give the second place a name of its own',
    ],
    [["A1,,,1,1"], 'line 8, column x/mm: is blank at "A1"; write where the stylus stood'],
    [["A1,0,,1,1"], 'line 8, column y/mm: is blank at "A1"; write where the stylus stood'],
    [
      ["datum,0,,1,1"],
      'line 8, column y/mm: is blank at "datum"; write where the stylus stood, or leave both x and y blank',
    ],
    [
      ["datum,,0,1,1"],
      'line 8, column x/mm: is blank at "datum"; write where the stylus stood, or leave both x and y blank',
    ],
    [["A1,0,0,1,"], "line 8, column pass: is blank; write 1 for the first pass, 2 for the second"],
    [["A1,0,0,1,1.5"], "line 8, column pass: 1.5 is not a pass; write 1 for the first pass, 2 for the second"],
    [["A1,0,0,1,1000000"], "line 8, column pass: 1000000 is not a pass; write 1 for the first pass, 2 for the second"],
    [["A1,0,0,1,one"], 'line 8, column pass: "one" is not a number; type digits only'],
    [
      ["A1,0,0,1,1,x"],
      'line 8, column order: "x" is not a number; type digits only, or leave the cell blank if it is not known',
      "place,x/mm,y/mm,z/um,pass,order",
    ],
    [
      ["A1,0,0,1,1,x"],
      'line 8, column time/min: "x" is not a number; type digits only, or leave the cell blank if it is not known',
      "place,x/mm,y/mm,z/um,pass,time/min",
    ],
    [
      ["A1,0,0,1,1,7"],
      'line 8, column time: "7" is not a time of day; write hours and minutes, like 19:05, or head the column time/min',
      "place,x/mm,y/mm,z/um,pass,time",
    ],
    [
      ["A1,0,0,1-2,1"],
      'line 8, column z/um: "1-2" is not a number; type digits only, or leave the cell blank if the place was not probed',
    ],
    [
      ["A1,0,0,1..2,1"],
      'line 8, column z/um: "1..2" is not a number; type digits only, or leave the cell blank if the place was not probed',
    ],
    [
      ["A1,0,0,-,1"],
      'line 8, column z/um: "-" is not a number; type digits only, or leave the cell blank if the place was not probed',
    ],
    [
      ["A1,0,0,.,1"],
      'line 8, column z/um: "." is not a number; type digits only, or leave the cell blank if the place was not probed',
    ],
    [
      ["A1,0,0,3 4,1"],
      'line 8, column z/um: "3 4" is not a number; type digits only, or leave the cell blank if the place was not probed',
    ],
    [
      ["a:b,0,0,1,1"],
      'line 8, column place: "a:b" is not a name for a place; use at most 40 characters, no colon, no line end and no # in front',
    ],
    [
      [`${"x".repeat(41)},0,0,1,1`],
      `line 8, column place: "${"x".repeat(39)}…" is not a name for a place; use at most 40 characters, no colon, no line end and no # in front`,
    ],
    [["#A1,0,0,1,1"], 'line 8: "#A1,0,0,1,1" stands below the heading; move the line above it'],
    [
      ["0,#A1,0,1,1"],
      'line 8, column place: "#A1" is not a name for a place; use at most 40 characters, no colon, no line end and no # in front',
      "x/mm,place,y/mm,z/um,pass",
    ],
    [
      ["A1,0,0,1,1,2"],
      "line 8: 6 cells where the heading has 5; put a text with a comma into quotation marks, or check for a decimal comma",
    ],
    [["A1,0,0,1"], "line 8: 4 cells where the heading has 5; fill the row up, blank cells included"],
  ])("%#", (rows, sentence, heading) => {
    expect(said(text(rows, heading))).toBe(`t ${sentence}`);
  });

  it("where decimals have points and commas", () => {
    const mixed = (rows: string[]) => said(text(rows, "place;x/mm;y/mm;z/um;pass"));
    expect(mixed(["A1;0;0;1,5;1", "B1;5;0;-2.5;1"])).toBe(
      't line 9, column z/um: "-2.5" has a decimal point and line 8 has a comma; use one of the two throughout',
    );
    expect(mixed(["A1;0.5;0;1;1", "B1;5;0;1,23456789012345678;1"])).toBe(
      't line 9, column z/um: "1,23456789012345678" has a decimal comma and line 8 has a point; use one of the two throughout',
    );
  });

  it("but a place may be read again in a pass where the order tells the readings apart, and a datum always", () => {
    const ordered = "place,x/mm,y/mm,z/um,pass,order";
    for (const rows of [
      ["A1,0,0,1,1,4", "B1,5,0,1,1,3", "A1,0,0,2,1,2"],
      ["A1,0,0,1,1,4", "A1,0,0,2,1,"],
      ["datum,0,0,1,1,", "datum,0,0,1,1,", "datum,0,0,1,1,2"],
      ["A1,0,0,1,1,1", "A1,0,0,2,1,2", "A1,0,0,3,1,3"],
    ]) {
      expect(columns(text(rows, ordered)).count).toBe(rows.length);
    }
    expect(columns(text(["datum,0,0,1,1", "datum,0,0,1,1", "A1,0,0,1,1", "A1,0,0,1,2"])).count).toBe(4);
    // passes numbered far apart
    const far = text(["A1,0,0,1,1", "A1,0,0,1,999999", "A1,0,0,1,7"]);
    expect(list(columns(far).pass)).toEqual([1, 999999, 7]);
    expect(said(text(["A1,0,0,1,1", "A1,0,0,1,7", "B1,5,0,1,1", "A1,0,0,1,1"]))).toContain('line 11: "A1", pass 1 was');
  });

  it("a pass goes up to 999 999", () => {
    expect(list(columns(text(["A1,0,0,1,999999"])).pass)).toEqual([999_999]);
    expect(list(parseCarefully(text(["A1,0,0,1,999999"]), {}).columns.pass)).toEqual([999_999]);
  });

  it("and a name of a place has up to 40 characters", () => {
    expect(columns(text([`${"x".repeat(40)},0,0,1,1`])).labels[0]).toHaveLength(40);
  });
});

describe("the heading of a sheet", () => {
  const heading = (cells: string, row = "A1,0,0,1,1") =>
    sentenceOf(() => parseSurvey(text([row], cells), { name: "t" }));
  const toWrite =
    'or say which column is which: { columns: { place: "place", x: { heading: "x/mm", unit: "mm" }, y: { heading: "y/mm", unit: "mm" }, z: { heading: "z/um", unit: "um" }, pass: 1 } }';

  it("names its quantities in any letters, over any of their units", () => {
    const units = (cells: string, row: string) => parseSheet(sourceOfText(text([row], cells)), {}).units;
    expect(units("Place,X / in,y/inch,z/μm,PASS,temperature/°C,time/h", "A1,0,0,1,1,20,1")).toEqual({
      x: "in",
      y: "in",
      z: "um",
      time: "h",
      temperature: "degC",
    });
    expect(units("place,x/m,y/nm,z/thou,pass,temperature/K,time/s", "A1,0,0,1,1,20,1")).toEqual({
      x: "m",
      y: "nm",
      z: "thou",
      time: "s",
      temperature: "K",
    });
    expect(units("place,x/mm,y/mm,z/µm,pass,temperature/°F,,", "A1,0,0,1,1,20")).toEqual({
      x: "mm",
      y: "mm",
      z: "um",
      time: "clock",
      temperature: "degF",
    });
  });

  it.each([
    [
      "place,x/mm,y/mm,z/um/m,pass",
      `t line 7, column 4: the heading "z/um/m" is not known; use place, x, y, z, pass, order, time, temperature, approach, note, ${toWrite.replace('"z/um", unit', '"z/um/m", unit')}`,
    ],
    [
      "place,x/mm,y/mm,z/um,pass,time/day",
      't line 7, column 6: the heading "time/day" has the unit "day"; write time/ and one of s, min, h',
    ],
    [
      "place,x/mm,y/mm,z/um,pass,temperature",
      't line 7, column 6: the heading "temperature" has no unit; write temperature/ and one of degC, degF, K',
    ],
    ["place,x/mm,y/mm,z/um,pass/1", 't line 7, column 5: the heading "pass/1" has the unit "1"; write pass alone'],
    [
      "place,x/mm,y/mm,z/toString,pass",
      't line 7, column 4: the heading "z/toString" has the unit "toString"; write z/ and one of m, mm, um, nm, in, thou, tenth',
    ],
    [
      "place,x/mm,y/mm,z/um",
      `t line 7: the heading "place,x/mm,y/mm,z/um" has no column pass; write the heading place,x/mm,y/mm,z/um,pass, ${toWrite}`,
    ],
    [
      "place,x/mm",
      `t line 7: the heading "place,x/mm" has no column y, z, pass; write the heading place,x/mm,y/mm,z/um,pass, ${toWrite.replace('"y/mm"', '"Y"').replace('"z/um"', '"Z"')}`,
    ],
  ])("is refused: %s", (cells, sentence) => {
    expect(heading(cells)).toBe(sentence);
  });
});

describe("a foreign heading", () => {
  const dial = gauge({ resolution: um(1), maximumPermissibleError: um(4) });
  const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" } as const;
  const map: ColumnMap = {
    place: "Pt",
    x: { heading: "X", unit: "mm" },
    y: { heading: "Y", unit: "mm" },
    z: { heading: " Dev ", unit: "um" },
    pass: "Run",
    order: "No",
    time: { heading: "Clock", unit: "clock" },
    temperature: { heading: "T", unit: "degC" },
    approach: "From",
    note: "Word",
    ignore: [" Tool "],
  };
  const read = (sheet: string, columns: ColumnMap = map) =>
    parseSurvey(sheet, { name: "t", gauge: dial, frame, columns });
  const cells = "Pt,X,Y,Dev,Run,No,Clock,T,From,Word,Tool";

  it("is read through the map, column by column", () => {
    const [one] = read(`${cells}\n1,2,3,4,5,6,19:05,21,+x,ok,9\n`).readings();
    expect(one).toMatchObject({ place: "1", pass: 5, order: 6, approach: "+x", note: "ok" });
    expect([one!.x!.in("mm"), one!.y!.in("mm"), one!.z.in("um"), one!.time!.in("min")]).toEqual([
      2,
      3,
      expect.closeTo(4, 12),
      1145,
    ]);
    expect(one!.temperature!.in("degC")).toBeCloseTo(21, 9);
    const minutes = read(`${cells}\n1,2,3,4,5,6,90,21,+x,ok,9\n`, { ...map, time: { heading: "Clock", unit: "min" } });
    expect(minutes.readings()[0]!.time!.in("min")).toBe(90);
    expect(minutes.timesAre).toBe("from the start");
  });

  it("is refused where the map names a heading that is not there, or leaves one out", () => {
    expect(sentenceOf(() => read("Pt,X\n1,2\n"))).toBe(
      't line 1: columns.y names the heading "Y", which is not there; the sheet has "Pt", "X"',
    );
    expect(refusal(() => read(`${cells},Probe\n1,2,3,4,5,6,19:05,21,+x,ok,9,1\n`))).toEqual({
      code: "column-map",
      message:
        't line 1, column 12: the heading "Probe" is in no entry of columns; say what it is, or list it: ignore: ["Probe"]',
    });
  });
});

it("a time of day is hours and minutes, with seconds or without", () => {
  expect(["0:00", "9:05", "23:59:59", "00:00:01"].map(clockSeconds)).toEqual([0, 32_700, 86_399, 1]);
  for (const none of ["24:00", "9:60", "9:05:60", "9:5", "123:00", "9:05:1", "at 9:05", "9:05 h", ""])
    expect(clockSeconds(none)).toBeUndefined();
});
