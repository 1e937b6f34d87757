import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { heightMap, heightSurface } from "../../kernel-lib/src/figure/index.js";
import { writeReport } from "../../kernel-lib/src/kernel/report.js";
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
    writeReport({ chapters: [sampleChapter(), badChapter], folder, version: "0.1.0" });
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
