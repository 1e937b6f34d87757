import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { displayIn } from "../../kernel-lib/src/index.js";
import { readNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { picturesOf } from "../../kernel-lib/src/kernel/pictures.js";
import { display, type MimeBundle } from "../../kernel-lib/src/quantity/display-member.js";
import { everyClass } from "../display/every-class.js";
import { everyFigure } from "../figure/every-figure.js";
import { browserIsThere, openBrowser } from "./chromium.js";
import { faultsOf } from "./still-audit.js";

const notebooks = resolve(import.meta.dirname, "../../notebooks");

/** still pictures in the HTML that an output shows, those on a page to print with them */
function picturesIn(markup: string): string[] {
  const coded = [...markup.matchAll(/src="data:image\/svg\+xml;base64,([^"]+)"/g)];
  const frames = [...markup.matchAll(/href="data:text\/html;base64,([^"]+)"/g)];
  const read = (packed = ""): string => Buffer.from(packed, "base64").toString("utf8");
  const printed = frames.flatMap(([, packed]) => [...read(packed).matchAll(/<svg .*?<\/svg>/gs)].map(([svg]) => svg));
  return [...coded.map(([, packed]) => read(packed)), ...printed];
}

/** every picture that is shown anywhere, by where it is */
function everyStill(): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const [name, made] of Object.entries(everyFigure)) {
    for (const [what, make] of Object.entries(made)) {
      for (const system of ["metric", "inch"] as const)
        found.set(`${name}, ${what}, ${system}`, make().shownIn(system).still);
    }
  }
  for (const [name, make] of Object.entries(everyClass)) {
    const value = make();
    const bundle = (Reflect.get(value, display) as () => MimeBundle).call(value);
    picturesIn(String(bundle["text/html"])).forEach((svg, i) => {
      found.set(`class ${name}, picture ${i + 1}`, svg);
    });
  }
  for (const file of readdirSync(notebooks).filter((name) => name.endsWith(".ipynb"))) {
    for (const { name, svg } of picturesOf(readNotebook(join(notebooks, file))).pictures)
      found.set(`${file}, ${name}`, svg);
  }
  for (const file of readdirSync(join(notebooks, "pictures")).filter((name) => name.endsWith(".svg"))) {
    found.set(`gallery, ${file}`, readFileSync(join(notebooks, "pictures", file), "utf8"));
  }
  return found;
}

describe.skipIf(!browserIsThere())("every still picture", () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    displayIn("metric");
    browser = await openBrowser();
    page = await browser.newPage({ viewport: { width: 700, height: 900 }, offline: true });
    await page.setContent("<!doctype html><body style='margin:0'>");
  });
  afterAll(() => browser?.close());

  it.each(["light", "dark"] as const)(
    "can be read in %s: no text touches, is cut, or fades into what is behind it",
    async (colorScheme) => {
      await page.emulateMedia({ colorScheme });
      const wrong: string[] = [];
      for (const [where, svg] of everyStill()) {
        for (const fault of await page.evaluate(faultsOf, svg)) wrong.push(`${where}: ${fault}`);
      }
      expect(wrong).toEqual([]);
    },
    900_000,
  );

  const picture = (inner: string): string =>
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100" font-family="sans-serif"><rect width="200" height="100" fill="#ffffff"/>${inner}</svg>`;
  const word = (more: string, text = "12.5 µm"): string =>
    `<text x="20" y="50" font-size="12" fill="#222222" ${more}>${text}</text>`;

  it.each([
    ["nothing", word(""), []],
    ["a text over the rim", word('transform="translate(150 0)"'), ['"12.5 µm" leaves the picture by']],
    ["two texts on one place", word("") + word('transform="translate(30 3)"', "7 µm"), ['"12.5 µm" and "7 µm" touch']],
    ["pale letters", word('style="fill:#999999"'), ['"12.5 µm" stands at 2.8 : 1']],
    [
      "dark letters on a dark area",
      `<rect width="200" height="100" fill="#4b6a8c"/>${word("")}`,
      ['"12.5 µm" stands at'],
    ],
    [
      "an axis through letters",
      `${word("")}<line x1="0" y1="46" x2="200" y2="46" stroke="#222222"/>`,
      ['a line runs through "12.5 µm"'],
    ],
    [
      "a pale line of readings",
      '<polyline points="0,10 200,90" fill="none" stroke="#cccccc"/>',
      ["a polyline in rgb(204, 204, 204) stands at 1.6 : 1"],
    ],
    [
      "a pale mark",
      '<circle cx="50" cy="50" r="3" fill="#bbd5ee"/>',
      ["a circle in rgb(187, 213, 238) stands at 1.5 : 1"],
    ],
  ])("the look at it finds %s", async (_, inner, wanted) => {
    const found = await page.evaluate(faultsOf, picture(inner));
    expect(found.map((fault, i) => fault.slice(0, wanted[i]?.length))).toEqual(wanted);
  });
});
