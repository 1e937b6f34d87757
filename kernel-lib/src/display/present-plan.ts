import type { Decision } from "../decision/decision.js";
import type { FacingDepth } from "../facing/depth.js";
import type { Passes } from "../facing/pass.js";
import type { Reach } from "../facing/reach.js";
import type { Ridges } from "../facing/ridges.js";
import type { ScrewClearance } from "../facing/screw-clearance.js";
import { bars, depthSlider, Figure } from "../figure/index.js";
import { scaleNumber } from "../figure/print-units.js";
import { restated } from "../figure/restated.js";
import type { Length } from "../quantity/quantity.js";
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
      percent(cut.chanceOfCleanUp),
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
export const presentScrewClearance = stackPresenter<ScrewClearance>((clearance) => [
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
    ],
  }),
]);

/** Cautions first; the answer, the options side by side, what each assumes and risks, what would change the answer. */
export const presentDecision = stackPresenter<Decision>(
  (decision) => [
    caution("whichever option is taken", decision.cautions),
    decision.answer,
    optionsFigure(decision),
    optionsTable(decision),
    conditionsTable(decision),
    table({
      caption: "What would change this answer",
      columns: [{ heading: "if", align: "left" }],
      rows: decision.whatWouldChangeIt.map((line) => [line]),
    }),
  ],
  ({ options, tolerance }) => [...options.map(({ name }) => name), tolerance.source ?? ""],
);

function optionsFigure(decision: Decision): Figure {
  const judged = decision.options.flatMap(({ name, prediction }) => (prediction ? [{ name, prediction }] : []));
  return Figure.drawn(({ system, height }) => {
    const number = (value: Length) => scaleNumber(height, value.in("um"), 1);
    return bars({
      title: "Flatness after each option",
      subtitle: `tolerance ${restated(decision.tolerance.upper.text(), system)}; options that can't be judged from this map are left out`,
      axis: `flatness/${height.symbol}`,
      rows: judged.map(({ name, prediction: { estimate, low, high } }) => ({
        label: name,
        value: height.of(estimate.in("um")),
        text: `${number(estimate)} ${height.symbol} (${number(low)} to ${number(high)})`,
      })),
    });
  });
}

function optionsTable(decision: Decision): Table {
  return table({
    caption: `Options against ${decision.tolerance.upper.text()} (${decision.tolerance.source})`,
    columns: [
      { heading: "option", align: "left" },
      { heading: "flatness after" },
      { heading: "95 % interval" },
      { heading: "chance to meet it" },
      { heading: "chance to prove it" },
      { heading: "verdict", align: "left" },
      { heading: "hours" },
      { heading: "outlay" },
      { heading: "can be undone", align: "left" },
    ],
    rows: decision.rows.map((row) => [
      row.option,
      row.flatness,
      row.interval,
      row.chance,
      row.provable,
      row.verdict,
      row.hours,
      row.outlay,
      row.canBeUndone,
    ]),
    notes: [decision.frame, decision.rule],
  });
}

function conditionsTable(decision: Decision): Table {
  return table({
    caption: "What each option assumes, leaves on a part and risks",
    columns: [
      { heading: "option", align: "left" },
      { heading: "assumes", align: "left" },
      { heading: "error left on a part", align: "left" },
      { heading: "a straightedge would say", align: "left" },
      { heading: "risks", align: "left" },
    ],
    rows: decision.rows.map((row) => [row.option, row.assumes, row.errorOnPart, row.byStraightedge, row.risks]),
  });
}

function percent(share: number): string {
  return (100 * share).toFixed(0);
}
