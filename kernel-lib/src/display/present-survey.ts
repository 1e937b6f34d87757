import { restatedCell, restatedUnit } from "../figure/restated.js";
import type { Health } from "../survey/health.js";
import type { Reading } from "../survey/reading.js";
import type { Survey } from "../survey/survey.js";
import { caution } from "./caution.js";
import { unitSystem } from "./preference.js";
import { type Part, stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** What a survey is, how it was taken, and its readings as they stand, place by place. */
export const presentSurvey = stackPresenter<Survey>(
  (survey) => [
    ...stateOf(survey),
    survey.toString(),
    factsTable(survey),
    ...(survey.readings().length > 0 ? readingsTables(survey) : []),
  ],
  ({ name, title }) => [name, title ?? ""],
);

/** The verdict in one line, then what was found, most pressing first. */
export const presentHealth = stackPresenter<Health>(
  (health) => [
    health.toString().split("\n")[0],
    health.findings.length > 0 ? findingsTable(health) : "Nothing to stop for, nothing to check.",
  ],
  ({ name }) => [name],
);

function stateOf(survey: Survey): readonly Part[] {
  const state = survey.file?.state ?? "";
  return state.startsWith("changed")
    ? [
        caution(`${survey.name} was ${state}`, [
          "Do not rely on these figures until you know what was changed and why.",
        ]),
      ]
    : [];
}

function factsTable(survey: Survey): Table {
  const { frame, gauge } = survey;
  const rows: (readonly [string, string])[] = [
    ["heights relative to", frame.relativeTo],
    [
      "FRONT",
      `the edge ${frame.front === "y-" ? "of least y" : frame.front === "y+" ? "of greatest y" : frame.front === "x-" ? "of least x" : "of greatest x"}`,
    ],
    ["+X, +Y point", `to the ${frame.plusX}, to the ${frame.plusY}`],
    [
      "gauge",
      `${gauge.name}, resolution ${gauge.resolution.text("um")}, maximum permissible error ± ${gauge.maximumPermissibleError.text("um")}`,
    ],
    ...(survey.date ? [["date", survey.date] as const] : []),
    ...survey.otherLines,
    ...survey.notes.map((text) => ["note", text] as const),
    ...survey.removed.map(({ place, pass, reason }) => ["set aside", `${place}, pass ${pass}: ${reason}`] as const),
  ];
  return table({
    caption: survey.title ?? survey.name,
    columns: [
      { heading: "what", align: "left" },
      { heading: "as the sheet says", align: "left", asWritten: true },
    ],
    rows,
  });
}

/** As on the paper: BACK at the top, FRONT at the bottom, one column a step to the right; a table a pass. */
function readingsTables(survey: Survey): readonly Table[] {
  const { frame, passes } = survey;
  const acrossIsX = frame.plusX === "right" || frame.plusX === "left";
  const across = steps(survey, acrossIsX ? "x" : "y", (acrossIsX ? frame.plusX : frame.plusY) === "right");
  const away = steps(survey, acrossIsX ? "y" : "x", (acrossIsX ? frame.plusY : frame.plusX) === "front");
  const isGrid = across.length * away.length <= 2 * survey.places.length && across.length <= mostColumns;
  if (!isGrid) return [readingsList(survey)];
  const [column, row] = acrossIsX ? ["x", "y"] : ["y", "x"];
  return passes.map((pass) => {
    const cells = cellTexts(survey, pass);
    return table({
      caption: `Pass ${pass}, readings in ${restatedUnit("µm", unitSystem())} as they stand; BACK at the top, FRONT at the bottom`,
      columns: [
        { heading: `${row} \\ ${column}`, unit: "mm", align: "right" },
        ...across.map((step) => ({
          heading: restatedCell(String(step), "mm", unitSystem()),
          cellUnit: "µm",
          align: "right" as const,
        })),
      ],
      rows: away.map((b) => [String(b), ...across.map((a) => cells.get(acrossIsX ? `${a},${b}` : `${b},${a}`) ?? "–")]),
      notes: ["–: not probed, or set aside"],
    });
  });
}

/** a wider table than this does not fit a page */
const mostColumns = 16;

function readingsList(survey: Survey): Table {
  const shown = survey.places.slice(0, mostRows);
  const passes = survey.passes.map((pass) => ({ pass, cells: cellTexts(survey, pass) }));
  return table({
    caption: "Readings as they stand",
    columns: [
      { heading: "place", align: "left" },
      { heading: "x", unit: "mm" },
      { heading: "y", unit: "mm" },
      ...passes.map(({ pass }) => ({ heading: `pass ${pass}`, unit: "µm", align: "right" as const })),
    ],
    rows: shown.map(({ label, x, y }) => [
      label,
      x.in("mm"),
      y.in("mm"),
      ...passes.map(({ cells }) => cells.get(`${x.in("mm")},${y.in("mm")}`) ?? "–"),
    ]),
    notes: survey.places.length > shown.length ? [`the first ${shown.length} of ${survey.places.length} places`] : [],
  });
}

/** a table longer than this is a file, not a thing to read */
const mostRows = 200;

/** what was read at each "x,y" in one pass */
function cellTexts(survey: Survey, pass: number): ReadonlyMap<string, string> {
  const byPlace = new Map<string, string>();
  for (const reading of survey.readings()) {
    if (reading.pass !== pass) continue;
    byPlace.set(reading.place, [byPlace.get(reading.place), heightOf(reading)].filter(Boolean).join(", "));
  }
  return new Map(survey.places.map(({ label, x, y }) => [`${x.in("mm")},${y.in("mm")}`, byPlace.get(label) ?? "–"]));
}

/** the different values of a coordinate, in mm, in the order they are shown */
function steps(survey: Survey, axis: "x" | "y", ascending: boolean): readonly number[] {
  const values = [...new Set(survey.places.map((place) => place[axis].in("mm")))];
  return values.sort((a, b) => (ascending ? a - b : b - a));
}

function heightOf({ z }: Reading): string {
  return z.text("um").replace(" µm", "");
}

function findingsTable(health: Health): Table {
  return table({
    caption: `What the readings of ${health.name} say about themselves`,
    columns: [
      { heading: "weight", align: "left" },
      { heading: "what", align: "left" },
      { heading: "how sure", align: "left" },
      { heading: "what to do", align: "left" },
    ],
    rows: health.findings.map(({ severity, what, howSure, whatToDo }) => [severity, what, howSure, whatToDo]),
    notes: ["stop: figures from this sheet mislead; check: read again before trusting them; note: said, not wrong"],
  });
}
