import { PositioningPlan } from "../axis/index.js";
import { planMap } from "../figure/index.js";
import { restated } from "../figure/restated.js";
import { MeasurementError } from "../measurement-error.js";
import type { UnitSystem } from "../quantity/kinds.js";
import type { SurveyPlan } from "../survey/index.js";
import { positioningPages } from "./axis-blank-sheet.js";
import { columnTable, fillColumns, listBlocks } from "./blank-sheet-list.js";
import { linesPerColumn, type Paper, papers, sheetStyle } from "./blank-sheet-style.js";
import { Block } from "./bundle.js";
import { caution } from "./caution.js";
import { Html, html } from "./html.js";
import { fileNameOf, printable } from "./printable.js";

/** A sheet of paper to take to the machine, as a page that prints: the map with FRONT, how to read, a cell for every reading. */
export class BlankSheet extends Block {
  /** the whole page, HTML with nothing that runs and nothing fetched; write it to a file and print that */
  readonly document: string;
  readonly pages: number;

  constructor(
    readonly title: string,
    readonly paper: Paper,
    pages: readonly Html[],
    readonly readings: number,
  ) {
    super();
    this.pages = pages.length;
    const numbered = pages.map(
      (page, i) =>
        html`<section class="page">${page}<div class="foot"><span>${title}</span><span>page ${String(i + 1)} of ${String(pages.length)}</span></div></section>`,
    );
    this.document = html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${title}: blank sheet</title><style>${new Html(sheetStyle(paper))}</style></head>
<body>${numbered}</body></html>
`.markup;
  }

  override toHtml(): Html {
    return printable(this.document, fileNameOf(`${this.title} blank sheet`), this.toString());
  }

  override toString(): string {
    return `${this.title}: blank sheet for ${this.readings} readings, ${this.pages} pages ${this.paper}; print it, then type the readings into the matching sheet of the plan`;
  }
}

/**
 * The blank sheet of a plan of a survey or of a positioning test, to be printed and filled in with a pencil: A4 or Letter, whole pages, black on white.
 *
 * @param options paper, and the units of places, gauge and words; the readings of a survey keep the unit of the plan
 * @throws MeasurementError `paper`
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(4) });
 * const places = survey.plan({ table: { x: [mm(0), mm(400)], y: [mm(0), mm(150)] }, pitch: mm(50), frame, gauge: dial });
 * blankSheet(places, { paper: "Letter" }).pages // => 3
 */
export function blankSheet(
  plan: SurveyPlan | PositioningPlan,
  options: { readonly paper?: Paper; readonly units?: UnitSystem } = {},
): BlankSheet {
  const { paper = "A4", units = "metric" } = options;
  if (!Object.hasOwn(papers, paper)) {
    throw new MeasurementError(
      "paper",
      `blankSheet: paper ${JSON.stringify(paper)} is not known; write "A4" or "Letter"`,
    );
  }
  const pages =
    plan instanceof PositioningPlan ? positioningPages(plan, paper, units) : surveyPages(plan, paper, units);
  return new BlankSheet(plan.title, paper, pages, plan.readings.length);
}

function surveyPages(plan: SurveyPlan, paper: Paper, units: UnitSystem): readonly Html[] {
  const columns = fillColumns(listBlocks(plan), linesPerColumn(paper));
  const unit = plan.zUnit === "um" ? "µm" : plan.zUnit;
  const lists = Array.from({ length: Math.ceil(columns.length / 2) }, (_, i) => {
    const pair = columns.slice(2 * i, 2 * i + 2);
    return html`<h1>${plan.title}: readings</h1><div class="lists">${pair.map((lines) => html`<div>${columnTable(lines, unit, units)}</div>`)}</div>`;
  });
  return [firstPage(plan, units), ...lists];
}

function firstPage(plan: SurveyPlan, units: UnitSystem): Html {
  const fields = ["workshop", "machine", "date", "measured by", "gauge, if another", "started at"];
  return html`<h1>${plan.title}</h1>
${cautions.toHtml()}
<div class="fields">${fields.map((name) => html`<div class="field">${name}:</div>`)}</div>
<p class="known">${knownWords(plan, units)}</p>
<div class="map">${new Html(planMap(plan).shownIn(units).still)}</div>
${warnings(plan, units)}
<div class="protocol">${protocol.map(([key, hint]) => html`<div><b>${key}</b> ${units === "inch" ? hint.replace("10 mm", "0.4 in") : hint}</div>`)}</div>`;
}

function knownWords({ frame, gauge, passes, readings }: SurveyPlan, units: UnitSystem): string {
  const unit = units === "inch" ? units : "um";
  return (
    `heights relative to ${frame.relativeTo}; FRONT is the edge ${frame.front.replace("-", "−")}, +X points ${frame.plusX}, +Y ${frame.plusY}; ` +
    `gauge: ${gauge.name}, resolution ${gauge.resolution.text(unit)}, maximum permissible error ± ${gauge.maximumPermissibleError.text(unit)}; ` +
    `positive: surface stands ${gauge.sense === "minus" ? "low" : "high"}; ${readings.length} readings in ${passes === 1 ? "1 pass" : `${passes} passes`}`
  );
}

/** what the person at the table must know of places that are missing, and of what stands in the way */
function warnings({ grid, outline }: SurveyPlan, units: UnitSystem): Html | undefined {
  const named = (list: readonly string[]) =>
    list.length <= 12 ? list.join(", ") : `${list.slice(0, 12).join(", ")} and ${list.length - 12} more`;
  const sentences = [
    grid.leftOut.length > 0
      ? `Not probed: ${named(grid.leftOut.map(({ label, reason }) => `${label} (${reason})`))}.`
      : "",
    outline.obstacles.length > 0
      ? `Lift the stylus before it meets ${named(outline.obstacles.map(({ name }) => name))}.`
      : "",
    outline.slots.length + outline.holes.length > 0 ? "Lift the stylus over slots and holes." : "",
  ].filter((sentence) => sentence !== "");
  return sentences.length > 0
    ? html`<p class="known"><b>${restated(
        sentences.join(" "),
        units,
        outline.obstacles.map(({ name }) => name),
      )}</b></p>`
    : undefined;
}

const cautions = caution("spindle stopped and isolated: plug out or switch locked; an emergency stop is no isolation", [
  "Move the table by hand; on a powered axis hands stay out while it moves, single steps, stop in reach.",
  "Take indicator, arm and drawbar spanner off before power comes back. The maker's instructions and your shop's rules come first.",
]);

/** the lines of the sheet's preamble, with what is usual */
const protocol: readonly (readonly [key: string, hint: string])[] = [
  ["burrs stoned", "yes or no"],
  ["top wiped", "at each pass"],
  ["stylus preloaded", "so that lows read; by how much"],
  ["spindle", "locked, not turned"],
  ["quill", "in and locked"],
  ["head", "at the height of the cut, locked"],
  ["locks", "gibs and axis locks as in the cut, the same throughout"],
  ["approach", "from the same side throughout; which"],
  ["vice", "off or on"],
  ["places", "off slots and holes, 10 mm from edges"],
  ["slide between places", "done, largest swing"],
  ["feet", "tight; level checked with the table at both ends"],
  ["thermometers", "two places; which"],
  ["temperature table", "from … to …, °C"],
  ["temperature, second place", "from … to …, °C"],
  ["zeroed", "once, or again at each pass"],
];
