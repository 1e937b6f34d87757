import type { UnitSystem } from "../quantity/kinds.js";
import type { SurveyPlan } from "../survey/index.js";
import type { PlannedReading } from "../survey/plan-order.js";
import { type Html, html } from "./html.js";

/** One line of the list to write in. */
export type ListLine =
  | { readonly kind: "pass"; readonly text: string }
  | { readonly kind: "datum"; readonly readings: readonly PlannedReading[] }
  | { readonly kind: "state" }
  | { readonly kind: "place"; readonly reading: PlannedReading; readonly newRow: boolean };

/** lines that stay together in one column of a page */
export type ListBlock = readonly ListLine[];

/** The list of readings in their order: a line a place, a block a return to the datums. */
export function listBlocks(plan: SurveyPlan): readonly ListBlock[] {
  const blocks: ListLine[][] = [];
  let pass = 0;
  let row = "";
  for (let i = 0; i < plan.readings.length; i++) {
    const reading = plan.readings[i]!;
    if (reading.visit !== undefined) {
      const end = plan.readings.findIndex((r, k) => k > i && r.visit !== reading.visit);
      const visit = plan.readings.slice(i, end < 0 ? undefined : end);
      blocks.push([...visitLines(visit), { kind: "state" }]);
      i += visit.length - 1;
      continue;
    }
    const letters = reading.label.replace(/\d+$/, "");
    const line: ListLine = { kind: "place", reading, newRow: letters !== row };
    row = letters;
    if (reading.pass === pass) {
      blocks.push([line]);
    } else {
      pass = reading.pass;
      blocks.push([{ kind: "pass", text: `Pass ${pass} of ${plan.passes}: wipe the top and the stylus first` }, line]);
    }
  }
  return blocks;
}

function visitLines(visit: readonly PlannedReading[]): ListLine[] {
  const labels = [...new Set(visit.map(({ label }) => label))];
  return labels.map((label) => ({ kind: "datum", readings: visit.filter((r) => r.label === label) }));
}

/** Blocks filled into columns of so many lines; a block is never split. */
export function fillColumns<L>(blocks: readonly (readonly L[])[], lines: number): readonly (readonly L[])[] {
  const columns: L[][] = [];
  for (const block of blocks) {
    const last = columns[columns.length - 1];
    if (last && last.length + block.length <= lines) last.push(...block);
    else columns.push([...block]);
  }
  return columns;
}

/** One column of the list as a table; places in inches to a hundredth: a pencil cross is no finer. */
export function columnTable(lines: readonly ListLine[], unit: string, places: UnitSystem = "metric"): Html {
  const at = (placeMm: number): string => (places === "inch" ? (placeMm / 25.4).toFixed(2) : String(placeMm));
  const symbol = places === "inch" ? "in" : "mm";
  return html`<table class="list"><colgroup><col class="no"><col class="place"><col class="xy"><col class="xy"><col class="third"><col class="third"><col class="third"></colgroup>
<thead><tr><th>no.</th><th>place</th><th>x/${symbol}</th><th>y/${symbol}</th><th colspan="2">reading/${unit}</th><th>note</th></tr></thead>
<tbody>${lines.map((line) => lineRow(line, at))}</tbody></table>`;
}

function lineRow(line: ListLine, at: (mm: number) => string): Html {
  if (line.kind === "pass") return html`<tr class="pass"><td colspan="7">${line.text}</td></tr>`;
  if (line.kind === "state") return html`<tr class="state"><td colspan="7">time <i></i> table <i></i> °C</td></tr>`;
  if (line.kind === "datum") {
    const [first] = line.readings;
    const last = line.readings[line.readings.length - 1];
    return html`<tr class="datum"><td>${String(first?.order)}–${String(last?.order)}</td><td>${first?.label}</td><td>${first && at(first.xMm)}</td><td>${first && at(first.yMm)}</td>${line.readings.map(() => html`<td class="write"></td>`)}</tr>`;
  }
  const { order, label, xMm, yMm } = line.reading;
  return html`<tr class="${line.newRow ? "row" : "on"}"><td>${String(order)}</td><td><b>${label}</b></td><td>${at(xMm)}</td><td>${at(yMm)}</td><td class="write" colspan="2"></td><td class="write"></td></tr>`;
}
