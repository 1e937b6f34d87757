import { describe, expect, it } from "vitest";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { gauge } from "../../kernel-lib/src/survey/gauge.js";
import type { ParseOptions } from "../../kernel-lib/src/survey/parse-sheet.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { refusal } from "../refusal.js";

const preamble =
  "# relative to: travel\n# front: y-\n# +x: right\n# +y: back\n# gauge resolution: 1 um\n# gauge maximum permissible error: 4 um\n";
const heading = "place,x/mm,y/mm,z/um,pass\n";
const sheet = (rows: string, head = heading) => preamble + head + rows;

const mapLine =
  '{ columns: { place: "Pt", x: { heading: "X", unit: "mm" }, y: { heading: "Y", unit: "mm" }, z: { heading: "Z", unit: "um" }, pass: 1 } }';

const cases: [what: string, text: string, code: string, message: string, options?: ParseOptions][] = [
  [
    "is empty",
    "",
    "empty-sheet",
    "t.csv: holds nothing; write the heading place,x/mm,y/mm,z/um,pass and a row for each reading",
  ],
  [
    "holds only a preamble",
    preamble,
    "empty-sheet",
    "t.csv: holds only # lines and no heading; write the heading place,x/mm,y/mm,z/um,pass and a row for each reading",
  ],
  [
    "has no row",
    sheet(""),
    "empty-sheet",
    "t.csv line 7: no reading follows the heading; write a row for each reading",
  ],
  [
    "is no text",
    "PK\0\0",
    "not-text",
    "t.csv: holds bytes that are no text; save the sheet as CSV (UTF-8) and read that file",
  ],
  [
    "has ten megabytes in one line",
    "1".repeat(1e7),
    "line-too-long",
    "t.csv line 1: 10000000 characters in one line; a sheet has one reading a row, save it as CSV with line ends",
  ],
  [
    "does not say how the map lies",
    "# gauge resolution: 1 um\n# +x: right\nplace,x/mm,y/mm,z/um,pass\nA1,0,0,1,1\n",
    "frame",
    't.csv: the sheet does not say which way the map lies and what its heights are relative to; write above the heading "# relative to: travel" (or gravity, or artefact: what the heights are relative to), "# front: y-" (the edge where you stand: y- is where y is least), "# +y: back" (which way Y grows, seen from the front)',
  ],
  [
    "has directions that do not go together",
    sheet("A1,0,0,1,1\n").replace("+y: back", "+y: front"),
    "frame",
    "t.csv: front y-, +x right and +y front do not go together; with front y-, +y points back and the other axis right or left",
  ],
  [
    "is relative to something unknown",
    sheet("A1,0,0,1,1\n").replace("travel", "table"),
    "frame",
    't.csv line 1: "# relative to: table" is not known; write travel, gravity or artefact',
  ],
  [
    "does not name its gauge",
    sheet("A1,0,0,1,1\n").replaceAll(/# gauge.*\n/g, ""),
    "gauge-missing",
    't.csv: the sheet does not say which gauge was used; write above the heading "# gauge resolution: 1 µm" and "# gauge maximum permissible error: 4 µm", or give a gauge in code',
  ],
  [
    "says of the gauge what the code denies",
    sheet("A1,0,0,1,1\n"),
    "said-twice",
    "t.csv: the sheet says resolution of the gauge is 1 µm and the code says 2 µm; make the two agree, or leave it out of the code",
    { gauge: gauge({ resolution: um(2), maximumPermissibleError: um(4) }) },
  ],
  [
    "says of its frame what the code denies",
    sheet("A1,0,0,1,1\n"),
    "said-twice",
    't.csv line 2: the sheet says "# front: y-" and the code says y+; make the two agree, or leave it out of the code',
    { frame: { relativeTo: "travel", front: "y+", plusX: "left", plusY: "front" } },
  ],
  [
    "has a gauge without a unit",
    sheet("A1,0,0,1,1\n").replace("1 um", "1"),
    "unknown-unit",
    't.csv line 5: "# gauge resolution:" length: "1" has no unit; use mm, um, m, nm, in, thou, tenth',
  ],
  [
    "says a thing twice",
    `# front: y-\n${sheet("A1,0,0,1,1\n")}`,
    "preamble-twice",
    't.csv line 3: "# front:" stands in line 1 already; leave one of the two',
  ],
  [
    "has a date that reads two ways",
    `# date: 3/4/26\n${sheet("A1,0,0,1,1\n")}`,
    "date",
    't.csv line 1: "# date: 3/4/26" can be read two ways or not at all; write year-month-day, like 2026-10-17',
  ],
  [
    "has foreign headings",
    sheet("1,0,0,1\n", "Pt,X,Y,Z\n"),
    "heading",
    `t.csv line 7, column 1: the heading "Pt" is not known; use place, x, y, z, pass, order, time, temperature, approach, note, or say which column is which: ${mapLine}`,
  ],
  [
    "lacks a column",
    sheet("A1,0,0,1\n", "place,x/mm,y/mm,z/um\n"),
    "heading",
    't.csv line 7: the heading "place,x/mm,y/mm,z/um" has no column pass; write the heading place,x/mm,y/mm,z/um,pass, or say which column is which: { columns: { place: "place", x: { heading: "x/mm", unit: "mm" }, y: { heading: "y/mm", unit: "mm" }, z: { heading: "z/um", unit: "um" }, pass: 1 } }',
  ],
  [
    "has a unit no length has",
    sheet("A1,0,0,1,1\n", "place,x/mm,y/mm,z/bar,pass\n"),
    "heading-unit",
    't.csv line 7, column 4: the heading "z/bar" has the unit "bar"; write z/ and one of m, mm, um, nm, in, thou, tenth',
  ],
  [
    "has a heading without a unit",
    sheet("A1,0,0,1,1\n", "place,x/mm,y/mm,z,pass\n"),
    "heading-unit",
    't.csv line 7, column 4: the heading "z" has no unit; write z/ and one of m, mm, um, nm, in, thou, tenth',
  ],
  [
    "has a heading twice",
    sheet("A1,0,0,1,1,1\n", "place,x/mm,y/mm,z/um,pass,z/mm\n"),
    "heading-twice",
    't.csv line 7, column 6: the heading "z/mm" names z, as column 4 does already; leave one of the two',
  ],
  [
    "has a letter in a number",
    sheet("A1,0,0,3,1\nB1,50,0,12O,1\n"),
    "not-a-number",
    't.csv line 9, column z/um: "12O" is not a number; type digits only, or leave the cell blank if the place was not probed',
  ],
  [
    "has a place whose name can't be kept",
    sheet("A1: left,0,0,3,1\n"),
    "place-name",
    't.csv line 8, column place: "A1: left" is not a name for a place; use at most 40 characters, no colon, no line end and no # in front',
  ],
  [
    "says half of where a return stood",
    sheet("datum,0,,3,1\n"),
    "blank",
    't.csv line 8, column y/mm: is blank at "datum"; write where the stylus stood, or leave both x and y blank',
  ],
  [
    "says NaN",
    sheet("A1,0,0,NaN,1\n"),
    "not-a-number",
    't.csv line 8, column z/um: "NaN" is not a number; type digits only, or leave the cell blank if the place was not probed',
  ],
  [
    "mixes decimal comma and point",
    `${preamble}place;x/mm;y/mm;z/um;pass\nA1;0;0;2,5;1\nB1;50;0;3.5;1\n`,
    "mixed-decimals",
    't.csv line 9, column z/um: "3.5" has a decimal point and line 8 has a comma; use one of the two throughout',
  ],
  [
    "mixes decimal point and comma",
    `${preamble}place;x/mm;y/mm;z/um;pass\nA1;0;0;3.5;1\nB1;50;0;2,5;1\n`,
    "mixed-decimals",
    't.csv line 9, column z/um: "2,5" has a decimal comma and line 8 has a point; use one of the two throughout',
  ],
  [
    "has a row too short",
    sheet("A1,0,0,3\n"),
    "row-width",
    "t.csv line 8: 4 cells where the heading has 5; fill the row up, blank cells included",
  ],
  [
    "has a row too long",
    sheet("A1,0,0,3,5,1\n"),
    "row-width",
    "t.csv line 8: 6 cells where the heading has 5; put a text with a comma into quotation marks, or check for a decimal comma",
  ],
  [
    "has two readings for one cell",
    sheet("A1,0,0,3,1\nA1,0,0,4,1\n"),
    "two-readings",
    't.csv line 9: "A1", pass 1 was read in line 8 already; number the pass, or add a column order with a number for each reading',
  ],
  [
    "has one place at two spots",
    sheet("A1,0,0,3,1\nA1,5,0,4,2\n"),
    "two-spots",
    't.csv line 9: "A1" stands at x 5, y 0, and in line 8 at x 0, y 0; correct one, or give the second place a name of its own',
  ],
  [
    "has no name for a place",
    sheet(",0,0,3,1\n"),
    "blank",
    "t.csv line 8, column place: is blank; write the name of the place, like C4, or datum for a return",
  ],
  [
    "has no x for a place",
    sheet("A1,,0,3,1\n"),
    "blank",
    't.csv line 8, column x/mm: is blank at "A1"; write where the stylus stood',
  ],
  [
    "has a pass that is no number of a pass",
    sheet("A1,0,0,3,0\n"),
    "pass",
    "t.csv line 8, column pass: 0 is not a pass; write 1 for the first pass, 2 for the second",
  ],
  [
    "opens a quotation mark",
    sheet('A1,0,0,"3,1\n'),
    "quotation-mark",
    "t.csv line 8: a quotation mark opens or closes in the middle of a cell, or never closes; put quotation marks around the whole cell, and double one that belongs to the text",
  ],
  [
    "goes on with its preamble",
    sheet("A1,0,0,3,1\n# note: reset here\n"),
    "late-preamble",
    't.csv line 9: "# note: reset here" stands below the heading; move the line above it',
  ],
  [
    "has a time that is none",
    sheet("A1,0,0,3,1,25:10\n", "place,x/mm,y/mm,z/um,pass,time\n"),
    "time",
    't.csv line 8, column time: "25:10" is not a time of day; write hours and minutes, like 19:05, or head the column time/min',
  ],
  [
    "sets aside what was not read",
    `# removed: Q9, pass 1: swarf\n${sheet("A1,0,0,3,1\n")}`,
    "no-such-reading",
    "t.csv: Q9, pass 1 is to be removed and has no reading; give a place and pass that was probed",
  ],
  [
    "has a column map that names no heading",
    sheet("1,0,0,1\n", "Pt,X,Y,Z\n"),
    "column-map",
    't.csv line 7: columns.z names the heading "Dev", which is not there; the sheet has "Pt", "X", "Y", "Z"',
    {
      columns: {
        place: "Pt",
        x: { heading: "X", unit: "mm" },
        y: { heading: "Y", unit: "mm" },
        z: { heading: "Dev", unit: "um" },
        pass: 1,
      },
    },
  ],
  [
    "has a column that the map leaves out",
    sheet("1,0,0,1,ok\n", "Pt,X,Y,Z,Seen\n"),
    "column-map",
    't.csv line 7, column 5: the heading "Seen" is in no entry of columns; say what it is, or list it: ignore: ["Seen"]',
    {
      columns: {
        place: "Pt",
        x: { heading: "X", unit: "mm" },
        y: { heading: "Y", unit: "mm" },
        z: { heading: "Z", unit: "um" },
        pass: 1,
      },
    },
  ],
  [
    "is a grid without the unit of z",
    `${preamble}y/mm \\ x/mm,0,50\n0,1,2\n`,
    "heading-unit",
    't.csv line 7, column 1: the corner "y/mm \\\\ x/mm" does not say the unit of z; write y/mm \\ x/mm z/um',
  ],
  [
    "is a grid with words in it",
    `${preamble}y/mm \\ x/mm z/um,0,50\n0,1,high\n`,
    "not-a-number",
    't.csv line 8, column 3: "high" is not a number; type digits only, or leave the cell blank if the place was not probed',
  ],
  [
    "is a grid with a reading beside it",
    `${preamble}y/mm \\ x/mm z/um,0,50\n0,1,2,3\n`,
    "row-width",
    't.csv line 8: "3" stands right of the last x; write its x into the heading, or check for a decimal comma',
  ],
  [
    "is a grid whose blocks differ",
    `${preamble}y/mm \\ x/mm z/um,0,50\n0,1,2\ny/mm \\ x/mm z/um,0,60\n0,1,2\n`,
    "grid-shape",
    "t.csv line 9: the block of pass 2 has other units, x or y than the block of pass 1; give every block the same places, blank where not probed",
  ],
];

/** microseconds; code that mutation testing has filled with counters takes longer */
const most = "__stryker__" in globalThis ? 1e7 : 1e6;

describe("a sheet is refused in one sentence when it", () => {
  it.each(cases)("%s", (_, text, code, message, options) => {
    const started = process.cpuUsage();
    expect(refusal(() => parseSurvey(text, { name: "t.csv", ...options }))).toEqual({ code, message });
    // a second of the processor, which other work beside it does not take
    const { user, system } = process.cpuUsage(started);
    expect(user + system).toBeLessThan(most);
  });
});
