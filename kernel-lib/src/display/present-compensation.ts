import type { Compensation } from "../axis/index.js";
import { deviationLimit } from "../figure/deviation-plot.js";
import { deviationPlot } from "../figure/index.js";
import { printDecimals } from "../quantity/print.js";
import type { Length } from "../quantity/quantity.js";
import { figureBundle } from "./figure-bundle.js";
import { stackPresenter } from "./present.js";
import { axisCaution } from "./present-axis.js";
import { type Table, table } from "./table.js";

const one = (length: Length) => printDecimals(length.in("um"), 1);

/** What to set, the axis before and after on one scale, the pitch table, and what too much of a lost motion does. */
export const presentCompensation = stackPresenter<Compensation>((found) => {
  const { vertical } = found.before.test;
  const limitUm = deviationLimit(found.before, found.after);
  return [
    axisCaution,
    found.toString(),
    figureBundle(deviationPlot(found.before, { title: `Deviations of ${found.before.test.name}, as found`, limitUm })),
    figureBundle(
      deviationPlot(found.after, {
        title: `Deviations of ${found.before.test.name}, as predicted with ${vertical ? "the pitch table" : "both corrections"}`,
        limitUm,
      }),
    ),
    table({
      caption: `${found.before.test.name}: pitch table`,
      columns: [
        { heading: "target", unit: "mm" },
        { heading: "correction", unit: "µm" },
        { heading: "u", unit: "µm" },
      ],
      rows: found.pitch.map((row) => [row.target.in("mm"), one(row.correction), one(row.standardUncertainty)]),
      notes: found.notes,
    }),
    ...(found.settings.length === 0 ? [] : [settingsTable(found)]),
  ];
});

function settingsTable(found: Compensation): Table {
  return table({
    caption: `${found.before.test.name}: with the pitch table, and less and more than the lost motion found`,
    columns: [
      { heading: "of the lost motion", unit: "%" },
      { heading: "set", unit: "µm" },
      { heading: "mean reversal left", unit: "µm" },
      { heading: "E", unit: "µm" },
      { heading: "A", unit: "µm" },
    ],
    rows: found.settings.map((row) => [
      100 * row.share,
      one(row.set),
      one(row.meanReversal),
      one(row.systematic),
      one(row.accuracy),
    ]),
    notes: ["above 100 % the axis overshoots at every turn of direction: circles get steps, climb cuts get pulled in"],
  });
}
