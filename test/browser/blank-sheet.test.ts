import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { blankSheet, mm } from "../../kernel-lib/src/index.js";
import { aPlan } from "../display/a-plan.js";
import { browserIsThere, openBrowser } from "./chromium.js";

const plans = {
  usual: aPlan(),
  dense: aPlan({ pitch: mm(18), datumPlaces: 3 }),
  // deeper than wide, and seen from the side
  tall: aPlan({
    title: "a title that is much longer than titles are, to see that it is not cut off at the end of the page",
    table: { x: [mm(0), mm(180)], y: [mm(-300), mm(420)] },
    travel: {},
    frame: { relativeTo: "travel", front: "y+", plusX: "left", plusY: "front" },
  }),
};

describe.runIf(browserIsThere())("a blank sheet in a browser", () => {
  let browser: Awaited<ReturnType<typeof openBrowser>>;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser.close();
  });

  const cases = (["A4", "Letter"] as const).flatMap((paper) =>
    Object.entries(plans).map(([name, plan]) => [paper, name, plan] as const),
  );
  it.each(cases)("prints on whole pages of %s with nothing cut off: %s", async (paper, _name, plan) => {
    const sheet = blankSheet(plan, { paper });
    const page = await browser.newPage();
    await page.setContent(sheet.document);
    await page.emulateMedia({ media: "print" });
    const cut = await page.evaluate(() =>
      Array.from(document.querySelectorAll(".page")).flatMap((one, i) => {
        const foot = one.querySelector(".foot") as HTMLElement;
        const inside = Array.from(one.children).filter((child) => child !== foot);
        const lowest = Math.max(...inside.map((child) => child.getBoundingClientRect().bottom));
        const isCut = one.scrollHeight > one.clientHeight + 1 || one.scrollWidth > one.clientWidth + 1;
        return isCut || lowest > foot.getBoundingClientRect().top ? [i + 1] : [];
      }),
    );
    expect(cut).toEqual([]);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(sheet.pages);
    const [, width, height] = /\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)/.exec(pdf)!;
    const size = paper === "A4" ? [595, 842] : [612, 792];
    expect([Math.round(Number(width)), Math.round(Number(height))]).toEqual(size);
    await page.close();
  });

  // on a phone the left margin lay outside of what the frame scrolls over
  it.each([390, 1280])("shows the paper with its margins in a frame %i px wide", async (width) => {
    const page = await browser.newPage({ viewport: { width, height: 900 } });
    await page.setContent(blankSheet(plans.usual).document);
    const [left, right, whole] = await page.evaluate(() => {
      const box = (document.querySelector(".page h1") as HTMLElement).getBoundingClientRect();
      return [box.left, box.right, document.documentElement.scrollWidth];
    });
    const margin = (12 / 25.4) * 96 - 1;
    expect(left).toBeGreaterThan(margin);
    expect(whole! - right!).toBeGreaterThan(margin);
    await page.close();
  });
});
