import { mkdirSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { displayIn } from "../../kernel-lib/src/index.js";
import { pageStyle } from "../../kernel-lib/src/kernel/report-style.js";
import { display, type MimeBundle } from "../../kernel-lib/src/quantity/display-member.js";
import { everyClass } from "../display/every-class.js";
import { browserIsThere, openBrowser } from "./chromium.js";

/** where pictures for a person to look at go, with DIALBOOK_PICTURES=1 */
const pictures = resolve(import.meta.dirname, "../../build/display");

const everyPart = [".output", ".db-scroll", "figure", ".db-caution", ".db-finding", "p"];

const shown = (value: object): string =>
  String((Reflect.get(value, display) as () => MimeBundle).call(value)["text/html"]).replace(
    /<script>.*?<\/script>/gs,
    "",
  );

describe.skipIf(!browserIsThere())("every thing that shows itself", () => {
  let browser: Browser;
  let body: string;
  beforeAll(async () => {
    displayIn("metric");
    mkdirSync(pictures, { recursive: true });
    const parts = Object.entries(everyClass).map(
      ([name, make]) => `<article id="${name}"><h3>${name}</h3><div class="output">${shown(make())}</div></article>`,
    );
    body = `<!doctype html><meta charset="utf-8"><style>${pageStyle}</style><div class="page"><main>${parts.join("")}</main></div>`;
    browser = await openBrowser();
  });
  afterAll(() => browser?.close());

  async function open(width: number, colorScheme: "light" | "dark"): Promise<Page> {
    const page = await browser.newPage({ viewport: { width, height: 900 }, colorScheme, offline: true });
    await page.setContent(body);
    return page;
  }

  async function picture(page: Page, kind: string): Promise<void> {
    for (const name of Object.keys(everyClass)) {
      const path = join(pictures, `${name.replaceAll(" ", "-")}-${kind}.png`);
      await page.locator(`article[id="${name}"]`).screenshot({ path });
    }
  }

  /** tables and texts that are wider than the room they have, by the thing they belong to */
  const cut = (page: Page, parts: readonly string[]) =>
    page.evaluate((selector) => {
      const wide = (el: Element): boolean => el.scrollWidth > el.clientWidth + 1;
      return Array.from(document.querySelectorAll("article")).flatMap((article) => {
        const over = Array.from(article.querySelectorAll(selector))
          .filter(wide)
          .map((el) => `${el.className || el.tagName} by ${el.scrollWidth - el.clientWidth}`);
        return over.length > 0 ? [`${article.id}: ${over.join(", ")}`] : [];
      });
    }, parts.join());

  it.each([
    [1280, "light"],
    [1280, "dark"],
    [700, "light"],
    [700, "dark"],
  ] as const)("fits a page %i px wide, in %s", async (width, scheme) => {
    const page = await open(width, scheme);
    const found = await cut(page, everyPart);
    if (process.env.DIALBOOK_PICTURES) await picture(page, `${width}-${scheme}`);
    await page.close();
    expect(found).toEqual([]);
  });

  it.each(["light", "dark"] as const)(
    "fits a phone, in %s: only a table is wider, by itself, and says so",
    async (scheme) => {
      const page = await open(390, scheme);
      const found = await cut(
        page,
        everyPart.filter((part) => part !== ".db-scroll"),
      );
      const faded = await page.evaluate(() =>
        Array.from(document.querySelectorAll(".db-scroll")).map((el) => [
          el.scrollWidth > el.clientWidth + 1,
          getComputedStyle(el).maskImage !== "none",
        ]),
      );
      if (process.env.DIALBOOK_PICTURES) await picture(page, `390-${scheme}`);
      await page.close();
      expect(found).toEqual([]);
      expect(faded.filter(([wide, fades]) => wide !== fades)).toEqual([]);
      expect(faded.some(([wide]) => wide)).toBe(true);
    },
  );
});
