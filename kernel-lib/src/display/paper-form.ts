import { BlankSheet } from "./blank-sheet.js";
import { fillColumns } from "./blank-sheet-list.js";
import { linesPerColumn, type Paper } from "./blank-sheet-style.js";
import type { Caution } from "./caution.js";
import { type Html, html } from "./html.js";

/** Rows to fill in that stand together, under a line of their own where one is given. */
export interface FormBlock {
  readonly text?: string;
  /** what is known of each row; the cells behind it are blank */
  readonly rows: readonly (readonly string[])[];
}

/** One list to fill in. */
export interface FormList {
  readonly title: string;
  /** columns that are printed, then those to be written into */
  readonly printed: readonly string[];
  readonly written: readonly string[];
  readonly blocks: readonly FormBlock[];
}

/** A sheet of paper for readings other than those of a survey. */
export interface PaperForm {
  readonly title: string;
  readonly caution: Caution;
  /** what is known already */
  readonly known: string;
  /** what must be so before and during the work: key, hint */
  readonly protocol: readonly (readonly [key: string, hint: string])[];
  readonly lists: readonly FormList[];
}

type Line = { readonly text: string } | { readonly cells: readonly string[] };

/** The form as pages to print: how to measure, then a cell for every reading. */
export function paperForm(form: PaperForm, paper: Paper): BlankSheet {
  const most = linesPerColumn(paper);
  const count = form.lists.reduce((sum, { blocks }) => sum + blocks.reduce((all, { rows }) => all + rows.length, 0), 0);
  const pages = [firstPage(form), ...form.lists.flatMap((list) => listPages(list, most))];
  return new BlankSheet(form.title, paper, pages, count);
}

function firstPage({ title, caution, known, protocol }: PaperForm): Html {
  const fields = ["workshop", "machine", "date", "measured by", "gauge, if another", "started at"];
  return html`<h1>${title}</h1>
${caution.toHtml()}
<div class="fields">${fields.map((name) => html`<div class="field">${name}:</div>`)}</div>
<p class="known">${known}</p>
<div class="protocol wide">${protocol.map(([key, hint]) => html`<div><b>${key}</b> ${hint}</div>`)}</div>`;
}

function listPages(list: FormList, most: number): readonly Html[] {
  const blocks = list.blocks.flatMap(({ text, rows }) => {
    const lines: Line[] = [...(text === undefined ? [] : [{ text }]), ...rows.map((cells) => ({ cells }))];
    // a block that is longer than a column goes on in the next
    return Array.from({ length: Math.ceil(lines.length / most) }, (_, i) => lines.slice(i * most, (i + 1) * most));
  });
  const columns = fillColumns(blocks, most);
  return Array.from({ length: Math.ceil(columns.length / 2) }, (_, i) => {
    const pair = columns.slice(2 * i, 2 * i + 2);
    return html`<h1>${list.title}</h1><div class="lists">${pair.map((lines) => html`<div>${listTable(list, lines)}</div>`)}</div>`;
  });
}

function listTable({ printed, written }: FormList, lines: readonly Line[]): Html {
  const headings = [...printed, ...written];
  return html`<table class="list form"><thead><tr>${headings.map((heading) => html`<th>${heading}</th>`)}</tr></thead>
<tbody>${lines.map((line) => listRow(line, headings.length, written.length))}</tbody></table>`;
}

function listRow(line: Line, all: number, blank: number): Html {
  if ("text" in line) return html`<tr class="pass"><td colspan="${String(all)}">${line.text}</td></tr>`;
  const cells = line.cells.map((cell) => html`<td>${cell}</td>`);
  return html`<tr class="on">${cells}${Array.from({ length: blank }, () => html`<td class="write"></td>`)}</tr>`;
}
