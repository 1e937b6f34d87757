import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { note } from "../../kernel-lib/src/display/index.js";
import type { Output } from "../../kernel-lib/src/kernel/notebook.js";
import { writeReport } from "../../kernel-lib/src/kernel/report.js";
import { chapter, code, failingCell, sampleChapter, shown, surfaceFigure, text } from "./report-chapter-sample.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "report-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function pageOf(...cells: Parameters<typeof chapter>[0]): string {
  writeReport({ chapters: [chapter(cells)], folder, version: "0.1.0" });
  return readFileSync(join(folder, "03-flatness.html"), "utf8");
}

/** what stands between the header and the footer */
function mainOf(page: string): string {
  return /<main>([\s\S]*)<\/main>/.exec(page)?.[1] ?? "";
}

describe("a report", () => {
  it("lists the chapters with their findings and failures, and nothing else lies in its folder", () => {
    const failure = "04-decision, cell 6: flatnessDeviation: 2 of 35 survey points have no height (C4, E2)";
    const stopped = { ...sampleChapter([failingCell]), name: "04-decision", title: "What to do <about> it", failure };
    const list = writeReport({ chapters: [sampleChapter(), stopped], folder, version: "0.1.0" });
    const page = readFileSync(list, "utf8");
    expect(page).toContain('<a href="03-flatness.html">Is the table flat enough?</a>');
    expect(page).toContain("What to do &#60;about&#62; it");
    expect(page).toContain(`Stopped: ${failure}`);
    expect(page.match(/the table is hollow by 23\sµm\s±\s4\sµm/g)).toHaveLength(2);
    expect(page).toContain("2 chapters, 1 stopped before the end");
    expect(readdirSync(folder).sort()).toEqual([
      "03-flatness.html",
      "04-decision.html",
      "all-chapters.html",
      "index.html",
    ]);
  });

  it("stays below 3 MB for three surfaces, holds the plotting script once, and the same run gives the same bytes", () => {
    const cells = [1, 2, 3].map((i) => code("figure.heightSurface(surface)", [shown(surfaceFigure)], i));
    const page = pageOf(...cells);
    expect(statSync(join(folder, "03-flatness.html")).size).toBeLessThan(3_000_000);
    expect(page.match(/id="dialbook-plotly"/g)).toHaveLength(1);
    expect(page).toContain("Licensed under the MIT license");
    expect(page.match(/data-dialbook-figure="/g)).toHaveLength(3);
    expect(pageOf(...cells)).toBe(page);
  });

  it("says at its foot what it was computed from: version, text and code, the checksum of each sheet", () => {
    const data = new Map([["03-flatness", [{ name: "mine.csv", sha256: "ab".repeat(32) }]]]);
    writeReport({ chapters: [chapter([text("only words")])], folder, version: "0.1.0", data });
    const foot = /<footer>(.*)<\/footer>/.exec(readFileSync(join(folder, "03-flatness.html"), "utf8"))?.[1];
    expect(foot).toMatch(
      /^Made by dialbook 0\.1\.0 on Node [\d.]+ from one run, top to bottom; text and code of 03-flatness: SHA-256 [0-9a-f]{64}; mine\.csv: SHA-256 (?:ab){32}$/,
    );
  });

  it("carries no plotting script without a figure, and asks for nothing from outside", () => {
    const plain = pageOf(text("only words"), code("1 + 1", []));
    expect(plain.length).toBeLessThan(20_000);
    const page = pageOf(code("figure", [shown(surfaceFigure)]));
    expect(page.replace(/http:\/\/www\.w3\.org\/2000\/svg/g, "")).not.toMatch(
      /(?:src|href|url\()=?["']?(?:https?:)?\/\//,
    );
    expect(page).toContain("default-src 'none'");
  });

  it("is also one file of all chapters: contents over all, links on the page, the plotting script once", () => {
    const second = chapter([text("# Next\n\nBack to [the first](03-flatness.ipynb#x).\n\n## Part\n\nx")], {
      name: "04 a next one",
      title: "Next",
    });
    writeReport({ chapters: [sampleChapter(), second], folder, version: "0.1.0" });
    const whole = readFileSync(join(folder, "all-chapters.html"), "utf8");
    expect(readFileSync(join(folder, "index.html"), "utf8")).toContain('<a href="all-chapters.html">');
    const ids = [...whole.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    const links = [...whole.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id);
    expect(links).toContain("chapter-04_20a_20next_20one");
    expect(links.filter((id) => !ids.includes(id))).toEqual([]);
    expect(whole).toContain('<a href="#chapter-03-flatness">the first</a>');
    expect(whole.match(/id="dialbook-plotly"/g)).toHaveLength(1);
    expect(whole.length).toBeLessThan(3_000_000);
  });

  it("keeps the old page whole when the new one can't be made", () => {
    writeFileSync(join(folder, "03-flatness.html"), "old");
    const broken = { ...sampleChapter(), notebook: { ...sampleChapter().notebook, cells: [null as never] } };
    expect(() => writeReport({ chapters: [broken], folder, version: "0.1.0" })).toThrow();
    expect(readFileSync(join(folder, "03-flatness.html"), "utf8")).toBe("old");
    expect(readdirSync(folder)).toEqual(["03-flatness.html"]);
  });
});

describe("the text of a chapter", () => {
  it("shows HTML that stands in it as letters", () => {
    const main = mainOf(
      pageOf(text('Read <b onclick="x()">this</b>.\n\n<script>bad()</script>\n\n<img src=x onerror=bad()>')),
    );
    expect(main).not.toMatch(/<script|<img|<b /);
    expect(main).toContain("&#60;script&#62;bad()&#60;/script&#62;");
  });

  it.each([
    "[a](javascript:bad())",
    "[a](JaVaScript:bad())",
    "[a](java&#10;script:bad())",
    "[a](data:text/html,x)",
    "[a](vbscript:x)",
    "[a](//elsewhere.example)",
    "[a]( <javascript:bad()> )",
    "<javascript:bad()>",
    "![a](javascript:bad())",
    "![a](https://elsewhere.example/pixel.png)",
  ])("makes no link and no picture of %s", (source) => {
    expect(mainOf(pageOf(text(source)))).not.toMatch(/href=|src=/);
  });

  it("links to the web, to a place on the page and to the page of another chapter", () => {
    const main = mainOf(
      pageOf(text("[a](https://example.org/x?a=1&b=2) [b](#s1-1) [c](04-decision.ipynb#s2-1) [d](../data/README.md)")),
    );
    expect([...main.matchAll(/href="([^"]*)"/g)].map(([, href]) => href)).toEqual([
      "https://example.org/x?a=1&#38;b=2",
      "#s1-1",
      "04-decision.html#s2-1",
      "../data/README.md",
    ]);
  });

  it("has a list of contents when there is more than one part, and its title once", () => {
    const page = pageOf(text("# Is the table flat enough?\n\n## What was *probed*\n\nwords\n\n## Doubt"));
    expect(page.match(/Is the table flat enough\?<\/h1>/g)).toHaveLength(1);
    expect(page).toContain('<a href="#s1-1">What was probed</a>');
    expect(page).toContain('<h2 id="s1-1">What was <em>probed</em></h2>');
  });

  it("shows a picture that the notebook itself holds", () => {
    const cell = {
      ...text("![the corner](attachment:corner.png)"),
      attachments: { "corner.png": { "image/png": "aGVsbG8=" } },
    };
    expect(mainOf(pageOf(cell))).toContain('<img alt="the corner" src="data:image/png;base64,aGVsbG8=">');
  });
});

describe("the outputs of a chapter", () => {
  const foreign = (data: object): Output => ({ output_type: "display_data", data: { ...data }, metadata: {} });

  it("are taken over as HTML only when our own display code made them in this run", () => {
    const ours = mainOf(pageOf(code("note()", [shown(note("3 places left blank"))])));
    expect(ours).toContain('<p class="db-quantity">3 places left blank</p>');
    const theirs = mainOf(pageOf(code("x", [foreign({ "text/html": "<i>bad</i>", "text/plain": "<i>words</i>" })])));
    expect(theirs).not.toContain("<i>");
    expect(theirs).toContain("&#60;i&#62;words&#60;/i&#62;");
  });

  it("are pictures where they are pictures, and those run no script", () => {
    const main = mainOf(
      pageOf(code("x", [foreign({ "image/svg+xml": "<svg onload='bad()'/>", "text/plain": "a map" })])),
    );
    expect(main).toContain('<img alt="a map" src="data:image/svg+xml;base64,');
    expect(main).not.toContain("onload");
  });

  it("are text without a terminal's colours otherwise, code folded away, errors in the error box", () => {
    const out: Output = { output_type: "stream", name: "stdout", text: "\u001b[31m<red>\u001b[0m\n" };
    const main = mainOf(pageOf(code("a < b", [out]), failingCell));
    expect(main).toContain('<pre class="out-stdout">&#60;red&#62;\n</pre>');
    expect(main).toContain("<details><summary>Code, cell 1</summary><pre><code>a &#60; b</code></pre></details>");
    expect(main).toContain('<span class="db-word">Measurement Error</span> <span class="db-where">cell 6</span>');
  });
});
