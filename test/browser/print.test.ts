import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { blankSheet } from "../../kernel-lib/src/index.js";
import { printedPage } from "../../kernel-lib/src/kernel/printed-page.js";
import { writeReport } from "../../kernel-lib/src/kernel/report.js";
import { aPlan } from "../display/a-plan.js";
import { sampleChapter } from "../kernel/report-chapter-sample.js";
import { browserIsThere } from "./chromium.js";

const sizes = { A4: [595, 842], Letter: [612, 792] } as const;

/** number of pages, and the size of the first in points */
function pagesOf(pdf: Uint8Array): { readonly count: number; readonly size: readonly number[] } {
  const text = Buffer.from(pdf).toString("latin1");
  const [, width, height] = /\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)/.exec(text)!;
  const count = text.match(/\/Type\s*\/Page\b(?!s)/g)!.length;
  return { count, size: [Math.round(Number(width)), Math.round(Number(height))] };
}

describe.runIf(browserIsThere())("a page printed as PDF", () => {
  let folder = "";
  let report = "";
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "print größe "));
    writeReport({ chapters: [sampleChapter()], folder, version: "0.1.0" });
    report = readFileSync(join(folder, "03-flatness.html"), "utf8");
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.each(["A4", "Letter"] as const)("of a report is on the paper asked for: %s", (paper) => {
    const withCode = pagesOf(printedPage(report, "a", { paper, withCode: true }));
    expect(withCode.size).toEqual(sizes[paper]);
    expect(withCode.count).toBeGreaterThan(1);
    const without = pagesOf(printedPage(report, "a", { paper, withCode: false }));
    expect(without.count).toBeLessThanOrEqual(withCode.count);
  });

  it.each(["A4", "Letter"] as const)("of a blank sheet keeps its own paper and pages: %s", (paper) => {
    const sheet = blankSheet(aPlan(), { paper });
    const other = paper === "A4" ? "Letter" : "A4";
    const { count, size } = pagesOf(printedPage(sheet.document, "a", { paper: other, withCode: true }));
    expect([count, size]).toEqual([sheet.pages, sizes[paper]]);
  });
});
