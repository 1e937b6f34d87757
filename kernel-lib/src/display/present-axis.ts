import type { Positioning, PositioningTest } from "../axis/index.js";
import { axisTestCautions } from "../facing/index.js";
import { deviationPlot } from "../figure/index.js";
import { printDecimals } from "../quantity/print.js";
import type { Length } from "../quantity/quantity.js";
import type { Measured } from "../uncertainty/index.js";
import { caution } from "./caution.js";
import { figureBundle } from "./figure-bundle.js";
import { stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** The caution of every page that tells someone to move an axis. */
export const axisCaution = caution("while an axis is driven to and fro", axisTestCautions);

export const presentPositioningTest = stackPresenter<PositioningTest>((test) => [
  axisCaution,
  test.toString(),
  table({
    caption: `${test.name}: mean deviations as read`,
    columns: [
      { heading: "target", unit: "mm" },
      { heading: "up", unit: "µm" },
      { heading: "down", unit: "µm" },
    ],
    rows: test.targetsMm.map((target, i) => [
      target,
      ...(["up", "down"] as const).map((way) => meanOf(test.deviations(i, way))),
    ]),
    notes: test.notes,
  }),
]);

function meanOf(list: readonly Length[]): string {
  return printDecimals(list.reduce((sum, length) => sum + length.in("um"), 0) / list.length, 1);
}

/** The sentence, the plot, the figures of the axis with U, then target by target. */
export const presentPositioning = stackPresenter<Positioning>((found) => [
  axisCaution,
  found.toString(),
  figureBundle(deviationPlot(found)),
  axisTable(found),
  targetTable(found),
]);

function axisTable(found: Positioning): Table {
  const alone = found.gaugeAlone;
  const row = (
    name: string,
    of: Measured<"length">,
    up?: Measured<"length">,
    down?: Measured<"length">,
    perfect?: Length,
  ) => [
    name,
    of.text("um"),
    up ? up.text("um") : "–",
    down ? down.text("um") : "–",
    perfect ? `${perfect.in("um").toFixed(1)} µm` : "–",
  ];
  return table({
    caption: `${found.test.name}: figures of the axis to ISO 230-2`,
    columns: [
      { heading: "figure", align: "left" },
      { heading: "both directions", align: "left" },
      { heading: "up", align: "left" },
      { heading: "down", align: "left" },
      { heading: "a perfect axis would get", align: "left" },
    ],
    rows: [
      row("accuracy A", found.accuracy, found.accuracyUp, found.accuracyDown, alone.accuracy),
      row("systematic deviation E", found.systematic, found.systematicUp, found.systematicDown, alone.systematic),
      row("mean deviation M", found.meanDeviation),
      row("repeatability R", found.repeatability, found.repeatabilityUp, found.repeatabilityDown, alone.repeatability),
      row("greatest reversal B", found.reversal, undefined, undefined, alone.reversal),
      row("mean reversal", found.meanReversal),
      row(found.test.vertical ? "lost motion as it hangs" : "lost motion for the control", found.lostMotion),
    ],
    notes: [
      ...found.shortOfStandard.map((line) => `less than ISO 230-2:2014 asks for: ${line}`),
      ...found.notes,
      found.test.vertical
        ? "set no lost motion in the control: what is lost as the axis hangs is wind-up and friction, the weight closes the play by itself"
        : "set the control by the mean, not by the greatest: noise makes the greatest too high",
    ],
  });
}

function targetTable(found: Positioning): Table {
  const one = (length: Length) => printDecimals(length.in("um"), 1);
  return table({
    caption: `${found.test.name}, target by target`,
    columns: [
      { heading: "target", unit: "mm" },
      { heading: "mean up", unit: "µm" },
      { heading: "mean down", unit: "µm" },
      { heading: "s up", unit: "µm" },
      { heading: "s down", unit: "µm" },
      { heading: "reversal B", unit: "µm" },
      { heading: "R", unit: "µm" },
    ],
    rows: found.positions.map((p) => [
      p.target.in("mm"),
      one(p.meanUp),
      one(p.meanDown),
      one(p.deviationUp),
      one(p.deviationDown),
      one(p.reversal),
      one(p.repeatability),
    ]),
    notes: ["deviation = actual − target; B = mean up − mean down, which plain lost motion makes negative"],
  });
}
