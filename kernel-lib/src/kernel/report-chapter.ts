import { type Html, html } from "../display/html.js";
import { whole } from "../display/whole.js";
import type { Cell, CodeCell } from "./notebook.js";
import { findingType, type RanChapter } from "./ran-chapter.js";
import { anchorOf, type Heading, renderText } from "./report-markdown.js";
import { renderOutput } from "./report-output.js";

/** What the cells of a chapter found, each finding once. */
export function findingsOf({ notebook }: RanChapter): readonly string[] {
  const outputs = notebook.cells.flatMap((cell) => (cell.cell_type === "code" ? cell.outputs : []));
  const texts = outputs.map((output) => {
    const found = "data" in output ? output.data[findingType] : undefined;
    return typeof found === "object" && found !== null && "text" in found ? found.text : undefined;
  });
  return [...new Set(texts.filter((text) => typeof text === "string"))];
}

/** True when the page has a figure to bring to life. */
export function hasFigure(body: Html): boolean {
  return body.markup.includes("data-dialbook-figure=");
}

/** The chapter itself: failure and findings first, a list of contents, then cell after cell. */
export function renderChapter(chapter: RanChapter): Html {
  const { cells, headings } = renderCells(chapter, "s");
  return html`${failureOf(chapter)}${orderOf(chapter)}${foundIn(chapter)}${contentsOf(headings)}<main>${cells}</main>`;
}

/** All chapters one after the other: a list of contents over all of them, then each with its failure and findings. */
export function renderChapters(chapters: readonly RanChapter[]): Html {
  const pages = new Set(chapters.map(({ name }) => name));
  const parts = chapters.map((chapter, i) => ({ chapter, ...renderCells(chapter, `c${i + 1}s`, pages) }));
  const entry = ({ chapter, headings }: (typeof parts)[number]): Html =>
    html`<li><a href="#${anchorOf(chapter.name)}">${chapter.title}</a>${sectionsOf(headings)}</li>`;
  const part = ({ chapter, cells }: (typeof parts)[number]): Html =>
    html`<article id="${anchorOf(chapter.name)}"><h1>${chapter.title}</h1>${failureOf(chapter)}${orderOf(chapter)}${foundIn(chapter)}${cells}</article>`;
  return html`<nav aria-label="Contents"><ol class="chapters">${parts.map(entry)}</ol></nav><main>${parts.map(part)}</main>`;
}

function renderCells(chapter: RanChapter, prefix: string, pages?: ReadonlySet<string>) {
  const cells = chapter.notebook.cells.map((cell, i) =>
    renderCell(cell, `${prefix}${i + 1}`, i + 1, chapter.title, pages),
  );
  return { cells: cells.map(({ body }) => body), headings: cells.flatMap((cell) => cell.headings) };
}

function sectionsOf(headings: readonly Heading[]): Html | undefined {
  const listed = headings.filter(({ depth }) => depth === 2);
  if (listed.length === 0) return undefined;
  return html`<ul>${listed.map(({ id, text }) => html`<li><a href="#${id}">${text}</a></li>`)}</ul>`;
}

function failureOf({ failure }: RanChapter): Html | undefined {
  if (failure === undefined) return undefined;
  return html`<div class="dialbook"><div class="db-error"><p><span class="db-word">This chapter stopped.</span> ${failure}</p></div></div>`;
}

function orderOf({ handOrder }: RanChapter): Html | undefined {
  return handOrder === undefined ? undefined : html`<div class="dialbook"><p>${handOrder}</p></div>`;
}

function foundIn(chapter: RanChapter): Html | undefined {
  const found = findingsOf(chapter);
  if (found.length === 0) return undefined;
  return html`<section class="found"><h2>Found</h2><ul>${found.map((text) => html`<li>${whole(text)}</li>`)}</ul></section>`;
}

function contentsOf(headings: readonly Heading[]): Html | undefined {
  const listed = headings.filter(({ depth }) => depth === 2);
  if (listed.length < 2) return undefined;
  return html`<nav aria-label="Contents"><ol>${listed.map(({ id, text }) => html`<li><a href="#${id}">${text}</a></li>`)}</ol></nav>`;
}

interface RenderedCell {
  readonly body: Html;
  readonly headings: readonly Heading[];
}

function renderCell(
  cell: Cell,
  prefix: string,
  place: number,
  title: string,
  pages: ReadonlySet<string> | undefined,
): RenderedCell {
  if (cell.cell_type === "code") return { body: renderCode(cell, place), headings: [] };
  if (cell.cell_type === "raw") return { body: html`<pre>${cell.source}</pre>`, headings: [] };
  const { body, headings } = renderText(cell, prefix, title, pages);
  return { body: html`<section class="text">${body}</section>`, headings };
}

function renderCode(cell: CodeCell, place: number): Html {
  if (cell.source.trim() === "" && cell.outputs.length === 0) return html``;
  const number = cell.execution_count === null ? "not run" : `cell ${cell.execution_count}`;
  const where = cell.execution_count === null ? `cell at place ${place}` : number;
  return html`<section class="code"><details><summary>Code, ${number}</summary><pre><code>${cell.source}</code></pre></details>
${cell.outputs.map((output) => html`<div class="output">${renderOutput(output, where)}</div>`)}</section>`;
}
