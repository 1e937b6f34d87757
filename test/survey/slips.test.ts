import { describe, expect, it } from "vitest";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { refusal } from "../refusal.js";
import { head } from "./invented-survey.js";
import { oneMap, type Slip, slipAlarms, slips, twoPasses } from "./planted-slips.js";

const found = (name: string, check: string) =>
  twoPasses(7, slips[name])
    .health()
    .findings.filter((f) => f.check === check);

describe("a slip between two passes is asked about", () => {
  it.each([
    ["sense", "sense", /^pass 2 looks like pass 1 upside down: was its sign the other way round\?$/],
    [
      "units in thou",
      "units",
      /^pass 2 looks like pass 1 made 25.4 times smaller: was it read or typed in another unit \(thou and µm, or inch and mm\)\?$/,
    ],
    ["mirrored left to right", "arrangement", /^pass 2 looks like pass 1 mirrored left to right: was FRONT/],
    ["mirrored front to back", "arrangement", /^pass 2 looks like pass 1 mirrored front to back: was FRONT/],
    ["turned by 180°", "arrangement", /^pass 2 looks like pass 1 turned by 180°: was FRONT/],
    ["rows shifted", "rows", /^from [A-F]\d on, the readings of pass 2 agree with pass 1 if each is taken one row up/],
    [
      "lever angle",
      "lever angle",
      /^all heights of pass 2 are 1\.1\d times those of pass 1: was a lever stylus at about (2[6-9]|3[0-3])° read/,
    ],
    [
      "turn",
      "turn",
      /^D6, D5, .* and 19 more stand a whole turn of the pointer \(200 µm\) off between pass 1 and pass 2: was a turn missed\?$/,
    ],
  ])("%s", (name, check, sentence) => {
    const [finding] = found(name, check);
    expect(finding?.what).toMatch(sentence);
    expect(finding?.severity).toBe("stop");
  });

  // a single reading of swarf was once taken for rows that had shifted
  it.each([20, 40, 120])("and swarf of %d µm is not taken for one", (height) => {
    for (const row of [6, 20, 40]) {
      const swarf = twoPasses(7, { change: (z, at) => (at === row ? z + height : z) });
      expect(swarf.health().findings.filter(({ check }) => check === "rows")).toEqual([]);
    }
  });

  it("never silently corrected", () => {
    const turned = twoPasses(7, slips.sense);
    turned.health();
    expect(
      turned
        .readings()
        .slice(-3)
        .map(({ z }) => z.si),
    ).toEqual(
      twoPasses(7, slips.sense)
        .readings()
        .slice(-3)
        .map(({ z }) => z.si),
    );
  });
});

it("a survey is held against another one of the same table", () => {
  const first = oneMap(11, 0);
  expect(oneMap(11, 1).slips(first).findings).toEqual([]);
  const [turned] = oneMap(11, 1, slips["turned by 180°"]).slips(first).findings;
  expect(turned?.what).toMatch(/^map 1 looks like map 0 turned by 180°/);
  const [lever] = oneMap(11, 1, slips["lever angle"]).slips(first).findings;
  expect(lever?.check).toBe("lever angle");
  const other = parseSurvey(first.toCsv().replace("travel", "gravity"), { name: "level.csv" });
  expect(refusal(() => first.slips(other))).toEqual({
    code: "frames-differ",
    message:
      'slips: map 0 says "relative to: travel" and level.csv says "relative to: gravity"; give two surveys of one frame',
  });
});

it("one sheet alone shows thou typed under a heading in µm, and a lever whose angle is not said", () => {
  const rows = Array.from({ length: 12 }, (_, i) => `A${i + 1},${50 * i},0,${(0.1 * ((i * 7) % 5)).toFixed(1)},1`);
  const sheet = (more: string) =>
    parseSurvey(`${head}# gauge resolution: 0.1 thou\n${more}place,x/mm,y/mm,z/um,pass\n${rows.join("\n")}\n`).health()
      .findings;
  expect(sheet("").find((f) => f.check === "steps")).toMatchObject({
    severity: "stop",
    whatToDo:
      "ask whether column z is in thou: read so, they are whole steps; correct the heading on a copy of the sheet",
  });
  expect(sheet("# gauge: lever indicator\n").find((f) => f.check === "lever angle")?.what).toMatch(
    /^lever indicator has a lever, and the sheet does not say its angle/,
  );
  expect(
    sheet("# gauge: lever indicator\n# gauge lever angle: 10 deg\n").find((f) => f.check === "lever angle"),
  ).toBeUndefined();
});

it("one pass alone shows a turn missed on the way, on a tilted table too, and none on a clean one", () => {
  const turns = (slip: Slip, more = "# gauge range per turn: 200 um\n") =>
    parseSurvey(
      oneMap(7, 0, slip)
        .toCsv()
        .replace(/(?=# gauge resolution)/, more),
      { name: "one.csv" },
    )
      .health()
      .findings.filter((f) => f.check === "turn");
  const [missed] = turns(slips.turn!);
  expect(missed?.severity).toBe("stop");
  expect(missed?.what).toMatch(
    /^D6, D5, .* and 19 more stand a whole turn of the pointer \(200 µm\) off the readings before or after: was a turn missed\?$/,
  );
  expect(turns({ change: (z, row) => z + (row >= 10 && row < 14 ? -400 : 0) + 3 * row })[0]?.places).toHaveLength(4);
  expect(turns({})).toEqual([]);
  expect(turns({ change: (z, row) => z + 12 * row })).toEqual([]);
  expect(turns(slips.turn!, "")).toEqual([]);
});

it("some readings finer than the gauge's steps are asked about apart from all of them", () => {
  const rows = Array.from({ length: 12 }, (_, i) => `A${i + 1},${50 * i},0,${i < 3 ? 0.4 : i % 4},1`);
  const text = `${head}# gauge resolution: 1 um\nplace,x/mm,y/mm,z/um,pass\n${rows.join("\n")}\n`;
  const found = parseSurvey(text, { name: "mixed.csv" }).health().findings;
  expect(found.find((f) => f.check === "steps")).toMatchObject({
    what: "3 of 12 readings are no whole number of steps of 1 µm, such as 0.4 µm",
    whatToDo:
      "ask whether these were read with another gauge or typed in another unit; if so, give them a sheet of their own",
  });
});

it("is asked about on hardly any clean pair of maps", () => {
  const { hits, cases } = slipAlarms(60, 400_000);
  expect(hits / cases).toBeLessThanOrEqual(0.02);
});
