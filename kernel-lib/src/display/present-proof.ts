import { heightMap, residualMap, trendPlot } from "../figure/index.js";
import type { Flatness } from "../form/index.js";
import type { Difference } from "../proof/difference.js";
import type { NewSurface } from "../proof/new-surface.js";
import type { ResultRecord } from "../proof/record.js";
import type { Settled } from "../proof/settled.js";
import type { Trend } from "../proof/trend.js";
import { caveatSentences, withCaveats } from "../uncertainty/caveat.js";
import { caution } from "./caution.js";
import { stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** The sentence, the map of the change, and the places that changed. */
export const presentDifference = stackPresenter<Difference>(
  (difference) => [
    difference.toString(),
    changeMap(difference),
    difference.changed.length > 0 ? changedTable(difference) : undefined,
  ],
  ({ before, after }) => [before.name, after.name],
);

/** The sentence and the map of what moved between the two surveys. */
export const presentSettled = stackPresenter<Settled>(
  (settled) => [settled.toString(), changeMap(settled.difference)],
  ({ difference: { before, after } }) => [before.name, after.name],
);

/** Cautions, the verdict, both maps on one scale, and what the survey can't prove. */
export const presentNewSurface = stackPresenter<NewSurface>(
  (found) => {
    const maps = [found.before, found.after, ...(found.check ? [found.check] : [])];
    const limitUm = Math.max(...maps.flatMap(({ residualsUm }) => residualsUm.map(Math.abs)));
    return [
      caution("while the surfaces are surveyed", found.cautions),
      found.settled?.agree === false ? `Not to be relied on yet: ${found.rest}.` : undefined,
      withCaveats(found.verdict.sentence(), caveatSentences([found.before.surface.caveat])),
      ...(found.selfReference ? [`What this does not prove: ${found.selfReference}.`] : []),
      `Independent check: ${found.independent}.`,
      formsTable(found),
      ...maps.map((one) => residualMap(one, { title: one.surface.name, limitUm })),
    ];
  },
  ({ before, after, check, tolerance }) => [
    ...[before, after, check].flatMap((one) => (one ? [one.surface.name] : [])),
    tolerance.source,
  ],
);

function formsTable({ before, after, check, flatter, holds, rest }: NewSurface): Table {
  const line = (what: string, { surface, minimumZone: { raw, corrected }, relative }: Flatness) => [
    what,
    surface.name,
    relative,
    raw.in("um").toFixed(1),
    corrected.in("um").toFixed(1),
    (2 * corrected.standardUncertainty.in("um")).toFixed(1),
  ];
  return table({
    caption: "Minimum zone of each surface, by its own form",
    columns: [
      { heading: "surface", align: "left" },
      { heading: "survey", align: "left", asWritten: true },
      { heading: "what it is relative to", align: "left" },
      { heading: "as read", unit: "µm", align: "right" },
      { heading: "corrected for noise", unit: "µm", align: "right" },
      { heading: "± U (k = 2)", unit: "µm", align: "right" },
    ],
    rows: [line("before", before), line("after", after), ...(check ? [line("independent check", check)] : [])],
    notes: [
      `flatter than before: ${flatter}`,
      rest,
      `holds ${holds}`,
      "both maps have the same colours for the same heights",
    ],
  });
}

function changeMap({ before, after, changes }: Difference) {
  const known = new Map(changes.map((change) => [change.label, change.changeUm]));
  const places = before.places.filter(({ label }) => known.has(label));
  return heightMap(
    { ...before, places },
    {
      title: `${after.name} less ${before.name}`,
      residuals: { heightsUm: places.map(({ label }) => known.get(label)!), reference: "after less before" },
    },
  );
}

function changedTable({ changed, factor }: Difference): Table {
  return table({
    caption: "Places that changed",
    columns: [
      { heading: "place", align: "left" },
      { heading: "x", unit: "mm" },
      { heading: "y", unit: "mm" },
      { heading: "change", unit: "µm", align: "right" },
      { heading: "± U of it", unit: "µm", align: "right" },
      { heading: "limit", unit: "µm", align: "right" },
    ],
    rows: changed.map(({ label, xMm, yMm, changeUm, standardUncertaintyUm, amountUncertaintyUm }) => [
      label,
      xMm,
      yMm,
      changeUm.toFixed(1).replace("-", "−"),
      (2 * amountUncertaintyUm).toFixed(1),
      (factor * standardUncertaintyUm).toFixed(1),
    ]),
    notes: [
      "negative: came down; U with k = 2, the error of the gauge in it as far as the two readings lie apart on its scale",
    ],
  });
}

/** The sentence and the picture. */
export const presentTrend = stackPresenter<Trend>(
  (trend) => [trend.toString(), trendPlot(trend)],
  ({ name }) => [name],
);

/** The sentence and a line a result. */
export const presentRecord = stackPresenter<ResultRecord>((record) => [
  record.toString(),
  table({
    caption: record.name,
    columns: [
      { heading: "line" },
      { heading: "date", align: "left" },
      { heading: "subject", align: "left", asWritten: true },
      { heading: "result", align: "left", asWritten: true },
      { heading: "value", unit: "µm", align: "right" },
      { heading: "± U (k = 2)", unit: "µm", align: "right" },
      { heading: "relative to", align: "left" },
      { heading: "gauge", align: "left", asWritten: true },
      { heading: "sheet", align: "left", asWritten: true },
      { heading: "note", align: "left", asWritten: true },
    ],
    rows: record
      .toArray()
      .map((line) => [
        line.line,
        line.date,
        line.subject,
        line.result,
        line.valueUm.toFixed(1),
        (2 * line.standardUncertaintyUm).toFixed(1),
        line.relativeTo,
        line.gauge,
        line.sheet,
        line.corrects === undefined ? (line.note ?? "") : `corrects line ${line.corrects}`,
      ]),
    notes: ["each line is sealed to the one before by its checksum"],
  }),
]);
