import type { Bedding } from "../facing/bedding.js";
import { gapMap, springBackMap } from "../figure/index.js";
import { caution } from "./caution.js";
import { figureBundle } from "./figure-bundle.js";
import { stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** Cautions first; the answer, where it bears as it lies and when tight, every screw, what springs back and why. */
export const presentBedding = stackPresenter<Bedding>((bedding) => [
  caution("before the plate is bolted down and cut", bedding.cautions),
  bedding.toString(),
  figureBundle(gapMap(bedding, "loose")),
  screwTable(bedding),
  figureBundle(springBackMap(bedding)),
  causesTable(bedding),
]);

function screwTable(bedding: Bedding): Table {
  return table({
    caption: `Gap beside each screw, ${bedding.plate.name}`,
    columns: [
      { heading: "screw", align: "left" },
      { heading: "x", unit: "mm", align: "right" },
      { heading: "y", unit: "mm", align: "right" },
      { heading: "as it lies", unit: "µm", align: "right" },
      { heading: "it closes alone", unit: "µm", align: "right" },
      { heading: "all tight", unit: "µm", align: "right" },
      { heading: "shim", unit: "µm", align: "right" },
    ],
    rows: bedding.screws.map(({ screw, loose, closesAlone, tight, shim }) => [
      screw.label,
      screw.x.in("mm").toFixed(0),
      screw.y.in("mm").toFixed(0),
      loose.in("um").toFixed(1),
      closesAlone.in("um").toFixed(1),
      tight.in("um").toFixed(1),
      shim ? shim.in("um").toFixed(0) : "–",
    ]),
    notes: bedding.notes,
  });
}

function causesTable(bedding: Bedding): Table {
  return table({
    caption: "What the spring-back hangs on",
    columns: [
      { heading: "cause", align: "left" },
      { heading: "moves it by", unit: "µm", align: "right" },
    ],
    rows: bedding.causes.map(({ cause, change }) => [cause, change.in("um").toFixed(2)]),
    notes: [
      `${(100 * bedding.closed).toFixed(0)} % of the gap under the plate is closed by the screws; a plate that follows springs back by the form of the table, whatever its modulus`,
    ],
  });
}
