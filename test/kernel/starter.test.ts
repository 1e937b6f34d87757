import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { main } from "../../kernel-lib/src/kernel/cli.js";
import type { Notebook } from "../../kernel-lib/src/kernel/notebook.js";
import { parseNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { starter } from "../../kernel-lib/src/kernel/starter.js";
import { starterOptions } from "../../kernel-lib/src/kernel/starter-answers.js";
import { blankNotebook } from "../../kernel-lib/src/kernel/starter-notebook.js";
import type { StarterAnswers } from "../../kernel-lib/src/kernel/starters/answers.js";
import { begin, works } from "../../kernel-lib/src/kernel/starters/index.js";
import { parseSurvey } from "../../kernel-lib/src/survey/index.js";
import { unreadColumn } from "../../kernel-lib/src/survey/unread-column.js";
import { refusal } from "../refusal.js";
import { schemaErrors } from "./nbformat-schema.js";
import { scratch } from "./workplace.js";

const metric: StarterAnswers = {
  name: "my-mill",
  table: "520 mm x 230 mm",
  resolution: "2 um",
  error: "4 um",
  fraction: "0.5",
  "per-turn": "0.2 mm",
  hysteresis: "1 um",
  machine: "bed mill",
  slot: ["x, 115 mm, 14 mm"],
};
const inch: StarterAnswers = { name: "größe 1", table: '20 x 9"', resolution: "0.0005 in", error: "0.001 in" };
const ofX = { for: "axis", axis: "X", reference: "gauge blocks" };
const byLevel = { for: "levels", table: "520 mm x 230 mm", foot: "80 mm", resolution: "4 um/m", error: "10 um/m" };
const made = (answers: StarterAnswers) => starter(starterOptions(answers));

describe("a starter", () => {
  it("has a sheet that is read back with the reader's gauge, places off the slot, and no reading yet", () => {
    const survey = parseSurvey(made(metric).sheet, { name: "my-mill.csv" });
    const { resolution, maximumPermissibleError, rangePerTurn, hysteresis, display, fractionEstimated } = survey.gauge;
    const figures = [resolution, maximumPermissibleError, rangePerTurn, hysteresis].map((value) => value?.in("um"));
    expect([...figures, display, fractionEstimated]).toEqual([2, 4, 200, 1, "analogue", 0.5]);
    expect(survey.readings()).toHaveLength(0);
    expect(survey.blanks).toHaveLength(132);
    const rows = new Set(survey.blanks.map((blank) => blank.place));
    expect(rows.size).toBe(45 + 2);
    const { plan } = made(metric);
    expect(plan.places.filter(({ yMm }) => Math.abs(yMm - 115) < 7 + 5)).toEqual([]);
    expect(plan.places.every(({ xMm, yMm }) => xMm >= 10 && xMm <= 510 && yMm >= 10 && yMm <= 220)).toBe(true);
  });

  it("is in inches where the table is: columns, gauge as written, heights in thou, paper, cells shown in inch", () => {
    const { sheet, paper, notebook, plan } = made(inch);
    expect(sheet).toContain("\n# gauge resolution: 0.0005 in\n# gauge maximum permissible error: 0.001 in\n");
    expect(sheet).toContain("\nplace,x/in,y/in,z/thou,pass,");
    expect(sheet).toMatch(/\n# table x: 0 in to [\d.]+ in\n# table y: 0 in to [\d.]+ in\n/);
    expect(sheet).not.toMatch(/ mm\b/);
    const survey = parseSurvey(sheet, { name: "a.csv" });
    expect(survey.gauge.resolution.in("thou")).toBeCloseTo(0.5, 12);
    const x = sheet.split("\n").flatMap((line) => /^[A-Z]+\d+,([\d.]+),/.exec(line)?.[1] ?? []);
    const planned = plan.readings.filter(({ visit }) => visit === undefined).map(({ xMm }) => xMm / 25.4);
    expect(x).toHaveLength(planned.length);
    expect(Math.max(...x.map((text, i) => Math.abs(Number(text) - planned[i]!)))).toBeLessThanOrEqual(0.005);
    expect(paper).toContain("size:letter");
    expect(paper).toContain("<th>x/in</th><th>y/in</th>");
    expect(paper).toContain("resolution 5 tenth, maximum permissible error ± 1 thou; ");
    expect(paper.replace(/<style>.*?<\/style>/gs, "")).not.toMatch(/\d mm\b|µm|\/mm/);
    expect(notebook).toContain("displayIn");
  });

  it("has a notebook of the format, made the same each time, that says fill this in", () => {
    for (const answers of [metric, inch]) {
      const { notebook } = made(answers);
      expect(schemaErrors(JSON.parse(notebook))).toEqual([]);
      expect(made(answers).notebook).toBe(notebook);
      const { cells } = parseNotebook(notebook, "a");
      expect(cells.filter(({ source }) => /fill this in/i.test(source)).length).toBeGreaterThanOrEqual(5);
      expect(cells.some(({ source }) => source.includes(`readSurvey("../data/${answers.name}.csv")`))).toBe(true);
    }
  });

  it("asks what the blank notebook beside the chapters asks, in the order of the chapters", () => {
    const asked = (source: string) => source.match(/^## .*$/gm) ?? [];
    const of = (text: string) => parseNotebook(text, "a").cells.flatMap(({ source }) => asked(source));
    const blank = readFileSync(join(import.meta.dirname, "../../notebooks/blank-survey.ipynb"), "utf8");
    for (const answers of [metric, inch]) expect(of(made(answers).notebook)).toEqual(of(blank));
    const chapters = of(blank).flatMap((heading) => [...heading.matchAll(/\d+/g)].map(Number));
    expect(chapters).toEqual([...chapters].sort((a, b) => a - b));
  });

  it("comes from the same words as the blank notebook, which is kept as it was made", () => {
    const words = ({ cells }: Notebook) => cells.map(({ cell_type, source }) => [cell_type, source]);
    const path = join(import.meta.dirname, "../../notebooks/blank-survey.ipynb");
    // after a change of the words: node kernel-lib/scripts/blank-notebook.mjs
    expect(words(parseNotebook(readFileSync(path, "utf8"), "blank"))).toEqual(words(blankNotebook()));
  });

  it("keeps what a person named from becoming Markdown or a line of the sheet", () => {
    const { notebook, sheet } = made({ ...metric, machine: "<b>the *old* one\n# front: y+" });
    expect(parseNotebook(notebook, "a").cells[0]!.source.split("\n")[0]).toBe(
      "# b the  old  one   front: y+: the table as found",
    );
    expect(sheet).toContain("\n# machine: <b>the *old* one # front: y+\n");
    expect(parseSurvey(sheet, { name: "a.csv" }).frame.front).toBe("y-");
  });
});

const each: { readonly [name: string]: Omit<StarterAnswers, "name"> } = {
  table: { table: "520 mm x 230 mm", resolution: "2 um", error: "4 um" },
  axis: { ...ofX, travel: "5 mm to 505 mm", lead: "5 mm", resolution: "1 um", error: "3 um" },
  head: { radius: "4 in", resolution: "0.0005 in", error: "0.001 in" },
  square: { legs: "8 in", resolution: "0.0001 in", error: "0.0002 in" },
  levels: byLevel,
  gauge: { resolution: "2 um", error: "4 um" },
  "warm-up": { resolution: "2 um", error: "4 um", hours: "2" },
};

describe.each(Object.keys(works))("a starter for %s", (name) => {
  const begun = () => begin({ name: "mine", machine: "the <b>old</b> one", ...each[name]!, for: name });

  it("has a notebook of the format, made the same each time, that reads each sheet", () => {
    const { notebook, sheets } = begun();
    expect(schemaErrors(JSON.parse(notebook))).toEqual([]);
    expect(begun().notebook).toBe(notebook);
    for (const { suffix } of sheets) expect(notebook).toContain(`../data/mine${suffix}.csv`);
    expect(notebook).not.toContain("<b>");
  });

  it("has a caution in its first cell of code and on the paper, which holds a row for each reading of the sheets", () => {
    const { notebook, sheets, paper } = begun();
    const code = parseNotebook(notebook, "a").cells.filter(({ cell_type }) => cell_type === "code");
    expect(code.slice(0, 3).some(({ source }) => source.includes("caution("))).toBe(true);
    expect(paper).toContain("db-caution");
    expect(paper).not.toContain("<b>old</b>");
    const rows = sheets.flatMap(({ text }) => text.split("\n").filter((line) => line !== "" && !line.startsWith("#")));
    const places = name === "table" ? rows.length - 1 - sheets.length : rows.length - sheets.length;
    const cells = paper.match(/<td class="write"/g) ?? [];
    expect(cells.length).toBeGreaterThanOrEqual(places);
  });

  it("asks for each reading once: the column of readings is blank, and told so", () => {
    for (const { text } of begun().sheets) {
      const found = unreadColumn(text, "mine.csv");
      expect(found?.cells).toBe(text.split("\n").filter((line) => line !== "" && !line.startsWith("#")).length - 1);
      const heading = text.split("\n").find((line) => !line.startsWith("#"))!;
      expect(heading.split(",")).toContain(found?.heading);
    }
  });
});

describe("an answer that can't be used", () => {
  it.each<[Partial<StarterAnswers>, string]>([
    [{ name: "../x" }, 'new: the name "../x" holds a slash; use letters, digits, dash, underscore'],
    [{ name: "a:b" }, 'new: the name "a:b" is not below the folder; use letters, digits, dash, underscore'],
    [{ name: ".x" }, `new: the name ".x" can't name a file here; use letters, digits, dash, underscore`],
    [
      { name: "con" },
      'new: the name "con" is a name that not every system can keep; use letters, digits, dash, underscore',
    ],
    [{ table: "520 mm" }, 'new: --table "520 mm" is not length × depth; write it like "520 mm x 230 mm"'],
    [
      { table: "520 x 230" },
      'new: --table "520 " is no length above zero; write it like "12.5 mm", "2 um" or "0.0005 in"',
    ],
    [{ table: "52 m x 23 m" }, 'new: --table "52 m x 23 m" is longer than 10 m; check the unit'],
    [
      { table: "20 degC x 30 degC" },
      'new: --table "20 degC" is no length above zero; write it like "12.5 mm", "2 um" or "0.0005 in"',
    ],
    [
      { resolution: "0 um" },
      'new: --resolution "0 um" is no length above zero; write it like "12.5 mm", "2 um" or "0.0005 in"',
    ],
    [{ error: "4" }, 'new: --error "4" is no length above zero; write it like "12.5 mm", "2 um" or "0.0005 in"'],
    [{ fraction: "2" }, 'new: --fraction "2" is no number above 0 and up to 1; give 0.5 for half a division'],
    [
      { passes: "two" },
      `new: --passes "two" is no whole number from 1 to 20; give 2, as one can't tell swarf from the table`,
    ],
    [
      { slot: ["115 mm"] },
      'new: --slot "115 mm" is not which way it runs, where its middle is, how wide it is; write it like "x, 115 mm, 14 mm"',
    ],
    [{ units: "feet" }, 'new: --units "feet" is not known; give metric or inch'],
    [{ paper: "A5" }, 'new: --paper "A5" is not known; give A4 or Letter'],
    [{ machine: " " }, 'new: --machine " " is not a line of up to 100 signs; leave it out, or name it shorter'],
  ])("%j is one sentence", (wrong, message) => {
    expect(refusal(() => made({ ...metric, ...wrong }))).toEqual({ code: "new", message });
  });

  it.each<[Partial<StarterAnswers>, string]>([
    [
      { for: "spindle" },
      'new: --for "spindle" is not known; give table or axis or head or square or levels or gauge or warm-up',
    ],
    [{ for: "axis" }, "new: --travel is missing; see dialbook new --help"],
    [{ for: "gauge", slot: ["x, 1 mm, 1 mm"] }, "new: --slot is no matter of --for gauge; leave it out"],
    [{ ...ofX, travel: "500 mm" }, 'new: --travel "500 mm" is not from … to …; write it like "5 mm to 235 mm"'],
    [{ ...ofX, travel: "90 to 5 mm" }, 'new: --travel "90 to 5 mm" does not go up; write the low end first'],
    [
      { ...ofX, travel: "0 to 5 km" },
      'new: --travel "5 km" is no length above zero; write it like "12.5 mm", "2 um" or "0.0005 in"',
    ],
    [{ ...ofX, travel: "0 to 11 m" }, 'new: --travel "0 to 11 m" ends beyond 10 m; check the unit'],
    [
      { for: "square", legs: "10 mm" },
      'new: --legs "10 mm" is too short to read six places along; use a leg of 20 mm or more',
    ],
    [{ for: "gauge", rounds: "1" }, 'new: --rounds "1" is no whole number from 2 to 20'],
    [
      { ...byLevel, resolution: "4 um" },
      'new: --resolution "4 um" is no inclination above zero; write it like "10 um/m" or "5 arcsec"',
    ],
    [
      { ...byLevel, foot: "300 mm" },
      'new: --foot "300 mm" steps off no net on this table; use a bridge with feet closer together',
    ],
  ])("%j of another work is one sentence", (wrong, message) => {
    const given = { name: "mine", resolution: "2 um", error: "4 um", ...wrong };
    expect(refusal(() => begin(given))).toEqual({ code: "new", message });
  });

  it("in what is planned is a sentence of the plan", () => {
    expect(refusal(() => made({ ...metric, table: "15 mm x 15 mm" })).code).toBe("plan");
  });
});

describe("dialbook new", () => {
  afterEach(() => vi.restoreAllMocks());
  const args = ["--table", "520 x 230 mm", "--resolution", "2 um", "--error", "4 um"];

  /** a folder of a project, with nothing in it yet */
  function workshop(): string {
    const folder = scratch();
    mkdirSync(join(folder, "notebooks"));
    return folder;
  }

  async function command(folder: string, ...words: string[]) {
    const texts = { out: "", err: "" };
    vi.spyOn(process, "cwd").mockReturnValue(folder);
    vi.spyOn(process.stdout, "write").mockImplementation((text) => (texts.out += text) !== "");
    vi.spyOn(process.stderr, "write").mockImplementation((text) => (texts.err += text) !== "");
    const code = await main(["new", ...words]);
    vi.restoreAllMocks();
    return { code, ...texts };
  }

  it("makes notebook, sheet and paper, says what to do, and replaces nothing", async () => {
    const folder = workshop();
    const { code, out } = await command(folder, "my mill", ...args);
    expect(code).toBe(0);
    expect(out).toContain('  npm run dialbook -- check "data/my mill.csv"\n  npm run dialbook -- run "my mill"\n');
    const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).sort();
    expect(files).toEqual([
      "data",
      "data/my mill-paper.html",
      "data/my mill.csv",
      "notebooks",
      "notebooks/my mill.ipynb",
    ]);
    writeFileSync(join(folder, "data", "my mill.csv"), "mine");
    const again = await command(folder, "my mill", ...args);
    const path = join(folder, "notebooks", "my mill.ipynb");
    expect(again).toEqual({
      code: 1,
      out: "",
      err: `dialbook new: ${path} is there already; choose another name, nothing was made\n`,
    });
    expect(readFileSync(join(folder, "data", "my mill.csv"), "utf8")).toBe("mine");
  });

  it("makes nothing where one of the files can't be written", async () => {
    const folder = workshop();
    writeFileSync(join(folder, "data"), "a file in the way");
    const { code, err } = await command(folder, "mine", ...args);
    expect(code).toBe(1);
    expect(err).toBe(
      `dialbook ${join(folder, "data", "mine.csv")}: was not written, a file of its name, or of its folder's name, is in the way; choose another path\n`,
    );
    expect(existsSync(join(folder, "notebooks", "mine.ipynb"))).toBe(false);
  });

  it("names what is missing where nobody can be asked", async () => {
    const { isTTY } = process.stdin;
    process.stdin.isTTY = false;
    const { code, err } = await command(workshop(), "mine", "--table", "520 x 230 mm");
    expect([code, err]).toEqual([2, "dialbook new: --resolution is missing; see dialbook new --help\n"]);
    expect((await command(workshop())).err).toBe("dialbook new: give one name; see dialbook new --help\n");
    process.stdin.isTTY = isTTY;
  });
});
