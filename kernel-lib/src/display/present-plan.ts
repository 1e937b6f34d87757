import { chanceText } from "../decision/prediction.js";
import type { FacingDepth } from "../facing/depth.js";
import type { Passes } from "../facing/pass.js";
import type { Reach } from "../facing/reach.js";
import type { Ridges } from "../facing/ridges.js";
import type { ScrewClearance } from "../facing/screw-clearance.js";
import { depthSlider } from "../figure/index.js";
import { caution } from "./caution.js";
import { figureBundle } from "./figure-bundle.js";
import { sentencePresenter, stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** Cautions first, then the depth that cleans up and what each depth does. */
export const presentDepth = stackPresenter<FacingDepth>(
  (depth) => [
    caution("before and while the plate is cut", depth.cautions),
    depth.toString(),
    figureBundle(depthSlider(depth)),
    depthTable(depth),
  ],
  ({ surface }) => [surface.name],
);

function depthTable(depth: FacingDepth): Table {
  return table({
    caption: `Area cleaned against depth of cut, ${depth.surface.name}`,
    columns: [
      { heading: "below first contact", unit: "µm", align: "right" },
      { heading: "area cleaned", unit: "%", align: "right" },
      { heading: "95 % interval", unit: "%", align: "right" },
      { heading: "chance of full clean-up", unit: "%", align: "right" },
      { heading: "volume", unit: "cm³", align: "right" },
      ...(depth.thickness ? [{ heading: "thickness left", unit: "mm", align: "right" as const }] : []),
    ],
    rows: depth.rows.map((cut) => [
      cut.depth.in("um").toFixed(0),
      percent(cut.areaCleaned.share),
      `${percent(cut.areaCleaned.low)} to ${percent(cut.areaCleaned.high)}`,
      chanceText(cut.chanceOfCleanUp).replace(" %", ""),
      cut.volume.in("cm3").toFixed(2),
      ...(depth.thickness ? [cut.thicknessLeft!.in("mm").toFixed(2)] : []),
    ]),
    notes: depth.notes,
  });
}

export const presentReach = sentencePresenter<Reach>();
export const presentRidges = sentencePresenter<Ridges>();

export const presentPasses = stackPresenter<Passes>((passes) => [
  caution("before and while the plate is cut", passes.cautions),
  table({
    caption: "Passes of the cutter",
    columns: [
      { heading: "what", align: "left" },
      { heading: "value", align: "left" },
    ],
    rows: passes.rows,
  }),
]);

/** Safe or not in one line, then every screw. */
export const presentScrewClearance = stackPresenter<ScrewClearance>(
  (clearance) => [
    caution("steel heads under a soft plate", clearance.cautions),
    clearance.toString(),
    table({
      caption: "Screw heads below the finished surface",
      columns: [
        { heading: "screw", align: "left" },
        { heading: "clearance", align: "left" },
        { heading: "at least", unit: "mm", align: "right" },
        { heading: `leaves the margin of ${clearance.margin.text("mm")}`, align: "left" },
      ],
      rows: clearance.rows.map((row) => [
        row.label,
        row.clearance.text("mm"),
        row.atLeast.in("mm").toFixed(2),
        row.safe ? "yes" : "no",
      ]),
      notes: [
        "clearance = least counterbore depth − greatest head height − washer − cut at that screw; at least = clearance − U (95 %)",
        `standard uncertainties in U: ${clearance.doubts.map(({ label, standardUncertainty: u }) => `${label} ${u.in("mm").toFixed(3)} mm`).join(", ")}, and the doubt of the cut at that screw`,
      ],
    }),
  ],
  ({ doubts }) => doubts.map(({ label }) => label),
);

function percent(share: number): string {
  return (100 * share).toFixed(0);
}
