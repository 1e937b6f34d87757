import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { form } from "../../kernel-lib/src/index.js";

const said = [
  "relative to: gravity",
  "front: y-",
  "+x: right",
  "+y: back",
  "foot: 100 mm",
  "level resolution: 2 um/m",
  "level maximum permissible error: 5 um/m",
  "line Front: 0, 0 to 200, 0",
].map((one) => `# ${one}`);
const rows = ["Front,1,as marked,1", "Front,2,as marked,-2", "Front,1,turned,-1", "Front,2,turned,2"];
const sheet = (unit: string, body = rows, more: string[] = []) =>
  [...said, ...more, `line,step,direction,reading/${unit}`, ...body].join("\n");

test("readings in each unit are inclinations, turned ones run back", () => {
  for (const [unit, umPerM] of [
    ["um/m", 1],
    ["µm/m", 1],
    ["mm/m", 1000],
    ["arcsec", (Math.PI / 648_000) * 1e6],
    ["div", 20],
  ] as const) {
    const { readings } = form.parseLevels(sheet(unit, rows, ["# division: 20 um/m"]));
    const read = readings.map(({ inclination }) => inclination.in("um/m") / umPerM);
    for (const [i, want] of [1, -2, -1, 2].entries()) expect(read[i]).toBeCloseTo(want, 4);
    expect(readings.map(({ from, to }) => `${from} ${to}`)[2]).toBe("(100, 0) (0, 0)");
  }
});

test("a sheet with a fault is refused in one sentence", () => {
  const refused = (text: string) => expect(() => form.parseLevels(text));
  refused(sheet("div")).toThrow(
    'pasted survey: readings are in divisions of no stated value; write "# division: 20 um/m" as it stands on the level',
  );
  refused(sheet("um/m", rows.slice(1))).toThrow('pasted survey: step 1 of line "Front" is not read as marked; read it');
  refused(sheet("um/m", [...rows, rows[0]!])).toThrow(
    'pasted survey line 14, column step: step 1 of line "Front" is read as marked twice; leave one of the two',
  );
  refused(sheet("kg")).toThrow("write reading/ and one of um/m, mm/m, arcsec, div");
  refused(sheet("um/m", [...rows, "Back,1,turned,1"])).toThrow(
    'pasted survey line 14, column line: the ends of line "Back" are not said; write "# line Back: 0, 0 to 400, 0" above the heading, x and y in mm',
  );
  refused(sheet("um/m", ["Front,3,as marked,1"])).toThrow(
    'pasted survey line 10, column step: "3" is no step of line "Front"; number its steps from 1 to 2',
  );
  refused(sheet("um/m", ["Front,1,left,1"])).toThrow(
    'pasted survey line 10, column direction: "left" is no direction of the level; write as marked, or turned for end for end',
  );
  refused(sheet("um/m").replace("# foot: 100 mm", "# foot: 0 mm")).toThrow(
    "pasted survey line 5: a foot of 0 mm steps off no line; write the distance of the level's feet",
  );
  refused(sheet("um/m", rows, ["# level zero: two"])).toThrow(
    'pasted survey line 9: "# level zero: two" is not known; write one, a line, or a line, drifting',
  );
  refused(sheet("um/m").replace("# foot: 100 mm", "#")).toThrow(
    'pasted survey: the sheet does not say its foot; write "# foot: 100 mm"',
  );
  refused(sheet("um/m").replace("0, 0 to 200, 0", "0 to 200")).toThrow(
    'pasted survey line 8: "0 to 200" is not two ends of a line; write "# line Front: 0, 0 to 400, 0", x and y in mm',
  );
});

test("a line may have feet of its own, and a zero of its own", () => {
  const own = ["# line Side: 0, 0 to 0, 150", "# foot of line Side: 75 mm", "# level zero: a line, drifting"];
  const side = ["Side,1,as marked,3", "Side,2,as marked,4"];
  const survey = form.parseLevels(sheet("um/m", [...rows, ...side], own));
  expect(survey.readings.map(({ foot }) => foot.in("mm"))).toEqual([100, 100, 100, 100, 75, 75]);
  expect([survey.zero, survey.places.at(-1)!.label]).toEqual(["a line, drifting", "(0, 150)"]);
});

describe("a sheet that names the places under both feet", () => {
  const places = ["place A1: 0, 0", "place A2: 100, 0", "place B1: 0, 75", "place B2: 100, 75"];
  const steps = ["A1,A2,4", "A2,A1,-2", "A1,B1,9", "B1,B2,4", "A2,B2,9"];
  const head = [...said.filter((one) => !/foot|line/.test(one)), ...places.map((one) => `# ${one}`)];
  const of = (body: string[], heading = "from,to,reading/um/m", more: string[] = []) =>
    [...head, ...more, heading, ...body].join("\n");

  test("is read in any layout, the feet as far apart as the places", () => {
    const survey = form.parseLevels(of(steps));
    expect(survey.readings.map(({ foot }) => foot.in("mm"))).toEqual([100, 100, 75, 100, 75]);
    expect(survey.readings[1]).toMatchObject({ line: "all", from: "A2", to: "A1" });
    const network = form.levelNetwork(survey);
    // zero 1, rise 3 along x and 8 along y, µm/m
    expect(network.rise("A1", "A2").in("um")).toBeCloseTo(0.3, 9);
    expect(network.rise("A1", "B1").in("um")).toBeCloseTo(0.6, 9);
  });

  test("names its line where the zero is one of each line", () => {
    const survey = form.parseLevels(of(["x,A1,A2,4", "x,A2,A1,-2"], "line,from,to,reading/um/m"));
    expect(survey.readings.map(({ line }) => line)).toEqual(["x", "x"]);
  });

  test("is refused in one sentence where a place is not known, is none, or stands under both feet", () => {
    const refused = (text: string) => expect(() => form.parseLevels(text));
    refused(of([...steps, "A1,C1,0"])).toThrow(
      'pasted survey line 17, column to: "C1" is no place of the sheet; write "# place C1: 0, 0" above the heading, x and y in mm',
    );
    refused(of([...steps, "A1,,0"])).toThrow(
      "pasted survey line 17, column to: is blank; write the place under that foot",
    );
    refused(of(["A1,A1,0"])).toThrow(
      "pasted survey line 12, column to: both feet stand on A1; write the places under the two feet",
    );
    refused(of(steps, undefined, ["# place C: 12"])).toThrow(
      'pasted survey line 11: "# place C: 12" is no place; write "# place A1: 0, 0", x and y in mm',
    );
    refused(of(["A1,12"], "from,reading/um/m")).toThrow(
      "pasted survey: there is no column to; write the heading from,to,reading/um/m",
    );
  });
});

test("a sheet on the disk says which file it was", () => {
  const folder = mkdtempSync(join(tmpdir(), "levels-"));
  try {
    writeFileSync(join(folder, "front.csv"), sheet("um/m"));
    const read = form.readLevels(join(folder, "front.csv"));
    expect(read.readings).toHaveLength(4);
    expect(read.file?.sha256).toMatch(/^[0-9a-f]{64}$/);
  } finally {
    rmSync(folder, { recursive: true });
  }
});

test("what else the sheet says is kept, and its readings go straight into a network", () => {
  const survey = form.parseLevels(sheet("um/m", rows, ["# date: 2026-10-30", "# walked by: two people"]));
  expect(survey.notes).toEqual(["date: 2026-10-30", "walked by: two people"]);
  const network = form.levelNetwork(survey);
  expect(network.rise("(0, 0)", "(200, 0)").in("um")).toBeCloseTo(-0.1, 9);
});
