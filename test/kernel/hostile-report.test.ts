import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { changeLines, changesBetween } from "../../kernel-lib/src/kernel/changes.js";
import { notebookText, parseNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { titleOf } from "../../kernel-lib/src/kernel/notebook-title.js";
import { chapterPage, writeReport } from "../../kernel-lib/src/kernel/report.js";
import { hostile, unseenSigns } from "../hostile.js";
import { processorMs } from "../processor-time.js";
import { refusal } from "../refusal.js";
import { hostileNotebook } from "./hostile-notebook.js";
import { chapter, text } from "./report-chapter-sample.js";

const name = `a "quoted" '&' <img src=x onerror=window.hurt=1> \u001b[2J \u202egpj`;
const notebook = parseNotebook(hostileNotebook(), `${name}.ipynb`);
const ran = { name, title: titleOf(notebook) ?? name, notebook, seconds: 1, failure: hostile };

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "hostile-"));
  const data = new Map([[name, [{ name: `${hostile}.csv`, sha256: "ab" }]]]);
  writeReport({ chapters: [ran, chapter([text("x")])], folder, version: "0.1.0", data });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the report of a hostile notebook", () => {
  const pages: { readonly [what: string]: () => string } = {
    "its own page": () => readFileSync(join(folder, `${name}.html`), "utf8"),
    "the list": () => readFileSync(join(folder, "index.html"), "utf8"),
    "the page of all chapters": () => readFileSync(join(folder, "all-chapters.html"), "utf8"),
    "the page of kept outputs": () => chapterPage({ chapter: ran, version: "0.1.0", data: [], isKept: true }),
  };

  it.each(Object.entries(pages))("runs, fetches and hides nothing: %s", (_, page) => {
    // what the page itself brings along: its look and its scripts, named by their checksums in its policy
    const [head = "", body = ""] = page().split("<body>");
    const own = body.replace(/<script>[\s\S]*?<\/script>\n<\/body>/, "</body>");
    expect(own).not.toMatch(/<(?:script|style|meta|base|link|object|embed|form|input|svg|iframe)\b/i);
    for (const [tag] of own.matchAll(/<[a-z][^>]*>/gi)) {
      const outsideQuotes = tag.replace(/"[^"]*"|'[^']*'/g, '""');
      expect(outsideQuotes).not.toMatch(/\son\w+=/i);
      for (const [, address = ""] of tag.matchAll(/\s(?:src|href)="([^"]*)"/g))
        expect(address).toMatch(/^(?:#|data:image\/|https?:\/\/|[^:\\]*$)/);
    }
    expect(head.slice(head.indexOf("<title>"), head.indexOf("</title>"))).not.toMatch(/<(?!title>)/);
    expect(page().replaceAll("\r", "")).not.toMatch(unseenSigns);
  });

  it("shows what a forged output says, as words", () => {
    const page = pages["the page of kept outputs"]!();
    expect(page).toContain("&#60;img src=x onerror=&#34;window.hurt=1&#34;&#62;");
    expect(page).toContain("\\u001b[2J");
  });
});

it("leads to no other machine by strokes that a browser turns round", () => {
  for (const href of [
    "\\\\\\\\elsewhere.example\\x",
    "/\\\\elsewhere.example",
    "\\\\/elsewhere.example",
    "//elsewhere.example",
  ]) {
    const page = chapterPage({ chapter: chapter([text(`[a](<${href}>)`)]), version: "0.1.0", data: [] });
    expect(/<main>[\s\S]*<\/main>/.exec(page)?.[0]).not.toContain("href");
  }
});

it("keeps hostile metadata as it stands in the file", () => {
  const again = JSON.parse(notebookText(notebook));
  expect(again.metadata).toEqual(JSON.parse(hostileNotebook()).metadata);
  expect(again.cells[2].metadata).toEqual({ tags: hostile, collapsed: hostile });
  expect(again.cells[0].attachments.a["text/html"]).toBe(hostile);
});

it("tells changes of hostile cells in lines that can be cut", () => {
  const before = parseNotebook(hostileNotebook().replaceAll("hurt=1", "hurt=2"), "x");
  expect(changeLines(hostile, changesBetween(before, notebook)).length).toBeLessThan(20);
});

describe("a notebook made to exhaust", () => {
  it("of quotations in quotations is shown as it stands", () => {
    for (const sign of [">", "[", "*", "- ", "`", "![", "(", "<b>", "_a_"]) {
      const took = processorMs(() => {
        const page = chapterPage({ chapter: chapter([text(sign.repeat(3000))]), version: "0.1.0", data: [] });
        expect(page).toContain("</main>");
      });
      expect(took).toBeLessThan(10_000);
    }
  });

  it("of lists in lists of metadata is refused with one sentence", () => {
    const deep = `{"cells":[],"metadata":{"a":${"[".repeat(50_000)}${"]".repeat(50_000)}},"nbformat":4,"nbformat_minor":5}`;
    expect(refusal(() => parseNotebook(deep, "deep.ipynb"))).toEqual({
      code: "notebook-corrupt",
      message: "deep.ipynb: is not a notebook, or is damaged; restore it from a copy",
    });
  });

  it("of one word a million letters long is shown", () => {
    const page = chapterPage({ chapter: chapter([text(`# ${"W".repeat(1e6)}`)]), version: "0.1.0", data: [] });
    expect(page.length).toBeGreaterThan(1e6);
  });
});
