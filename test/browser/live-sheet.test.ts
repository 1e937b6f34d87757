import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, BrowserContext, Page, Request } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { LiveServer } from "../../kernel-lib/src/kernel/live/live-server.js";
import { ownPort } from "../../kernel-lib/src/kernel/live/own-port.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { closeSheet, gauge, plan, readSurvey } from "../../kernel-lib/src/survey/index.js";
import { browserIsThere, openBrowser, patient } from "./chromium.js";

const isThere = browserIsThere();
const project = mkdtempSync(join(tmpdir(), "dialbook-live-sheet-"));
const file = join(project, "data", "club.csv");
const pageFolder = resolve("kernel-lib/dist/page");

/** the club's mill, invented: 15 places, two passes, returns to two datums */
const planned = plan({
  title: "club mill, invented",
  table: { x: [mm(0), mm(320)], y: [mm(0), mm(160)] },
  slots: [{ along: "x", at: mm(50), width: mm(14) }],
  pitch: mm(75),
  frame: { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" },
  gauge: gauge({
    resolution: um(2),
    display: "analogue",
    fractionEstimated: 0.5,
    maximumPermissibleError: um(4),
    range: mm(1),
    rangePerTurn: mm(0.2),
  }),
});

/** what the dial shows at each reading, in µm: a slope and a hollow, and a hair between the passes */
const shown = planned.readings.map(({ xMm, yMm, pass }, i) =>
  Math.round(20 + 0.05 * xMm - 12 * Math.sin((Math.PI * yMm) / 160) + (pass - 1) + (i % 3 === 0 ? 1 : 0)),
);

const addressOf = (path: string) => `${base()}/sheet?path=${encodeURIComponent(path)}`;
let server: LiveServer;
let browser: Browser;
let context: BrowserContext;
const base = () => `http://127.0.0.1:${server.port}`;

/** a port that no system hands out by itself: free again when the server is started anew */
const port = ownPort(project);
const start = async () => {
  server = await LiveServer.start({ project, pageFolder, port });
};

/** lets the browser in: a tab that opens the printed address, as the person does */
const admit = async () => {
  const tab = await context.newPage();
  await tab.goto(server.address());
  await tab.close();
};

const open = async (path = "data/club.csv"): Promise<Page> => {
  const page = await context.newPage();
  await page.goto(addressOf(path));
  await page.waitForSelector("#reading, main.refused");
  return page;
};

const type = async (page: Page, text: string | number) => {
  await page.keyboard.type(String(text));
  await page.keyboard.press("Enter");
};
const saved = (page: Page) => page.waitForSelector('.saved[data-state="saved"]');
const isSave = (asked: Request) => asked.method() === "PUT";
const place = (page: Page) => page.locator(".here b").textContent();
const words = (page: Page) => page.locator(".entry > .said").textContent();
const z = (row: number) =>
  readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => /^([A-Z]+\d|datum)/.test(line))
    [row]!.split(",")[3];

/** a sheet of its own with all readings in it. @returns its path in the project */
function filled(name: string): string {
  let row = 0;
  const lines = planned
    .toCsv()
    .split("\n")
    .map((line) => (/^([A-Z]+\d|datum)/.test(line) ? line.split(",").with(3, String(shown[row++])).join(",") : line));
  writeFileSync(join(project, "data", `${name}.csv`), lines.join("\n"));
  return `data/${name}.csv`;
}

beforeAll(async () => {
  if (!isThere) return;
  mkdirSync(join(project, "data"));
  mkdirSync(join(project, "notebooks"));
  const cell = {
    cell_type: "code",
    id: "a1",
    metadata: {},
    execution_count: null,
    outputs: [],
    source: 'readSurvey("../data/club.csv")',
  };
  const notebook = { nbformat: 4, nbformat_minor: 5, metadata: {}, cells: [cell] };
  writeFileSync(join(project, "notebooks", "club.ipynb"), JSON.stringify(notebook));
  writeFileSync(file, planned.toCsv());
  await start();
  browser = await openBrowser();
  context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  context.setDefaultTimeout(patient.timeout);
  await admit();
});

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  rmSync(project, { recursive: true, force: true });
});

