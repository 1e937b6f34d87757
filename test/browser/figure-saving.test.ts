import { mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { LiveServer } from "../../kernel-lib/src/kernel/live/live-server.js";
import { writeNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { pngOf } from "../../kernel-lib/src/kernel/pictures.js";
import { writeReport } from "../../kernel-lib/src/kernel/report.js";
import { chapter, code, mapFigure, shown, surfaceFigure } from "../kernel/report-chapter-sample.js";
import { built, project as repository } from "../kernel/workplace.js";
import { browserIsThere, openBrowser, patient } from "./chromium.js";

const figures = [mapFigure, surfaceFigure];
const cells = figures.map((figure, i) => code(`figure ${i}`, [shown(figure)], i + 1));

/** width and height of a PNG, as its header says */
function sizeOf(png: Buffer): readonly number[] {
  expect(png.subarray(0, 8).toString("latin1")).toBe("\u0089PNG\r\n\u001a\n");
  return [png.readUInt32BE(16), png.readUInt32BE(20)];
}

describe.skipIf(!browserIsThere())("a figure is saved as a file", { timeout: 240_000 }, () => {
  let folder: string;
  let browser: Browser;
  let server: LiveServer;
  beforeAll(async () => {
    built();
    folder = mkdtempSync(join(tmpdir(), "saving-"));
    writeReport({ chapters: [chapter(cells)], folder, version: "0.1.0" });
    mkdirSync(join(folder, "notebooks"));
    writeNotebook(join(folder, "notebooks", "one.ipynb"), chapter(cells).notebook);
    server = await LiveServer.start({ project: folder, pageFolder: join(repository, "kernel-lib", "dist", "page") });
    browser = await openBrowser();
  }, 400_000);
  afterAll(async () => {
    await browser?.close();
    await server?.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  async function save(page: Page, at: number, title: RegExp): Promise<{ name: string; bytes: Buffer }> {
    const figure = page.locator(".js-plotly-plot").nth(at);
    await figure.scrollIntoViewIfNeeded();
    await figure.hover();
    const [download] = await Promise.all([
      page.waitForEvent("download", patient),
      figure
        .locator(".modebar-btn")
        .and(page.locator("[data-title]"))
        .filter({ has: page.locator("svg") })
        .and(page.locator(`[data-title*="${title.source}" i]`))
        .first()
        .click(),
    ]);
    return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
  }

  async function expectBoth(page: Page, trouble: readonly string[]): Promise<void> {
    const titles = () =>
      page.locator(".modebar-btn").evaluateAll((list) => list.map((el) => el.getAttribute("data-title") ?? ""));
    await expect
      .poll(async () => (await titles()).filter((title) => /PNG|SVG/.test(title)).length, patient)
      .toBe(2 * figures.length);
    // nothing sends a figure to anybody
    expect((await titles()).filter((title) => /share|cloud|upload|send/i.test(title))).toEqual([]);
    for (const [at, { still }] of figures.entries()) {
      const svg = await save(page, at, /SVG/);
      expect(svg.name).toBe("club-mill-table-before.svg");
      expect(svg.bytes.toString("utf8")).toBe(still);
      const png = await save(page, at, /PNG/);
      expect(png.name).toBe("club-mill-table-before.png");
      const [width = 0, height = 0] = sizeOf(png.bytes);
      expect(width).toBeGreaterThan(1000);
      expect(height).toBeGreaterThan(400);
    }
    expect(trouble).toEqual([]);
  }

  function troubleOf(page: Page): readonly string[] {
    const trouble: string[] = [];
    page.on("pageerror", (error) => trouble.push(String(error)));
    page.on("console", (message) => message.type() === "error" && trouble.push(message.text()));
    return trouble;
  }

  it("from a report: PNG as it is turned, SVG as it stands still", async () => {
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    page.setDefaultTimeout(patient.timeout);
    const trouble = troubleOf(page);
    await page.goto(pathToFileURL(join(folder, "03-flatness.html")).href);
    await page.waitForFunction(() => document.querySelectorAll(".js-plotly-plot .modebar").length >= 2, undefined, {
      timeout: 90_000,
    });
    await expectBoth(page, trouble);
    await page.close();
  });

  it("from the live page", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    context.setDefaultTimeout(patient.timeout);
    const page = await context.newPage();
    await page.goto(server.address());
    await page.goto(`http://127.0.0.1:${server.port}/notebook?path=notebooks/one.ipynb`);
    const trouble = troubleOf(page);
    await page.waitForSelector("body[data-ready]", { timeout: 60_000 });
    for (const i of [0, 1]) {
      // cells are put in anew while the page settles
      await expect
        .poll(
          async () => {
            await page.evaluate((n) => document.querySelectorAll(".jp-CodeCell")[n]?.scrollIntoView(), i);
            return page.locator("[data-drawn]").count();
          },
          { timeout: 60_000 },
        )
        .toBeGreaterThan(i);
    }
    await expectBoth(page, trouble);
    await context.close();
  });

  it("by the command, as PNG twice as fine as on the page", async () => {
    for (const figure of figures) {
      const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(figure.still) ?? [];
      const png = Buffer.from(pngOf({ name: "a", svg: figure.still }));
      expect(sizeOf(png)).toEqual([2 * Number(width), 2 * Math.ceil(Number(height))]);
    }
  });
});
