import { formBars } from "../figure/form-bars.js";
import { residualMap } from "../figure/residuals.js";
import { straightnessStrip } from "../figure/straightness-strip.js";
import type { Flatness } from "../form/flatness.js";
import type { LocalHighs, LocalLows } from "../form/local-highs.js";
import type { FormTerm, MakeUp } from "../form/make-up.js";
import { withOpenFindings } from "../form/places.js";
import type { FormReading } from "../form/reading.js";
import type { ReferencePlane } from "../form/reference-plane.js";
import type { Straightness } from "../form/straightness.js";
import { printDecimals } from "../quantity/print.js";
import type { Length } from "../quantity/quantity.js";
import { stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** a name is not restated in other units, whatever it says */
const ofSurface = ({ surface }: { readonly surface: { readonly name: string } }) => [surface.name];

/** The sentence, the map of what is left when the tilt is taken out, and the figures. */
export const presentFlatness = stackPresenter<Flatness>(
  (flatness) => [
    withOpenFindings(`${flatness.title}: ${flatness.overall}`, flatness.surface),
    residualMap(flatness),
    flatnessTable(flatness),
  ],
  ofSurface,
);

function flatnessTable(flatness: Flatness): Table {
  const { highest, lowest, peakToValley, minimumZone } = flatness;
  return table({
    caption: `Form of ${flatness.surface.name}, ${flatness.relative}`,
    columns: [
      { heading: "figure", align: "left" },
      { heading: "value", align: "left" },
      { heading: "how found", align: "left" },
    ],
    rows: [
      ["peak to valley (FLTt)", flatness.overall.text(), correction(peakToValley)],
      ["minimum zone", minimumZone.corrected.text(), correction(minimumZone)],
      ["reference plane to peak (FLTp)", um1(flatness.FLTp), "as read, least-squares plane"],
      ["reference plane to valley (FLTv)", um1(flatness.FLTv), "as read, least-squares plane"],
      ["root mean square (FLTq)", um1(flatness.FLTq), "as read, least-squares plane"],
      ["tilt along x", flatness.tiltX.text(), "slope of the least-squares plane, positive where it rises with x"],
      ["tilt along y", flatness.tiltY.text(), "slope of the least-squares plane, positive where it rises with y"],
      ["highest place", highest.label, `${highest.where}, ${um1(highest)} above the plane`],
      ["lowest place", lowest.label, `${lowest.where}, ${um1(lowest)} from the plane`],
    ],
    notes: [
      `at the ${flatness.surface.places.length} places probed: a lower bound for what lies between them`,
      "distances along z; ISO 12781-1 names; a verdict takes the minimum zone (ISO 1101)",
      // as read it never is
      ...(minimumZone.corrected.value.si > flatness.overall.value.si
        ? [
            "each figure is freed of noise by itself: that the minimum zone comes out the wider here lies within their ±",
          ]
        : []),
    ],
  });
}

function correction({ raw, bias }: { readonly raw: Length; readonly bias: Length }): string {
  return `${um1(raw)} as read, less ${um1(bias)} that the noise of the readings adds`;
}

/** The sentence and the map of what stands off the plane. */
export const presentReferencePlane = stackPresenter<ReferencePlane>(
  (plane) => [plane.toString(), residualMap(plane)],
  ofSurface,
);

/** The sentence, the strip and the three figures. */
export const presentStraightness = stackPresenter<Straightness>((found) => [
  withOpenFindings(
    `straightness of ${found.line.name} along ${found.line.along}, ${found.relative}: ${found.overall}`,
    found.line,
  ),
  straightnessStrip(found),
  straightnessTable(found),
]);

function straightnessTable({ line, leastSquares, endPoints, minimumZone, relative }: Straightness): Table {
  const rows = [
    ["minimum zone", minimumZone],
    ["least-squares line", leastSquares],
    ["end-point line", endPoints],
  ] as const;
  return table({
    caption: `Straightness of ${line.name}, ${relative}`,
    columns: [
      { heading: "reference", align: "left" },
      { heading: "value", align: "left" },
      { heading: "how found", align: "left" },
    ],
    rows: rows.map(([name, { width }]) => [name, width.corrected.text(), correction(width)]),
    notes: [`at the ${line.atMm.length} places probed: a lower bound for what lies between them`],
  });
}

/** The sentence with the limit, then the areas. */
export const presentLocalHighs = stackPresenter<LocalHighs>(
  (highs) => [highs.toString(), highs.areas.length > 0 ? areasTable(highs, "Local highs") : undefined],
  ofSurface,
);

export const presentLocalLows = stackPresenter<LocalLows>(
  (lows) => [lows.toString(), lows.areas.length > 0 ? areasTable(lows, "Local lows") : undefined],
  ofSurface,
);

function areasTable(found: LocalHighs | LocalLows, caption: string): Table {
  const reach = ([from, to]: readonly [number, number]) => (from === to ? `${from}` : `${from} to ${to}`);
  return table({
    caption: `${caption} of ${found.surface.name}`,
    columns: [
      { heading: "where", align: "left" },
      { heading: "places", align: "left" },
      { heading: "height", align: "left" },
      { heading: "x", unit: "mm", align: "right" },
      { heading: "y", unit: "mm", align: "right" },
      { heading: "volume at least", align: "right" },
      { heading: "chance of one anywhere", align: "right" },
    ],
    rows: found.areas.map((area) => [
      area.where,
      area.places.map(({ label }) => label).join(", "),
      area.height.text(),
      reach(area.extentMm.x),
      reach(area.extentMm.y),
      area.volumeAtLeast.si > 0 ? `${area.volumeAtLeast.in("mm3").toFixed(0)} mm³` : "not known",
      chance(area.chance),
    ]),
    notes: ["x and y are those of the places; the area reaches no further than the next place on each side"],
  });
}

/** What the form is made of, a row a term, and what is left. */
export const presentMakeUp = stackPresenter<MakeUp>(
  (makeUp) => [makeUp.toString(), formBars(makeUp), makeUpTable(makeUp)],
  ofSurface,
);

/** The form in plain words, then what the words rest on. */
export const presentFormReading = stackPresenter<FormReading>(
  (reading) => [
    reading.toString(),
    formBars(reading.makeUp),
    makeUpTable(reading.makeUp),
    reading.highs.areas.length > 0 ? areasTable(reading.highs, "Local highs") : undefined,
    reading.lows.areas.length > 0 ? areasTable(reading.lows, "Local lows") : undefined,
  ],
  ({ makeUp }) => ofSurface(makeUp),
);

function makeUpTable(makeUp: MakeUp): Table {
  const rows = [...makeUp.terms, ...makeUp.higher].map((term: FormTerm<"slope"> | FormTerm<"length">) => [
    term.name,
    term.amplitude.text(),
    printDecimals(term.coefficientUm, 2),
    (100 * term.share).toFixed(1),
    chance(term.beyondGauge.p),
    chance(term.beyondUnevenness.p),
  ]);
  const { share, standardDeviationUm } = makeUp.restOfAll;
  return table({
    caption: `What the form of ${makeUp.surface.name} is made of`,
    columns: [
      { heading: "term", align: "left" },
      { heading: "amplitude", align: "left" },
      { heading: "coefficient", unit: "µm", align: "right" },
      { heading: "share of the variance", unit: "%", align: "right" },
      { heading: "chance from the gauge alone", align: "right" },
      { heading: "chance from unevenness", align: "right" },
    ],
    rows,
    foot: [
      [
        "left over",
        `${standardDeviationUm.toFixed(1)} µm (standard deviation)`,
        "–",
        (100 * share).toFixed(1),
        "–",
        "–",
      ],
    ],
    notes: [
      "bow: the middle above the line through the ends, hollow negative; twist: the fourth corner out of the plane of the other three",
      "higher terms by their powers: height of the Legendre product at the far edges, seldom needed",
      "chances of a term this large or larger (F test)",
    ],
  });
}

function chance(p: number): string {
  return p < 0.001 ? "below 0.1 %" : `${(100 * p).toFixed(p < 0.1 ? 1 : 0)} %`;
}

function um1(value: Length | { readonly residualUm: number }): string {
  const um = "residualUm" in value ? value.residualUm : value.in("um");
  return `${printDecimals(um, 1)} µm`;
}
