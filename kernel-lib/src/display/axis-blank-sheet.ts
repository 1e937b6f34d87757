import type { PositioningPlan } from "../axis/index.js";
import type { Length } from "../quantity/index.js";
import type { UnitSystem } from "../quantity/kinds.js";
import { fillColumns } from "./blank-sheet-list.js";
import { linesPerColumn, type Paper } from "./blank-sheet-style.js";
import { type Html, html } from "./html.js";
import { axisCaution } from "./present-axis.js";
import { blockWords } from "./present-positioning-plan.js";

type Line =
  | { readonly kind: "run"; readonly text: string }
  | { readonly kind: "state" }
  | { readonly kind: "target"; readonly order: number; readonly target: string; readonly blocks: string };

/** The pages of a positioning plan, its targets and gauge in the units asked for: how to test, then a cell for every reading, each run set off. */
export function positioningPages(plan: PositioningPlan, paper: Paper, units: UnitSystem): readonly Html[] {
  const most = linesPerColumn(paper);
  const columns = fillColumns(
    blocksOf(plan, units).flatMap((block) => pieces(block, most)),
    most,
  );
  const [short, long] = units === "inch" ? ["thou", "in"] : ["µm", "mm"];
  const unit = plan.reads === "deviation" ? short : long;
  const lists = Array.from({ length: Math.ceil(columns.length / 2) }, (_, i) => {
    const pair = columns.slice(2 * i, 2 * i + 2);
    return html`<h1>${plan.title}: readings</h1><div class="lists">${pair.map((lines) => html`<div>${columnTable(lines, [`target/${long}`, `${plan.reads}/${unit}`, plan.usesBlocks ? "blocks, note" : "note"])}</div>`)}</div>`;
  });
  return [firstPage(plan, units), ...lists];
}

/** each run is one block, so that it stands whole in a column where it fits */
function blocksOf(plan: PositioningPlan, units: UnitSystem): readonly (readonly Line[])[] {
  return Array.from({ length: plan.cycles }, (_, i) => i + 1).flatMap((run) =>
    (["up", "down"] as const).map((direction): Line[] => [
      {
        kind: "run",
        text:
          direction === "up"
            ? `Run ${run}, up ▲: come from below the first target`
            : `Run ${run}, down ▼: come from above the last target`,
      },
      ...plan.readings
        .filter((reading) => reading.run === run && reading.direction === direction)
        .map(({ order, target }): Line => {
          const { target: at, blocks } = plan.targets[target]!;
          return { kind: "target", order, target: placeText(at, units), blocks: blockWords(blocks) };
        }),
      { kind: "state" },
    ]),
  );
}

/** in inches to a thousandth, as a control is sent there */
function placeText(at: Length, units: UnitSystem): string {
  return units === "inch" ? String(Number(at.in("in").toFixed(3))) : String(at.in("mm"));
}

/** a run that is longer than a column goes on in the next */
function pieces(block: readonly Line[], most: number): readonly (readonly Line[])[] {
  return Array.from({ length: Math.ceil(block.length / most) }, (_, i) => block.slice(i * most, (i + 1) * most));
}

function columnTable(lines: readonly Line[], headings: readonly string[]): Html {
  return html`<table class="list"><colgroup><col class="run-no"><col class="target"><col class="seen"><col></colgroup>
<thead><tr><th>no.</th>${headings.map((heading) => html`<th>${heading}</th>`)}</tr></thead>
<tbody>${lines.map(lineRow)}</tbody></table>`;
}

function lineRow(line: Line): Html {
  if (line.kind === "run") return html`<tr class="pass"><td colspan="4">${line.text}</td></tr>`;
  if (line.kind === "state") return html`<tr class="state"><td colspan="4">time <i></i> axis <i></i> °C</td></tr>`;
  return html`<tr class="on"><td>${String(line.order)}</td><td><b>${line.target}</b></td><td class="write"></td><td class="write">${line.blocks}</td></tr>`;
}

function firstPage(plan: PositioningPlan, units: UnitSystem): Html {
  const fields = ["workshop", "machine", "date", "measured by", "gauge, if another", "started at"];
  return html`<h1>${plan.title}</h1>
${axisCaution.toHtml()}
<div class="fields">${fields.map((name) => html`<div class="field">${name}:</div>`)}</div>
<p class="known">${knownWords(plan, units)}</p>
${plan.notes.map((note) => html`<p class="known"><b>${note[0]!.toUpperCase()}${note.slice(1)}.</b></p>`)}
<div class="protocol">${protocolOf(plan, units).map(([key, hint]) => html`<div><b>${key}</b> ${hint}</div>`)}</div>`;
}

function knownWords(plan: PositioningPlan, units: UnitSystem): string {
  const { axis, gauge, reference, targets, cycles, dwell, readings } = plan;
  const places = targets.map(({ target }) => placeText(target, units)).join(", ");
  const [short, long] = units === "inch" ? (["inch", "in"] as const) : (["um", "mm"] as const);
  return (
    `axis ${axis}; against ${reference.name}; gauge: ${gauge.name}, resolution ${gauge.resolution.text(short)}, ` +
    `maximum permissible error ± ${gauge.maximumPermissibleError.text(short)}; ${readings.length} readings, ${cycles} runs each way, ` +
    `${dwell.in("s")} s of stillness before each; targets/${long}: ${places}`
  );
}

/** what must be so before and during the test */
function protocolOf(
  { vertical, overTravel, reads, axis }: PositioningPlan,
  units: UnitSystem,
): readonly (readonly [string, string])[] {
  return [
    ["sense proven", `one move towards +${axis}: which way did it read`],
    ["warmed up", "as it will be used; for how long"],
    ["gibs", "as in the cut, the same throughout"],
    ["other axes", "locked, and where they stand"],
    ["spindle", "isolated, not turned"],
    ["lubricated", "when last"],
    ["reference in line", "checked over its length; by how much"],
    ["soaked", "reference beside the axis for an hour"],
    ["beyond the ends", `${units === "inch" ? overTravel.text("in") : overTravel.text("mm")} before each turn`],
    ["approach", "never backwards; a miss begins the run again"],
    ["whole turns", reads === "deviation" ? "small hand read with each reading" : "display not zeroed between"],
    ["feed", "the same throughout; how much"],
    ["control's corrections", "off, or which"],
    ["temperatures", "reference and screw, first and last"],
    ["pull", vertical ? "free, or upward with how much" : "none"],
    ["zeroed", "once, at the first target"],
  ];
}
