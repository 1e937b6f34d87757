import { surfaceChance, surfaceMap, surfaceUncertainty } from "../figure/surface-maps.js";
import type { ChanceAbove } from "../form/chance-above.js";
import type { FittedSurface } from "../form/fitted-surface.js";
import type { SurfaceComparison } from "../form/surface-comparison.js";
import type { LeaveOneOut } from "../form/surface-left-out.js";
import { methodWords } from "../form/surface-method.js";
import type { SurfaceRaster } from "../form/surface-raster.js";
import { printNumber, printSignificantTwo } from "../quantity/print.js";
import { sentencePresenter, stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** The sentence, the contours, how sure they are, and what the places left out say. */
export const presentFittedSurface = stackPresenter<FittedSurface>((surface) => [
  surface.toString(),
  surfaceMap(surface),
  surfaceUncertainty(surface),
  surface.leaveOneOut().toString(),
]);

/** The sentence and the map of chances. */
export const presentChanceAbove = stackPresenter<ChanceAbove>((chance) => [chance.toString(), surfaceChance(chance)]);

/** The sentence, then the places farthest off. */
export const presentLeaveOneOut = stackPresenter<LeaveOneOut>((left) => [left.toString(), farthestTable(left)]);

const shown = 8;

function farthestTable({ places, surface, method }: LeaveOneOut): Table {
  const times = (p: LeaveOneOut["places"][number]) => Math.abs(p.residualUm / p.standardDeviationUm);
  const rows = [...places].sort((a, b) => times(b) - times(a)).slice(0, shown);
  return table({
    caption: `Places of ${surface.name} farthest from what all others say (${methodWords(method)})`,
    columns: [
      { heading: "place", align: "left" },
      { heading: "reading less prediction", unit: "µm", align: "right" },
      { heading: "one standard deviation", unit: "µm", align: "right" },
      { heading: "times", align: "right" },
    ],
    rows: rows.map((place) => [
      place.label,
      place.residualUm.toFixed(1).replace("-", "−"),
      place.standardDeviationUm.toFixed(1),
      times(place).toFixed(1),
    ]),
    notes: [`${rows.length} of ${places.length} places; of so many one stands off by 3 times now and then`],
  });
}

/** The methods beside each other. */
export const presentSurfaceComparison = stackPresenter<SurfaceComparison>((comparison) => [
  comparison.toString(),
  table({
    caption: `Ways between the places of ${comparison.surface.name}, each place left out by turns`,
    columns: [
      { heading: "method", align: "left" },
      { heading: "missed by", unit: "µm", align: "right" },
      { heading: "times its doubt", align: "right" },
    ],
    rows: comparison.rows.map(({ method, missedUm, ratio }) => [
      methodWords(method),
      printSignificantTwo(missedUm),
      printSignificantTwo(ratio),
    ]),
    notes: [
      `root mean square over the ${comparison.rows[0]!.places} places that the others surround; the noise of the reading left out is in it`,
    ],
  }),
]);

export const presentSurfaceRaster = sentencePresenter<SurfaceRaster>(({ xsMm, ysMm, uRange: [low, high] }) =>
  [
    `${xsMm.length} × ${ysMm.length} heights`,
    `standard uncertainty ${[...new Set([printNumber(low, 2), printNumber(high, 2)])].join(" to ")} µm; read them with at(column, row), toArray() or a loop`,
  ].join(", "),
);
