import type {
  Compensation,
  DriveTrain,
  Positioning,
  PositioningTest,
  SmallMoves,
  SystematicPart,
} from "../axis/index.js";
import { axisTestCautions } from "../facing/index.js";
import { deviationLimit } from "../figure/deviation-plot.js";
import { deviationPlot, ladderPlot } from "../figure/index.js";
import { um } from "../quantity/index.js";
import { printDecimals, printNumber } from "../quantity/print.js";
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
      row("lost motion for the control", found.lostMotion),
    ],
    notes: [
      ...found.shortOfStandard.map((line) => `less than ISO 230-2:2014 asks for: ${line}`),
      ...found.notes,
      "set the control by the mean, not by the greatest: noise makes the greatest too high",
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

/** The line of figures, then what moves of a few microsteps become. */
export const presentDriveTrain = stackPresenter<DriveTrain>((drive) => [
  drive.toString(),
  table({
    caption: `${drive.name}: what places near zero become`,
    columns: [
      { heading: "asked", unit: "µm" },
      { heading: "microsteps" },
      { heading: "given", unit: "µm" },
      { heading: "rounding", unit: "µm" },
    ],
    rows: drive
      .places([1, 2, 5, 10, 20, 50, 100].map((place) => um(place)))
      .map(({ asked, steps, given, rounding }) => [
        printDecimals(asked.in("um"), 0),
        steps,
        printDecimals(given.in("um"), 2),
        printDecimals(rounding.in("um"), 2),
      ]),
    notes: [
      "given is what is commanded, not what moves: friction may swallow a microstep, and several come at once",
      "the grid begins anew when the power comes on: zero may lie up to a full step elsewhere",
    ],
  }),
]);

/** The sentence, the ladder, moves that did nothing or too much. */
export const presentSmallMoves = stackPresenter<SmallMoves>((found) => [
  axisCaution,
  found.toString(),
  figureBundle(ladderPlot(found)),
  found.lost.length + found.jumps.length > 0 ? oddMovesTable(found) : undefined,
]);

function oddMovesTable(found: SmallMoves): Table {
  const rows = [
    ...found.lost.map((move) => ({ ...move, what: "did nothing, or less than half" })),
    ...found.jumps.map((move) => ({ ...move, what: "went more than half too far" })),
  ].sort((a, b) => a.move - b.move);
  return table({
    caption: `${found.name}: moves that did not arrive`,
    columns: [
      { heading: "move", align: "right" },
      { heading: "commanded", unit: "µm" },
      { heading: "seen", unit: "µm" },
      { heading: "what", align: "left" },
    ],
    rows: rows.map(({ move, commanded, seen, what }) => [
      move,
      printDecimals(commanded.in("um"), 1),
      printDecimals(seen.in("um"), 1),
      what,
    ]),
  });
}

/** The sentence, then what is always the same, a row each. */
export const presentSystematicPart = stackPresenter<SystematicPart>((part) => [
  part.toString(),
  table({
    caption: `${part.test.name}: what is always the same`,
    columns: [
      { heading: "part", align: "left" },
      { heading: "value", align: "left" },
      { heading: "greatest at", align: "left" },
      { heading: "chance by scatter alone", align: "left" },
    ],
    rows: [
      ["slope", part.slope.text(), "–", "–"],
      ["play, drift taken out", part.play.text("um"), "–", "–"],
      ["drift over the test", part.drift.text("um"), "–", "–"],
      ...part.periodic.map(({ name, period, amplitude, standardUncertainty, greatestAt, p }) => [
        `${name}, every ${printNumber(period.in("mm"), 4)} mm`,
        `± ${printDecimals(amplitude.in("um"), 1)} µm, u = ${printDecimals(standardUncertainty.in("um"), 1)} µm`,
        `${printDecimals(greatestAt.in("mm"), 2)} mm from zero`,
        p < 0.001 ? "< 0.001" : p.toFixed(3),
      ]),
      ["left over, one standard deviation", `${printDecimals(part.remainder.in("um"), 1)} µm`, "–", "–"],
    ],
    notes: part.notes,
  }),
]);

/** What to set, the axis before and after on one scale, the pitch table, and what too much of a lost motion does. */
export const presentCompensation = stackPresenter<Compensation>((found) => {
  const one = (length: Length) => printDecimals(length.in("um"), 1);
  const limitUm = deviationLimit(found.before, found.after);
  return [
    axisCaution,
    found.toString(),
    figureBundle(deviationPlot(found.before, { title: `Deviations of ${found.before.test.name}, as found`, limitUm })),
    figureBundle(
      deviationPlot(found.after, {
        title: `Deviations of ${found.before.test.name}, as predicted with both corrections`,
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
    table({
      caption: `${found.before.test.name}: less and more than the lost motion found`,
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
      notes: [
        "above 100 % the axis overshoots at every turn of direction: circles get steps, climb cuts get pulled in",
      ],
    }),
  ];
});
