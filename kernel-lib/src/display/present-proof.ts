import { heightMap } from "../figure/index.js";
import type { Difference } from "../proof/difference.js";
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
      { heading: "limit", unit: "µm", align: "right" },
    ],
    rows: changed.map(({ label, xMm, yMm, changeUm, standardUncertaintyUm }) => [
      label,
      xMm,
      yMm,
      changeUm.toFixed(1).replace("-", "−"),
      (factor * standardUncertaintyUm).toFixed(1),
    ]),
    notes: ["negative: came down; how much a place moved is in doubt by the gauge's permissible error besides"],
  });
}
