import type { DriveTrain, LiftUnderPull, SmallMoves, SystematicPart } from "../axis/index.js";
import { pulledHeadCautions } from "../facing/index.js";
import { ladderPlot, liftPlot } from "../figure/index.js";
import { um } from "../quantity/index.js";
import { printDecimals, printNumber } from "../quantity/print.js";
import { caution } from "./caution.js";
import { figureBundle } from "./figure-bundle.js";
import { stackPresenter } from "./present.js";
import { axisCaution } from "./present-axis.js";
import { type Table, table } from "./table.js";

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

/** The cautions of the pull, the sentence, both ladders in one picture. */
export const presentLiftUnderPull = stackPresenter<LiftUnderPull>((found) => [
  caution("while the head is pulled up", pulledHeadCautions),
  found.toString(),
  figureBundle(liftPlot(found)),
]);

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
      [`${part.playName}, drift taken out`, part.play.text("um"), "–", "–"],
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
