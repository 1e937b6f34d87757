import { MeasurementError } from "../measurement-error.js";
import type { UnitSystem } from "../quantity/kinds.js";
import { printNumber } from "../quantity/print.js";
import { counted } from "../words.js";
import { Block } from "./bundle.js";
import { type Html, html } from "./html.js";
import { restatedTable } from "./restated-table.js";
import { type PrintedTable, tableText } from "./table-text.js";
import { whole } from "./whole.js";

/** A printed cell: text, or a number that is printed with at most six digits. Write "–" for a blank, never nothing. */
export type Cell = string | number;

export interface Column {
  readonly heading: string;
  /** printed once, in the heading */
  readonly unit?: string;
  /** unit of the numbers where the heading does not name it: "mm" of a step that heads a column of "µm" */
  readonly cellUnit?: string;
  /** words of a person, never restated in other units */
  readonly asWritten?: boolean;
  /** right when every cell of the column is a number, otherwise left */
  readonly align?: "left" | "right";
}

export interface TableContent {
  readonly caption: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  /** totals, set off below the rows */
  readonly foot?: readonly (readonly Cell[])[];
  /** short sentences below the table */
  readonly notes?: readonly string[];
}

/** A table that shows as HTML and as text from the same rows. */
export class Table extends Block {
  readonly printed: PrintedTable;

  constructor(content: TableContent) {
    super();
    const rows = content.rows.map((row, i) => printRow(content, row, `row ${i + 1}`));
    const foot = (content.foot ?? []).map((row, i) => printRow(content, row, `foot row ${i + 1}`));
    const columns = content.columns.map((column, i) => ({ ...column, align: column.align ?? alignment(rows, i) }));
    this.printed = { caption: content.caption, columns, rows, foot, notes: content.notes ?? [] };
  }

  override toHtml(): Html {
    const { caption, columns, rows, foot, notes } = this.printed;
    const side = columns.map(({ align }) => (align === "right" ? "db-right" : "db-left"));
    const look = (cell: string, i: number) => (isWhole(cell) ? `${side[i]} db-short` : side[i]);
    const line = (row: readonly string[]): Html =>
      html`<tr>${row.map((cell, i) =>
        i === 0
          ? html`<th scope="row" class="${look(cell, i)}">${inPieces(cell)}</th>`
          : html`<td class="${look(cell, i)}">${inPieces(cell)}</td>`,
      )}</tr>`;
    return html`<div class="db-scroll"><table><caption>${whole(caption)}</caption>
<thead><tr>${columns.map(({ heading, unit }, i) => html`<th scope="col" class="${side[i]}">${headingPieces(heading)}${unit === undefined ? undefined : html` <span class="db-unit">${unit}</span>`}</th>`)}</tr></thead>
<tbody>${rows.map(line)}</tbody>${foot.length > 0 ? html`<tfoot>${foot.map(line)}</tfoot>` : undefined}</table></div>${notes.map((note) => html`<p class="db-notes">${whole(note)}</p>`)}`;
  }

  override toString(): string {
    return tableText(this.printed);
  }

  override shownIn(system: UnitSystem, kept: readonly string[]): Table {
    return new Table(restatedTable(this.printed, system, kept));
  }
}

/**
 * The table builder: columns with heading and unit, rows already printed, first column the heading of its row.
 *
 * @throws MeasurementError `table-shape` when a row has not one cell a column, `not-finite` for a number that is none
 * @example
 * `${table({ caption: "places", columns: [{ heading: "place" }, { heading: "height", unit: "µm" }], rows: [["A1", "3.0"], ["B1", "−12.5"]] })}`
 * // => "places\nplace  height/µm\nA1           3.0\nB1         −12.5"
 */
export function table(content: TableContent): Table {
  return new Table(content);
}

function printRow(content: TableContent, row: readonly Cell[], where: string): readonly string[] {
  if (row.length !== content.columns.length) {
    throw new MeasurementError(
      "table-shape",
      `table "${content.caption}" ${where}: ${counted(row.length, "cell")} for ${counted(content.columns.length, "column")}; give one cell a column`,
    );
  }
  return row.map((cell, i) => {
    if (typeof cell === "string") return cell;
    if (Number.isFinite(cell)) return printNumber(cell);
    const heading = content.columns[i]?.heading;
    throw new MeasurementError(
      "not-finite",
      `table "${content.caption}" ${where}, column ${heading}: ${cell} is not a value; give a finite number, or "–" for a blank`,
    );
  });
}

/** a cell no longer than this stays on one line: a number is not parted from its unit */
const shortCell = 14;
/** a longer one is a sentence */
const longStatement = 40;
const statement = /^\S+ \S+ ± /;

function isWhole(cell: string): boolean {
  return cell.length <= shortCell && !statement.test(cell);
}

/** A value with its uncertainty may break before the bracket, on a phone also before ±, nowhere else. */
function inPieces(cell: string): Html | string {
  if (!statement.test(cell) || cell.length > longStatement) return whole(cell);
  const [, pair = "", rest = ""] = /^(.*?)( \(.*)?$/.exec(cell.replace(/ (?![±(])/g, "\u00a0")) ?? [];
  return html`<span class="db-pair">${pair}</span>${rest}`;
}

/** "± U (k = 2)" breaks before the bracket alone */
function headingPieces(heading: string): string {
  return heading.replace(/(?<=±) | (?=[=<>] )|(?<=[=<>]) /g, "\u00a0");
}

const numeric = /^[−+-]?\d[\d.,\u2009\u00a0]*(?:e[−+-]?\d+)?(?:\s?[%°])?$|^[−]?∞$|^–$/;

function alignment(rows: readonly (readonly string[])[], i: number): "left" | "right" {
  return rows.length > 0 && rows.every((row) => numeric.test(row[i] ?? "")) ? "right" : "left";
}
