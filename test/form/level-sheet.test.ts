import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
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
  refused(sheet("um/m").replace("# foot: 100 mm", "# foot: 0 mm")).toThrow("steps off no line");
  refused(sheet("um/m").replace("# foot: 100 mm", "#")).toThrow(
    'pasted survey: the sheet does not say its foot; write "# foot: 100 mm"',
  );
  refused(sheet("um/m").replace("0, 0 to 200, 0", "0 to 200")).toThrow(
    'pasted survey line 8: "0 to 200" is not two ends of a line; write "# line Front: 0, 0 to 400, 0", x and y in mm',
  );
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
