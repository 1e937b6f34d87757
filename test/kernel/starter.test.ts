import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { main } from "../../kernel-lib/src/kernel/cli.js";
import type { Notebook } from "../../kernel-lib/src/kernel/notebook.js";
import { parseNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { starter } from "../../kernel-lib/src/kernel/starter.js";
import { type StarterAnswers, starterOptions } from "../../kernel-lib/src/kernel/starter-answers.js";
import { blankNotebook } from "../../kernel-lib/src/kernel/starter-notebook.js";
import { parseSurvey } from "../../kernel-lib/src/survey/index.js";
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
