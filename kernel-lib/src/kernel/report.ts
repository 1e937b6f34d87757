import { createHash } from "node:crypto";
import { join } from "node:path";
import { type Html, html } from "../display/html.js";
import { whole } from "../display/whole.js";
import type { RanChapter } from "./ran-chapter.js";
import { findingsOf, hasFigure, renderChapter, renderChapters } from "./report-chapter.js";
import { page } from "./report-page.js";
import { writeWhole } from "./whole-file.js";

export interface ReportContent {
  readonly chapters: readonly RanChapter[];
  /** is made when it is missing; pages of the same name are replaced, other files are left alone */
  readonly folder: string;
  /** version of the package */
  readonly version: string;
  /** the data of a chapter by the chapter's name, for the foot of its page */
  readonly data?: ReadonlyMap<string, readonly DataFile[]>;
}

/** A file that a chapter read. */
export interface DataFile {
  readonly name: string;
  readonly sha256: string;
}

/**
 * Writes the report of a run: a list of chapters, one page a chapter, and, of two and more, one page of all of them to be
 * handed on as one file. Each is a file that stands alone.
 *
 * The chapters must come from the run just done: the outputs in it are marked as ours by our own kernel, and only such
 * HTML is taken over.
 *
 * @returns the path of the list of chapters
 */
export function writeReport({ chapters, folder, version, data }: ReportContent): string {
  for (const chapter of chapters)
    writeWhole(
      join(folder, `${chapter.name}.html`),
      chapterPage({ chapter, version, data: data?.get(chapter.name) ?? [] }),
    );
  const isSeveral = chapters.length > 1;
  if (isSeveral) writeWhole(join(folder, `${wholeName(chapters)}.html`), wholePage(chapters, version, data));
  const list = join(folder, "index.html");
  writeWhole(list, listPage(chapters, version));
  return list;
}

export interface ChapterPage {
  readonly chapter: RanChapter;
  /** version of the package */
  readonly version: string;
  /** the data that the chapter read */
  readonly data: readonly DataFile[];
  /** a page of its own, from outputs that a notebook keeps, whoever ran it and when */
  readonly isKept?: boolean;
}

/** The page of one chapter, a file that stands alone. */
export function chapterPage({ chapter, version, data, isKept = false }: ChapterPage): string {
  const body = renderChapter(chapter);
  const sources = chapter.notebook.cells.map(({ source }) => source);
  const sum = createHash("sha256").update(JSON.stringify(sources)).digest("hex");
  return page({
    title: chapter.title,
    above: isKept
      ? html`From the outputs that ${chapter.name}.ipynb keeps`
      : html`<a href="index.html">All chapters</a>`,
    body,
    footer: `${madeBy(version, isKept ? "from a notebook as it was saved; nothing was run for it" : undefined)}; text and code of ${chapter.name}: SHA-256 ${sum}${data.map(({ name, sha256 }) => `; ${name}: SHA-256 ${sha256}`).join("")}`,
    live: hasFigure(body),
  });
}

/** "all-chapters", or longer where a chapter is called so */
function wholeName(chapters: readonly RanChapter[]): string {
  const taken = new Set(chapters.map(({ name }) => name));
  let name = "all-chapters";
  while (taken.has(name)) name += "-together";
  return name;
}

function wholePage(chapters: readonly RanChapter[], version: string, data: ReportContent["data"]): string {
  const body = renderChapters(chapters);
  const files = new Map(chapters.flatMap(({ name }) => data?.get(name) ?? []).map((file) => [file.name, file.sha256]));
  const sums = [...files].map(([name, sha256]) => `; ${name}: SHA-256 ${sha256}`).join("");
  return page({
    title: "All chapters",
    above: html`${chapters.length} chapters, one file`,
    body,
    footer: `${madeBy(version)}${sums}`,
    live: hasFigure(body),
  });
}

function listPage(chapters: readonly RanChapter[], version: string): string {
  const failed = chapters.filter(({ failure }) => failure !== undefined).length;
  const count = chapters.length === 1 ? "1 chapter" : `${chapters.length} chapters`;
  return page({
    title: "Report",
    above: html`${count}, ${failed === 0 ? "all ran to the end" : `${failed} stopped before the end`}`,
    body: html`<main><ol class="list">${chapters.map(listEntry)}</ol>${
      chapters.length > 1
        ? html`<p><a href="${encodeURIComponent(wholeName(chapters))}.html">All chapters as one file</a>, to hand on</p>`
        : undefined
    }</main>`,
    footer: madeBy(version),
    live: false,
  });
}

function listEntry(chapter: RanChapter): Html {
  const found = findingsOf(chapter);
  return html`<li><h2><a href="${encodeURIComponent(chapter.name)}.html">${chapter.title}</a></h2>
${chapter.failure === undefined ? undefined : html`<p class="failed">Stopped: ${chapter.failure}</p>`}
${found.length === 0 ? undefined : html`<ul>${found.map((text) => html`<li>${whole(text)}</li>`)}</ul>`}</li>`;
}

function madeBy(version: string, from = "from one run, top to bottom"): string {
  return `Made by dialbook ${version} on Node ${process.version.slice(1)} ${from}`;
}
