import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { finding, table } from "../../kernel-lib/src/display/index.js";
import { depth } from "../../kernel-lib/src/facing/index.js";
import { depthSlider, heightMap, heightSurface } from "../../kernel-lib/src/figure/index.js";
import { blankSheet, mm } from "../../kernel-lib/src/index.js";
import type { RanChapter } from "../../kernel-lib/src/kernel/ran-chapter.js";
import { writeReport } from "../../kernel-lib/src/kernel/report.js";
import { aPlan } from "../display/a-plan.js";
import { aMap } from "../facing/a-map.js";
import { clubTable } from "../figure/club-table.js";
import {
  chapter,
  code,
  mapFigure,
  sampleChapter,
  shown,
  surfaceFigure,
  text,
} from "../kernel/report-chapter-sample.js";
import { browserIsThere, openBrowser, patient } from "./chromium.js";

const hostile = `</script><img src=x onerror="window.hurt=1"><svg onload='window.hurt=1'>'"&`;

/** what a phone or a sheet of paper could take apart: dates, a slider, a wide table, a sheet in its frame */
function paperChapter(): RanChapter {
  const cut = depth(
    aMap((x) => (480 * (x - 20)) / 480, { noiseUm: 0.5, gaugeUm: 1 }),
    { draws: 100, thickness: mm(125) },
  );
  const record = table({
    caption: "record",
    columns: ["line", "date", "subject", "result", "value", "relative to", "gauge", "sheet", "note"].map((heading) => ({
      heading,
    })),
    rows: Array.from({ length: 40 }, (_, i) => [
      `${i + 1}`,
      "2026-10-17",
      "table of the bed mill",
      "minimum zone flatness",
      "25.1 µm ± 4.8 µm (k = 2.0)",
      "travel",
      "plunger dial indicator, invented",
      "table-2026-10-17.csv",
      "",
    ]),
  });
  const where = "closed on 2026-10-17 and 2026-10-18, `odd-second-again.csv` and";
  const line =
    "the table stands within 25.1 µm ± 4.8 µm (k = 2.0), closed on 2026-10-17, and odd-second-again.csv says so;";
  return chapter(
    [
      text(`## Dates\n\n${`${where} `.repeat(9)}`),
      code("finding", [shown(finding(`${line} `.repeat(9)))]),
      code("record", [shown(record)]),
      code("cut", [shown(depthSlider(cut))]),
      code("sheet", [shown(blankSheet(aPlan()))], 5),
    ],
    { name: "05-paper", title: "On paper" },
  );
}