describe.skipIf(!isThere)("the reading sheet in a browser", () => {
  it("takes a whole survey through five mishaps, and the survey is read to the last digit", {
    timeout: 240_000,
  }, async () => {
    const count = shown.length;
    let page = await open();
    expect(await page.locator(".readers a").getAttribute("href")).toBe("/notebook?path=notebooks%2Fclub.ipynb");
    expect(await page.locator(".due").textContent()).toMatch(
      /^Return to the datums, 1 of \d+: 6 readings, now at datum 1/,
    );
    // a decimal comma is written as this sheet writes its decimals, the digits as they were typed
    await type(page, `${shown[0]},0`);
    for (let i = 1; i < 10; i++) await type(page, shown[i]!);
    await saved(page);
    expect(z(0)).toBe(`${shown[0]}.0`);

    // 1: slips of the finger are told in place, and a doubtful reading is asked about once
    expect(await place(page)).toBe(planned.readings[10]!.label);
    for (const [typed, told] of [
      ["12O", /is not a number; type digits in µm/],
      ["1,234.5", /can be read two ways/],
      ["1400", /is more than the gauge shows, its range is 1000 µm/],
      [String(shown[10]! + 200), /close to a whole turn of the pointer \(200 µm\); read the turn counter again/],
    ] as const) {
      await type(page, typed);
      expect(await words(page)).toMatch(told);
      await page.keyboard.press("Escape");
    }
    expect(await place(page)).toBe(planned.readings[10]!.label);
    await type(page, shown[10]!);
    await page.keyboard.press("Control+z");
    expect(await place(page)).toBe(planned.readings[10]!.label);
    await saved(page);
    expect(z(10)).toBe("");
    await page.keyboard.press("Control+y");
    await saved(page);
    expect(z(10)).toBe(String(shown[10]));

    // 2: the page dies in the middle of a reading
    await page.keyboard.press("ArrowDown");
    expect(await place(page)).toBe(planned.readings[11]!.label);
    await page.keyboard.type(String(shown[11]!));
    await page.close();
    page = await open();
    expect(await page.locator("#reading").inputValue()).toBe(String(shown[11]!));
    expect(await page.locator(".notices").first().textContent()).toMatch(
      /was typed and not entered; it is back in the field/,
    );
    await page.keyboard.press("Enter");

    // 3: the server dies, readings go on, the page dies too, and both come back
    await saved(page);
    await server.stop();
    for (let i = 12; i < 15; i++) await type(page, shown[i]!);
    await expect
      .poll(() => page.locator(".saved").textContent(), patient)
      .toBe("3 changes kept here, not in the file yet");
    expect(z(12)).toBe("");
    // it is tried again every two seconds; meanwhile the notice stands as it is
    const standing = await page
      .locator(".notices .notice", { hasText: "the page's server does not answer" })
      .elementHandle();
    for (let tried = 0; tried < 2; tried++) await page.waitForEvent("requestfailed", { predicate: isSave, ...patient });
    expect(await standing!.evaluate((node) => node.isConnected)).toBe(true);
    await page.close();
    await start();
    await admit();
    page = await open();
    await saved(page);
    expect([z(12), z(13), z(14)]).toEqual([shown[12], shown[13], shown[14]].map(String));

    // 4: somebody else writes into the file: one place that is blank here, one that is typed here too
    await server.stop();
    await type(page, shown[15]!);
    await page.waitForSelector('.saved[data-state="kept"]');
    const lines = readFileSync(file, "utf8").split("\n");
    const row = (i: number) => lines.findIndex((line) => line.split(",")[5] === String(planned.readings[i]!.order));
    const write = (i: number, text: string) => {
      lines[row(i)] = lines[row(i)]!.split(",").with(3, text).join(",");
    };
    write(15, "77");
    write(16, String(shown[16]));
    writeFileSync(file, lines.join("\n"));
    await start();
    await admit();
    await page.waitForSelector('.saved[data-state="clash"]');
    expect(await page.locator(".notices").nth(1).textContent()).toMatch(
      new RegExp(`you wrote ${shown[15]}, in the file stands 77; which of the two stands\\?`),
    );
    expect(z(15)).toBe("77");
    await page.getByRole("button", { name: `Mine, ${shown[15]}` }).click();
    await saved(page);
    expect([z(15), z(16)]).toEqual([shown[15], shown[16]].map(String));

    // 5: a pasted column with a slip in it enters nothing; put right, it enters all
    await page.getByRole("button", { name: "First blank" }).click();
    expect(await place(page)).toBe(planned.readings[17]!.label);
    const paste = (text: string) =>
      page.evaluate((plain) => {
        const data = new DataTransfer();
        data.setData("text/plain", plain);
        const field = document.querySelector("#reading")!;
        field.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }));
      }, text);
    await paste(`${shown[17]}\n1O\n${shown[19]}`);
    expect(await page.locator(".paste .said").textContent()).toMatch(
      /line 2, "1O", is not a number.*nothing was entered/,
    );
    await paste(shown.slice(17, 25).join("\r\n"));
    await page.getByRole("button", { name: "Enter them" }).click();
    await saved(page);
    expect(z(24)).toBe(String(shown[24]));

    for (let i = 25; i < count; i++) await type(page, shown[i]!);
    await saved(page);
    expect(await page.locator(".here .left").textContent()).toMatch(/none blank$/);

    await page.locator("summary").click();
    await page.locator('[data-head="vice"]').fill("off, table clear");
    await page.keyboard.press("Tab");
    await saved(page);
    const survey = readSurvey(file);
    expect(survey.protocol.vice).toBe("off, table clear");
    const byOrder = [...survey.readings(), ...survey.datumReturns].sort((a, b) => a.order! - b.order!);
    expect(byOrder.map(({ z: height }) => height.in("um"))).toEqual(shown);
    expect(byOrder.map(({ place: name }) => name)).toEqual(planned.readings.map(({ label }) => label));
    // every other byte is that of the plan
    const blanked = readFileSync(file, "utf8").replace("# vice: off, table clear", "# vice:");
    expect(blanked.replace(/^((?:[A-Z]+\d+|datum \d),[^,]+,[^,]+,)-?\d+(?:\.0)?/gm, "$1")).toBe(planned.toCsv());
    await page.close();
  });

  it("says beside the sheet which reading stands out, and goes there", { timeout: 240_000 }, async () => {
    const page = await open(filled("filled"));
    const at = planned.readings.findIndex(({ pass, label }) => pass === 1 && !label.startsWith("datum")) + 6;
    const { label } = planned.readings[at]!;
    await page.locator(`.row[data-index="${at}"]`).click();
    expect(await place(page)).toBe(label);
    const first = page.locator(".verdict .finding.check", { hasText: `${label}:` });
    await type(page, shown[at]! + 60);
    await first.waitFor();
    expect(await first.textContent()).toMatch(/re-measure/);
    await first.getByRole("button", { name: label, exact: true }).click();
    expect(await place(page)).toBe(label);
    await type(page, shown[at]!);
    await first.waitFor({ state: "detached" });
    // a reading that is left without Enter is not entered, and that is told
    const left = await place(page);
    await page.keyboard.type("7");
    await page.keyboard.press("ArrowUp");
    expect(await page.locator(".notices").first().textContent()).toMatch(
      new RegExp(`^${left}, pass \\d: "7" was typed and left without Enter; the sheet does not hold it`),
    );
    await page.close();
  });

  it("is typed with thumbs at 390 px, nothing wider than the screen", { timeout: 240_000 }, async () => {
    writeFileSync(join(project, "data", "thumbs.csv"), planned.toCsv());
    const page = await open("data/thumbs.csv");
    await page.setViewportSize({ width: 390, height: 844 });
    const press = (key: string) => page.locator(`.keypad [data-key="${key}"]`).click();
    for (const key of ["1", "2", "±", ",", "5", "delete", "delete", "enter"]) await press(key);
    await saved(page);
    expect(readFileSync(join(project, "data", "thumbs.csv"), "utf8")).toMatch(/^datum 1,[^,]+,[^,]+,-12,1,1,/m);
    const sizes = await page
      .locator(".keypad button")
      .evaluateAll((keys) => keys.map((key) => key.getBoundingClientRect().height));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(44);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    const enter = (await page.locator('[data-key="enter"]').boundingBox())!;
    expect(enter.y + enter.height).toBeLessThanOrEqual(844);
    await page.close();
  });

  it("opens a closed sheet to read and saves a correction under a new name; another sort of file is told", {
    timeout: 240_000,
  }, async () => {
    closeSheet(join(project, filled("done")), "2026-11-29");
    const page = await open("data/done.csv");
    expect(await page.locator("#reading").isDisabled()).toBe(true);
    await page.getByLabel("reason").fill("A1 read again");
    await page.getByRole("button", { name: "Save a correction" }).click();
    await page.waitForURL(/done-corrected\.csv/);
    await page.waitForSelector("#reading");
    expect(await page.locator("#reading").isDisabled()).toBe(false);
    expect(readSurvey(join(project, "data", "done-corrected.csv")).notes).toEqual([
      "correction of done.csv, closed on 2026-11-29: A1 read again",
    ]);
    writeFileSync(join(project, "data", "bar.csv"), "line,step,direction,reading/div\nrow,1,as marked,\n");
    await page.goto(addressOf("data/bar.csv"));
    expect(await page.locator("main.refused p").textContent()).toMatch(/that of a sheet of levels/);
    await page.close();
  });

  it("takes the readings of a sweep, without a map, and says what comes of them", async () => {
    const lines = ["# radius: 100 mm", "# gauge resolution: 1 um", "# gauge maximum permissible error: 3 um"];
    const rows = [0, 90, 180, 270].map((angle) => `${angle},,1,`);
    writeFileSync(
      join(project, "data", "sweep.csv"),
      [...lines, "angle/deg,reading/um,turn,note", ...rows, ""].join("\n"),
    );
    const page = await open("data/sweep.csv");
    await page.locator(".here", { hasText: "0°turn 1 of 1" }).waitFor();
    expect(await page.locator("section.map").isVisible()).toBe(false);
    for (const reading of ["10", "0", "-10", "0"]) {
      await page.locator("#reading").fill(reading);
      await page.keyboard.press("Enter");
    }
    await page.locator(".verdict", { hasText: /sweep of the spindle: .*100 µm\/m/ }).waitFor();
    expect(readFileSync(join(project, "data", "sweep.csv"), "utf8")).toContain("180,-10,1,");
    await page.close();
  });
});
