import { loosenCautions, measuringCautions } from "../facing/index.js";
import { shimPlan, tramCircle } from "../figure/index.js";
import type { ShimSheet, SpindleTram, Squareness, StraightedgeReversal } from "../form/index.js";
import { printNumber } from "../quantity/print.js";
import { caution } from "./caution.js";
import { sentencePresenter, stackPresenter } from "./present.js";
import { fixed } from "./present-geometry.js";
import { type Table, table } from "./table.js";

/** Cautions of the sweep first; the tilt, then every reading against the circle. */
export const presentTram = stackPresenter<SpindleTram>((tram) => [
  caution("while the indicator is in the spindle", measuringCautions),
  tram.toString(),
  tramCircle(tram),
  sweepTable(tram),
]);

function sweepTable({ sweep, residualsUm }: SpindleTram): Table {
  return table({
    caption: `Sweep: ${sweep.name}, radius ${sweep.radius.text("mm")}`,
    columns: [
      { heading: "angle", unit: "°", align: "right" },
      { heading: "reading", unit: "µm", align: "right" },
      { heading: "off the circle", unit: "µm", align: "right" },
    ],
    rows: sweep.readings.map(({ angle, reading }, i) => [
      fixed(angle.in("deg"), 0),
      fixed(reading.in("um"), 1),
      fixed(residualsUm[i]!, 1),
    ]),
    notes: [
      "angles of the stylus seen from above, from +X towards +Y; positive = pushed in, the head's top leans that way",
      "swept at the height and quill position of the cut, or it holds for another one",
    ],
  });
}

/** Cautions before anything is loosened, then what goes under each bolt and what remains. */
export const presentShims = stackPresenter<ShimSheet>((sheet) => [
  caution(`before a bolt of the ${sheet.given.what} is loosened`, loosenCautions),
  sheet.toString(),
  shimPlan(sheet),
  shimTable(sheet),
]);

function shimTable({ given, stacks, rows, rock }: ShimSheet): Table {
  return table({
    caption: `Shims under the ${given.what}: ${given.name}`,
    columns: [
      { heading: "bolt", align: "left", asWritten: true },
      { heading: "x", unit: "mm", align: "right" },
      { heading: "y", unit: "mm", align: "right" },
      { heading: "wanted", unit: "mm", align: "right" },
      { heading: "stack", align: "left" },
      { heading: "foils", align: "left" },
    ],
    rows: stacks.map((stack, i) => [
      stack.label,
      fixed(stack.x.in("mm"), 0),
      fixed(stack.y.in("mm"), 0),
      fixed(stack.wanted.in("mm"), 3),
      rows[i]![1],
      rows[i]![2],
    ]),
    notes: [
      `the stacks stand ${fixed(rock.in("um"), 1)} µm off one plane`,
      "clean joint and foils, tighten crosswise, sweep again before anything is cut",
    ],
  });
}

export const presentSquareness = sentencePresenter<Squareness>();

/** The sentence, then machine and artefact place by place. */
export const presentReversal = stackPresenter<StraightedgeReversal>((reversal) => [
  reversal.toString(),
  table({
    caption: `Reversal of ${reversal.given.name}, from the line through the ends`,
    columns: [
      { heading: "place", unit: "mm", align: "right" },
      { heading: "machine", align: "left" },
      { heading: "artefact", align: "left" },
    ],
    rows: reversal.given.at.map((at, i) => [
      printNumber(at.in("mm")),
      reversal.machine[i]!.text("um"),
      reversal.artefact[i]!.text("um"),
    ]),
  }),
]);
