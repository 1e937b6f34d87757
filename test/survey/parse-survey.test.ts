import { describe, expect, it } from "vitest";
import { degC, degF, minutes, mm, um } from "../../kernel-lib/src/quantity/index.js";
import { gauge } from "../../kernel-lib/src/survey/gauge.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";

const preamble = `# title: bench table
# relative to: travel
# front: y-
# +x: right
# +y: back
# gauge resolution: 1 µm
# gauge maximum permissible error: 4 µm
`;
const heights = (text: string) =>
  parseSurvey(text)
    .surface()
    .places.map((p) => [p.label, p.xMm, p.yMm, p.zUm]);
const three = [
  ["A1", 0, 0, 3],
  ["B1", 50, 0, -2.5],
  ["A2", 0, 40, 1],
];

describe("a long sheet", () => {
  const comma = `${preamble}place,x/mm,y/mm,z/um,pass\nA1,0,0,3,1\nB1,50,0,-2.5,1\nA2,0,40,1,1\n`;
  const semicolon = comma.replaceAll(",", ";").replace("-2.5", "-2,5");

  it("is read with comma, semicolon or tab between its cells", () => {
    expect(heights(comma)).toEqual(three);
    expect(heights(semicolon)).toEqual(three);
    expect(heights(comma.replaceAll(",", "\t"))).toEqual(three);
  });

  it("is read with a byte-order mark, with Windows line ends and with the commas a spreadsheet adds", () => {
    expect(heights(`\uFEFF${comma.replaceAll("\n", "\r\n")}`)).toEqual(three);
    expect(heights(comma.replaceAll(/^(#.*)$/gm, "$1,,,,"))).toEqual(three);
    expect(heights(comma.replaceAll(/^(#.*)$/gm, '"$1",,,,'))).toEqual(three);
  });

  it("is the same survey in inches, thousandths and tenths", () => {
    const inches = `${preamble}place,x/in,y/in,z/tenth,pass\nA1,0,0,1,1\nB1,2,0,-3,1\n`;
    expect(heights(inches)).toEqual([
      ["A1", 0, 0, 2.54],
      ["B1", 50.8, 0, expect.closeTo(-7.62, 12)],
    ]);
  });

  it("takes its optional columns in any order", () => {
    const text = `${preamble}note,pass,z/µm,y/mm,x/mm,place,approach,temperature/degF,time,order\n"left, near the slot",1,3,0,0,A1,+x,68,19:05,7\n`;
    expect(parseSurvey(text).readings()).toEqual([
      {
        place: "A1",
        pass: 1,
        x: mm(0),
        y: mm(0),
        z: um(3),
        order: 7,
        time: minutes(19 * 60 + 5),
        temperature: degF(68),
        approach: "+x",
        note: "left, near the slot",
      },
    ]);
  });

  it("keeps a blank cell as not probed, which is not zero", () => {
    const survey = parseSurvey(comma.replace("B1,50,0,-2.5", "B1,50,0,"));
    expect(survey.blanks).toEqual([{ place: "B1", pass: 1 }]);
    expect(survey.readings().map((r) => r.place)).toEqual(["A1", "A2"]);
    expect(survey.places.map((p) => p.label)).toEqual(["A1", "B1", "A2"]);
  });

  it("keeps every line of the preamble, known or not", () => {
    const survey = parseSurvey(
      `# Ground by: the owner\n# read after supper\n# vice: off\n# temperature table: 17 °C to 18 °C\n${comma}`,
    );
    expect(survey.otherLines).toEqual([["Ground by", "the owner"]]);
    expect(survey.notes).toEqual(["read after supper"]);
    expect(survey.protocol).toEqual({ vice: "off" });
    expect(survey.temperatures).toEqual([{ where: "table", low: degC(17), high: degC(18), text: "17 °C to 18 °C" }]);
  });

  it("takes the gauge from code where the sheet does not say it", () => {
    const made = gauge({ name: "lever", resolution: um(2), maximumPermissibleError: um(5) });
    const bare = comma.replaceAll(/^# gauge.*\n/gm, "");
    expect(parseSurvey(bare, { gauge: made }).gauge).toEqual(made);
  });

  it("reads foreign headings through the column map its reader gives", () => {
    const foreign = "Pt;Xpos;Ypos;Dev;Tool\n1;0;0;0,003;4\n2;50;0;-0,001;4\n";
    const survey = parseSurvey(foreign, {
      gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }),
      frame: { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" },
      columns: {
        place: "Pt",
        x: { heading: "Xpos", unit: "mm" },
        y: { heading: "Ypos", unit: "mm" },
        z: { heading: "Dev", unit: "mm" },
        pass: 1,
        ignore: ["Tool"],
      },
    });
    expect(survey.surface().places.map((p) => p.zUm)).toEqual([3, -1]);
  });
});

describe("a grid", () => {
  const grid = `${preamble}# pass: 1\ny/mm \\ x/mm z/um,0,50\n0,3,-2.5\n40,1,\n# pass: 2,,\ny/mm \\ x/mm z/um,0,50\n0,4,-2.5\n40,1,7\n`;

  it("stands as on paper: x across the top, y down the side, one block a pass", () => {
    const survey = parseSurvey(grid);
    expect(survey.passes).toEqual([1, 2]);
    expect(survey.blanks).toEqual([{ place: "B2", pass: 1 }]);
    expect(survey.readings().map((r) => [r.place, r.x?.in("mm"), r.y?.in("mm"), r.z.in("um"), r.pass])).toEqual([
      ["A1", 0, 0, 3, 1],
      ["B1", 50, 0, -2.5, 1],
      ["A2", 0, 40, 1, 1],
      ["A1", 0, 0, 4, 2],
      ["B1", 50, 0, -2.5, 2],
      ["A2", 0, 40, 1, 2],
      ["B2", 50, 40, 7, 2],
    ]);
  });

  it("may state the unit of z above it, and number its passes by its blocks", () => {
    const bare = `# z: um\n${grid.replaceAll(/^# pass.*\n/gm, "").replaceAll(" z/um", "")}`;
    expect(parseSurvey(bare).surface().places).toEqual(parseSurvey(grid).surface().places);
  });

  it("does not pretend to know in which order it was read", () => {
    expect(parseSurvey(grid).readings()[0]?.order).toBeUndefined();
    expect(parseSurvey(grid).surface().drift?.statement).toBe(
      "the sheet does not say in which order it was read; drift was not tested and nothing was taken out",
    );
  });
});
