import { printDecimals } from "../quantity/print.js";
import type { PlaceStatistics } from "../survey/place-statistics.js";
import { stackPresenter } from "./present.js";
import { table } from "./table.js";

/** a table longer than this is a file, not a thing to read */
const mostRows = 200;

/** Count, mean and standard deviation, a row a place. */
export const presentPlaceStatistics = stackPresenter<PlaceStatistics>((statistics) => {
  const shown = Array.from({ length: Math.min(mostRows, statistics.length) }, (_, i) => statistics.at(i)!);
  return [
    table({
      caption: `${statistics}, as they stand on the sheet`,
      columns: [
        { heading: "place", align: "left" },
        { heading: "x", unit: "mm" },
        { heading: "y", unit: "mm" },
        { heading: "readings" },
        { heading: "mean", unit: "µm" },
        { heading: "s", unit: "µm" },
      ],
      rows: shown.map(({ place, x, y, count, mean, standardDeviation }) => [
        place,
        x.in("mm"),
        y.in("mm"),
        String(count),
        printDecimals(mean.in("um"), 2),
        standardDeviation ? printDecimals(standardDeviation.in("um"), 2) : "–",
      ]),
      notes: [
        "s: standard deviation of one reading, with n − 1; drift and offsets between passes are in it",
        ...(statistics.length > shown.length ? [`the first ${shown.length} of ${statistics.length} places`] : []),
      ],
    }),
  ];
});
