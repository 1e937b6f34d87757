import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { titleOf } from "../../kernel-lib/src/kernel/notebook-title.js";
import { chapterPage, writeReport } from "../../kernel-lib/src/kernel/report.js";
import { hostile } from "../hostile.js";
import { hostileNotebook } from "../kernel/hostile-notebook.js";
import { code, mapFigure, shown } from "../kernel/report-chapter-sample.js";
import { browserIsThere, openBrowser, patient } from "./chromium.js";

const name = `it's "<img src=x onerror=window.hurt=1>" & \u001b[2J \u202egpj %3Cb%3E #x ?y`;

describe.skipIf(!browserIsThere())(
  "the report of a hostile notebook, opened from the disk",
  { timeout: 400_000 },
  () => {
    let browser: Browser;
    let folder: string;
    beforeAll(async () => {
      folder = mkdtempSync(join(tmpdir(), `hostile "'<b> `));
      const forged = parseNotebook(hostileNotebook(), `${name}.ipynb`);
      const notebook = { ...forged, cells: [...forged.cells, code("map", [shown(mapFigure)])] };
      const one = {
        name,
        title: titleOf(notebook) ?? name,
        notebook,
        seconds: 1,
        failure: hostile,
        handOrder: hostile,
      };
      const data = new Map([[name, [{ name: hostile, sha256: "ab" }]]]);
      writeReport({ chapters: [one, { ...one, name: "other" }], folder, version: "0.1.0", data });
      writeFileSync(join(folder, "kept.html"), chapterPage({ chapter: one, version: "0.1.0", data: [], isKept: true }));
      browser = await openBrowser();
    });
    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
    });

    it("runs no script, asks nobody for anything, opens no window, goes nowhere", async () => {
      const files = readdirSync(folder);
      expect(files.toSorted()).toEqual(
        [`${name}.html`, "all-chapters.html", "index.html", "kept.html", "other.html"].toSorted(),
      );
      for (const file of files) {
        const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
        const page = await context.newPage();
        const seen: string[] = [];
        page.on("dialog", (dialog) => {
          seen.push(`dialog ${dialog.message()}`);
          return dialog.dismiss();
        });
        page.on("request", (asked) => /^(?:blob|data):/.test(asked.url()) || seen.push(asked.url()));
        page.on("popup", (other) => seen.push(`window ${other.url()}`));
        page.on("pageerror", (error) => seen.push(`error ${error}`));
        page.on("console", (message) => message.type() === "error" && seen.push(`console ${message.text()}`));
        const address = pathToFileURL(join(folder, file)).href;
        await page.goto(address);
        if (file !== "index.html") {
          // the two figures are drawn: the hostile words went through plotly too
          await page.waitForFunction(
            () => {
              const all = document.querySelectorAll("[data-dialbook-figure]").length;
              return all > 1 && document.querySelectorAll(".db-live .modebar").length === all;
            },
            undefined,
            { timeout: 90_000 },
          );
          await page.locator(".db-live").first().hover();
        }
        for (const details of await page.locator("details").all())
          await details.evaluate((el) => el.setAttribute("open", ""));
        await page.waitForTimeout(300);
        expect(await page.evaluate(() => Reflect.get(globalThis, "hurt"))).toBeUndefined();
        expect(page.url()).toBe(address);
        expect(seen).toEqual([address]);
        const active =
          "main script, main style, main meta, main form, main input, main iframe, a[href^='javascript'], img[src='x']";
        expect(await page.locator(active).count()).toBe(0);
        await context.close();
      }
    });

    it("leads by its list to the page of a chapter with such a name", async () => {
      const page = await browser.newPage();
      await page.goto(pathToFileURL(join(folder, "index.html")).href);
      await page.locator(".list a").first().click();
      await page.waitForURL((address) => !address.pathname.endsWith("/index.html"), patient);
      expect(decodeURIComponent(new URL(page.url()).pathname)).toContain(name);
      expect(await page.locator("main").count()).toBe(1);
      await page.close();
    });
  },
);
