import { describe, expect, it } from "vitest";
import { parseSurvey, type Survey } from "../../kernel-lib/src/survey/survey.js";
import { inventSurvey } from "./invented-survey.js";

const sheet = inventSurvey({ seed: 3, scatter: 1, step: 1 }).text;
const health = (text: string) => parseSurvey(text, { name: "t.csv" }).health();
const find = (text: string, check: string) => health(text).findings.filter((f) => f.check === check);

/** the sheet with one reading changed */
function changed(text: string, place: string, pass: number, by: number): string {
  return text
    .split("\n")
    .map((row) => {
      const cells = row.split(",");
      if (cells[0] !== place || cells[4] !== String(pass)) return row;
      return [...cells.slice(0, 3), Number(cells[3]) + by, pass].join(",");
    })
    .join("\n");
}

describe("health", () => {
  it("is sound for a clean sheet, with repeatability and drift stated", () => {
    const clean = health(sheet);
    expect(clean.isSound).toBe(true);
    expect(clean.repeatability?.degreesOfFreedom).toBe(51);
    expect(clean.findings.map((f) => f.check)).toEqual(["drift", "repeats", "protocol"]);
  });

  it("names a place whose passes differ and the pass likelier wrong", () => {
    const [found] = find(changed(sheet, "C4", 1, 62), "passes");
    expect(found).toMatchObject({ severity: "check", places: ["C4"], whatToDo: "wipe and re-measure C4" });
    expect(found?.what).toMatch(
      /^C4: pass 1 and 2 differ by 6\d µm, pass 1 likelier wrong \(it stands off its neighbours, and swarf reads high\)$/,
    );
  });

  it("names every one of several bad readings", () => {
    const text = changed(changed(changed(sheet, "C4", 1, 62), "A1", 2, 30), "F9", 1, -25);
    expect(
      find(text, "passes")
        .flatMap((f) => f.places)
        .sort(),
    ).toEqual(["A1", "C4", "F9"]);
  });

  it("does not take a place that stands high in both passes for a slip", () => {
    const text = changed(changed(sheet, "D5", 1, 25), "D5", 2, 25);
    expect(find(text, "passes")).toEqual([]);
    const [found] = find(text, "neighbours");
    expect(found?.what).toMatch(
      /^D5: stands high by 2\d µm against the smooth run of the others, and its passes agree$/,
    );
    expect(found?.howSure).toContain("likelier the table than a slip");
  });

  it("sees a missed turn of the pointer", () => {
    const text = changed(sheet.replace("# gauge res", "# gauge range per turn: 200 um\n# gauge res"), "B2", 2, 200);
    expect(find(text, "passes")[0]).toMatchObject({ whatToDo: "read the turn counter again at B2" });
  });

  it("sees an offset and a tilt between the passes", () => {
    const lifted = sheet.replaceAll(
      /^([A-F]\d),(\d+),(\d+),(-?\d+),2$/gm,
      (_, p, x, y, z) => `${p},${x},${y},${Number(z) + 20 + Math.round(Number(x) / 40)},2`,
    );
    expect(find(lifted, "shift")[0]?.what).toMatch(/^pass 2 reads 2\d µm higher than pass 1 on the whole$/);
    expect(find(lifted, "tilt")[0]?.severity).toBe("check");
  });

  it("does not believe a scatter below half a step", () => {
    const [found] = find(inventSurvey({ seed: 5, scatter: 0.1, step: 1 }).text, "resolution");
    expect(found?.what).toMatch(/less than half a step of 1 µm; so small an s is not believed/);
    const { noise } = parseSurvey(inventSurvey({ seed: 5, scatter: 0.1, step: 1 }).text).surface();
    expect(noise.standardUncertaintyUm).toBeCloseTo(1 / Math.sqrt(12), 12);
  });

  it("names blanks, doubles, places out of reach, readings out of range and between the steps", () => {
    const text = sheet
      .replace("# gauge res", "# travel x: 0 to 380 mm\n# gauge range: 20 um\n# gauge res")
      .replace(/^A2,50,0,-?\d+,1$/m, "A2,50,0,,1")
      .replace(/^B3,.*,1$/m, "B3,100,40,90.5,1\nb3,100,40,0,1");
    expect(find(text, "blanks")[0]?.what).toBe("1 cell is blank, not probed: A2 pass 1");
    expect(find(text, "duplicates")[0]?.places).toEqual(["B3", "b3"]);
    expect(find(text, "travel")[0]?.places).toEqual(["A9", "B9", "C9", "D9", "E9", "F9"]);
    expect(find(text, "range")[0]?.severity).toBe("stop");
    expect(find(text, "steps")[0]?.what).toMatch(
      /^1 of \d+ readings are no whole number of steps of 1 µm, such as 90.5 µm$/,
    );
  });

  it("asks about a column in the wrong unit", () => {
    expect(find(sheet.replace("z/um", "z/mm"), "units")[0]).toMatchObject({ severity: "stop" });
    expect(find(sheet.replace("x/mm", "x/um"), "units")[0]?.whatToDo).toContain("column x is in um");
  });

  it("says when nothing was read twice and when the axes are mirrored", () => {
    const once = sheet
      .split("\n")
      .filter((row) => !row.endsWith(",2"))
      .join("\n")
      .replace("+x: right", "+x: left");
    expect(find(once, "repeats")[0]?.severity).toBe("check");
    expect(find(once, "frame")[0]?.what).toBe("+X left with +Y back is the mirror image of the usual axes");
  });

  it("prints one line a finding, the worst first", () => {
    const lines = health(changed(sheet, "C4", 1, 62))
      .toString()
      .split("\n");
    expect(lines[0]).toBe("Health of t.csv: 0 to stop for, 1 to check, 3 to note");
    expect(lines[1]).toMatch(/^check: C4: pass 1 and 2 differ by .*; wipe and re-measure C4$/);
  });

  it("is the same for the same readings in inches", () => {
    const inch = sheet
      .replace("z/um", "z/thou")
      .replace("resolution: 1 um", `resolution: ${1 / 25.4} thou`)
      .replaceAll(/^(.+,\d+,\d+),(-?\d+),(\d)$/gm, (_, p, z, pass) => `${p},${Number(z) / 25.4},${pass}`);
    const checks = (survey: Survey) => survey.health().findings.map((f) => [f.check, f.places]);
    expect(checks(parseSurvey(changed(inch, "C4", 1, 3)))).toEqual(checks(parseSurvey(changed(sheet, "C4", 1, 76.2))));
  });
});