describe.skipIf(!browserIsThere())("a report opened from the disk with the network off", () => {
  let browser: Browser;
  let folder: string;
  const trouble: string[] = [];

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "report-"));
    const table = clubTable();
    const places = table.places.map((place, i) => (i === 89 ? { ...place, label: hostile } : place));
    const bad = clubTable({ name: hostile, places });
    const badChapter = chapter(
      [text(hostile), code(hostile, [heightSurface(bad), heightMap(bad, { notes: [hostile] })].map(shown))],
      { name: "hostile", title: hostile },
    );
    writeReport({ chapters: [sampleChapter(), badChapter, paperChapter()], folder, version: "0.1.0" });
    browser = await openBrowser();
  });

  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  async function open(name: string, more: { javaScriptEnabled?: boolean; width?: number } = {}): Promise<Page> {
    const { width = 1280, javaScriptEnabled = true } = more;
    const context = await browser.newContext({ viewport: { width, height: 900 }, javaScriptEnabled, offline: true });
    context.setDefaultTimeout(patient.timeout);
    const page = await context.newPage();
    trouble.length = 0;
    page.on("pageerror", (error) => trouble.push(String(error)));
    page.on("console", (message) => message.type() === "error" && trouble.push(message.text()));
    page.on("request", (request) => /^(?:file|blob|data):/.test(request.url()) || trouble.push(request.url()));
    await page.goto(pathToFileURL(join(folder, `${name}.html`)).href);
    return page;
  }

  async function drawn(page: Page): Promise<void> {
    await page.waitForFunction(() => document.querySelectorAll(".db-live .main-svg").length >= 4, undefined, patient);
    await page.waitForFunction(() => document.querySelector(".db-live .gl-container canvas") !== null);
    // what plotly puts in last
    await page.waitForFunction(() => document.querySelectorAll(".db-live .modebar").length >= 2);
  }

  it("shows the surface live, its canvas painted, and asks for nothing from outside", async () => {
    const page = await open("03-flatness");
    await drawn(page);
    const figure = page.locator(".db-live").first();
    await figure.scrollIntoViewIfNeeded();
    const box = await figure.boundingBox();
    // the middle of the scene, where no written word and no colour bar stands
    const clip = { x: (box?.x ?? 0) + 200, y: (box?.y ?? 0) + 140, width: 260, height: 90 };
    const colours = async (): Promise<number> => (await coloursOf(await page.screenshot({ clip }))).size;
    await expect.poll(colours, { ...patient, interval: 1000 }).toBeGreaterThan(100);
    expect(await page.locator("figure img:visible").count()).toBe(0);
    expect(trouble).toEqual([]);
    await page.context().close();
  });

  it("writes the same words live as the still picture has", async () => {
    const page = await open("03-flatness");
    await drawn(page);
    const seen = (await page.locator(".db-live").allTextContents()).map((words) => words.replace(/\s+/g, " "));
    for (const [i, { texts }] of [surfaceFigure, mapFigure].entries()) {
      // axes of a scene are painted, not written
      const axes = i === 0 ? ["height/µm"] : texts.axes;
      for (const words of [texts.title, texts.subtitle, ...axes, ...texts.edges, ...texts.lines, ...texts.marked]) {
        expect(seen[i]).toContain(words);
      }
    }
    const titles = await page.evaluate(() => {
      const { scene } = Reflect.get(document.querySelector(".db-live") ?? {}, "layout");
      return [scene.xaxis.title.text, scene.yaxis.title.text];
    });
    expect(titles).toEqual(["x/mm", "y/mm"]);
    await page.context().close();
  });

  it("clips nothing at 640 px", async () => {
    const page = await open("03-flatness", { width: 640 });
    await drawn(page);
    const outside = await page.evaluate(() =>
      Array.from(document.querySelectorAll(".db-live")).flatMap((figure) => {
        const frame = figure.getBoundingClientRect();
        return Array.from(figure.querySelectorAll("svg text"))
          .map((word) => ({ text: word.textContent, box: word.getBoundingClientRect() }))
          .filter(({ text, box }) => text !== "" && box.width > 0)
          .filter(
            ({ box }) =>
              box.left < frame.left - 1 ||
              box.right > frame.right + 1 ||
              box.top < frame.top - 1 ||
              box.bottom > frame.bottom + 1,
          )
          .map(({ text }) => text);
      }),
    );
    expect(outside).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(640);
    await page.context().close();
  });

  it("keeps the still picture on a phone until it is touched, then draws it whole in a frame that scrolls", async () => {
    const page = await open("03-flatness", { width: 390 });
    await page.waitForFunction(() => document.querySelectorAll("figure[title]").length >= 2, undefined, patient);
    expect(await page.locator(".db-live").count()).toBe(0);
    const pictures = page.locator("figure img");
    for (const picture of await pictures.all()) expect((await picture.boundingBox())!.width).toBeLessThan(390);
    await page.locator("figure").nth(1).click();
    await page.waitForSelector(".db-live .modebar", { state: "attached" });
    await pictures.nth(1).waitFor({ state: "hidden" });
    expect(await pictures.nth(0).isVisible()).toBe(true);
    const sizes = await page
      .locator("figure")
      .nth(1)
      .evaluate((el) => [el.clientWidth, el.scrollWidth]);
    expect(sizes[0]).toBeLessThan(390);
    expect(sizes[1]).toBeGreaterThanOrEqual(640);
    const words = page.locator(".db-live svg text");
    const frame = (await page.locator(".db-live").boundingBox())!;
    for (const word of await words.all()) {
      const box = await word.boundingBox();
      if (!box || box.width === 0) continue;
      expect(box.x).toBeGreaterThan(frame.x - 1);
      expect(box.x + box.width).toBeLessThan(frame.x + frame.width + 1);
    }
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(trouble).toEqual([]);
    await page.context().close();
  });

  it("says on a phone that a picture can be touched, and on a wide page and on paper nothing of it", async () => {
    const hint = (page: Page) =>
      page.evaluate(() =>
        Array.from(document.querySelectorAll("figure"), (el) => getComputedStyle(el, "::after").content),
      );
    const phone = await open("03-flatness", { width: 390 });
    await phone.waitForFunction(() => document.querySelectorAll("figure[title]").length >= 2);
    expect(new Set(await hint(phone))).toEqual(new Set(['"Touch to turn it and read values"']));
    await phone.emulateMedia({ media: "print" });
    expect(new Set(await hint(phone))).toEqual(new Set(["none"]));
    await phone.context().close();
    const wide = await open("03-flatness");
    await drawn(wide);
    expect(new Set(await hint(wide))).toEqual(new Set(["none"]));
    await wide.context().close();
  });

  it.each([390, 640, 1280])("takes no date and no name of a sheet apart at %i px", async (width) => {
    const page = await open("05-paper", { width });
    const taken = await page.evaluate(() => {
      const pieces = Array.from(document.querySelectorAll<HTMLElement>("main .db-whole"));
      const apart = pieces.filter((piece) => piece.getClientRects().length > 1);
      return { count: pieces.length, apart: apart.map((piece) => piece.textContent) };
    });
    expect(taken.count).toBeGreaterThan(100);
    expect(taken.apart).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
    await page.context().close();
  });

  it.each([640, 1280])("keeps the words of a slider inside its figure at %i px", async (width) => {
    const page = await open("05-paper", { width });
    await page.waitForSelector(".db-live .slider-container text", { timeout: 30_000 });
    const frame = (await page.locator(".db-live").boundingBox())!;
    const said = page.locator(".db-live .slider-container text", { hasText: "below first contact" }).first();
    const box = (await said.boundingBox())!;
    expect(box.width).toBeGreaterThan(400);
    expect(box.x).toBeGreaterThanOrEqual(frame.x);
    expect(box.x + box.width).toBeLessThanOrEqual(frame.x + frame.width);
    await page.context().close();
  });

  it.each([
    ["A4", 180, 267],
    ["Letter", 185.9, 249.4],
  ])("prints on %s light where the screen is dark, and no wider than the paper", async (_paper, widthMm, heightMm) => {
    const px = (mm: number) => (mm * 96) / 25.4;
    const page = await open("05-paper", { width: Math.floor(px(widthMm)) });
    await page.emulateMedia({ media: "print", colorScheme: "dark" });
    const printed = await page.evaluate(() => {
      const block = getComputedStyle(document.querySelector(".dialbook")!);
      const frame = document.querySelector("iframe")!.getBoundingClientRect();
      return {
        accent: block.getPropertyValue("--db-accent"),
        ink: getComputedStyle(document.body).color,
        width: document.documentElement.scrollWidth,
        rows: Array.from(document.querySelectorAll(".dialbook tr"), (row) => getComputedStyle(row).breakInside),
        frame: [frame.right, frame.height],
      };
    });
    expect(printed).toMatchObject({ accent: "#1c5d8c", ink: "rgb(0, 0, 0)" });
    expect(new Set(printed.rows)).toEqual(new Set(["avoid"]));
    expect(printed.width).toBeLessThanOrEqual(Math.ceil(px(widthMm)));
    expect(printed.frame[0]).toBeLessThanOrEqual(px(widthMm) + 1);
    expect(printed.frame[1]).toBeLessThanOrEqual(px(heightMm));
    // the sheet in the frame, which has its own paper, is as wide as the frame at most
    const sheet = page.frameLocator("iframe").locator(".page").first();
    const [inner, outer] = [
      await sheet.evaluate((el) => (el as HTMLElement).offsetWidth),
      await page.locator("iframe").evaluate((el) => (el as HTMLElement).offsetWidth),
    ];
    expect(inner).toBeLessThanOrEqual(outer);
    await page.context().close();
  });

  it("shows the stills with scripts off", async () => {
    const page = await open("03-flatness", { javaScriptEnabled: false });
    const pictures = page.locator("figure img");
    expect(await pictures.count()).toBe(2);
    for (const picture of await pictures.all()) {
      const box = await picture.boundingBox();
      expect(box?.width).toBeGreaterThan(600);
      expect(box?.height).toBeGreaterThan(200);
      expect((await coloursOf(await picture.screenshot())).size).toBeGreaterThan(50);
    }
    await page.context().close();
  });

  it("has one switch for the code of all cells, and none where scripts are off", async () => {
    const page = await open("03-flatness");
    const all = await page.locator("main details").count();
    expect(all).toBeGreaterThan(3);
    expect(await page.locator("main details[open]").count()).toBe(0);
    await page.getByRole("button", { name: "Show all code" }).click();
    expect(await page.locator("main details[open]").count()).toBe(all);
    await page.getByRole("button", { name: "Hide all code" }).click();
    expect(await page.locator("main details[open]").count()).toBe(0);
    expect(trouble).toEqual([]);
    await page.context().close();
    const plain = await open("03-flatness", { javaScriptEnabled: false });
    expect(await plain.locator("button").count()).toBe(0);
    expect(await plain.locator("main details summary").count()).toBe(all);
    await plain.context().close();
  });

  it("prints the stills and the code", async () => {
    const page = await open("03-flatness");
    await drawn(page);
    await page.emulateMedia({ media: "print" });
    expect(await page.locator("figure img:visible").count()).toBe(2);
    expect(await page.locator(".db-live:visible").count()).toBe(0);
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    expect(await page.locator("details[open]").count()).toBe(await page.locator("details").count());
    await page.context().close();
  });

  it("runs no script from a label, a title, a note or a text", async () => {
    const page = await open("hostile");
    await drawn(page);
    await page.waitForTimeout(500);
    expect(await page.evaluate(() => Reflect.get(globalThis, "hurt"))).toBeUndefined();
    expect(await page.locator("img[src=x]").count()).toBe(0);
    expect(await page.locator("h1").first().textContent()).toBe(hostile);
    expect(trouble).toEqual([]);
    await page.context().close();
  });

  /** colours of a PNG, each counted once, read by the browser itself */
  async function coloursOf(png: Buffer): Promise<Set<string>> {
    const reader = await browser.newPage();
    const list = await reader.evaluate(async (base64) => {
      const image = new Image();
      image.src = `data:image/png;base64,${base64}`;
      await image.decode();
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [image.width, image.height];
      const paint = canvas.getContext("2d");
      if (paint === null) return [];
      paint.drawImage(image, 0, 0);
      const { data } = paint.getImageData(0, 0, image.width, image.height);
      const found = new Set<string>();
      for (let i = 0; i < data.length; i += 4) found.add(`${data[i]} ${data[i + 1]} ${data[i + 2]}`);
      return [...found];
    }, png.toString("base64"));
    await reader.close();
    return new Set(list);
  }
});
