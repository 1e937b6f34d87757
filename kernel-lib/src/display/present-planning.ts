import { planMap } from "../figure/index.js";
import { printNumber } from "../quantity/print.js";
import type { NextPlaces, SurveyPlan } from "../survey/index.js";
import { durationText } from "../survey/plan.js";
import { figureBundle } from "./figure-bundle.js";
import { stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** The plan in one line, where it goes, what it can be expected to tell, number of points against time. */
export const presentPlan = stackPresenter<SurveyPlan>(
  (plan) => [plan.toString(), figureBundle(planMap(plan)), expectedTable(plan), choicesTable(plan)],
  ({ title }) => [title],
);

export const presentNextPlaces = stackPresenter<NextPlaces>((next) => [
  next.places.length === 0
    ? `where next on ${next.name}: nowhere in particular, the map is even`
    : table({
        caption: `Where the next reading would tell most, ${next.name}`,
        columns: [
          { heading: "", align: "right" },
          { heading: "place", align: "left" },
          { heading: "x", unit: "mm", align: "right" },
          { heading: "y", unit: "mm", align: "right" },
          { heading: "why", align: "left" },
        ],
        rows: next.places.map(({ label, xMm, yMm, reason }, i) => [i + 1, label ?? "new", xMm, yMm, reason]),
        notes: ["a new place may lie over a slot or a hole: move it to the nearest land and write down where"],
      }),
]);

function expectedTable(plan: SurveyPlan): Table {
  const { expected, detection, smallestDefect, gauge } = plan;
  const micrometres = (value: number) => `${printNumber(value, 2)} µm`;
  return table({
    caption: `${plan.title}: what it can be expected to tell`,
    columns: [
      { heading: "what", align: "left" },
      { heading: "expected", align: "left" },
    ],
    rows: [
      ["scatter of one reading", `${micrometres(expected.repeatability.in("um"))}, ${expected.repeatabilitySource}`],
      ["standard uncertainty of one height", micrometres(expected.place.in("um"))],
      [
        "a place counts as high or low from",
        `${micrometres(expected.limit.in("um"))} (95 % for all ${plan.places.length} places together)`,
      ],
      [
        "U of the flatness (k = 2)",
        `${micrometres(expected.flatness.in("um"))}, of it the gauge's own error ± ${gauge.maximumPermissibleError.text("um")}; drift not in it`,
      ],
      ["scatter alone adds to the flatness", micrometres(expected.bias.in("um"))],
      ...(detection && smallestDefect
        ? [
            [
              `chance to miss a defect of ${smallestDefect.diameter.text("mm")}`,
              `${printNumber(100 * detection.missChance, 2)} % where it can be seen over ${printNumber(detection.diameter.in("mm"), 3)} mm`,
            ],
          ]
        : []),
      [
        "returns to the datums",
        `${plan.readings.at(-1)?.visit ?? 0}, at ${plan.datums.length} places read three times`,
      ],
    ],
    notes: plan.notes,
  });
}

function choicesTable(plan: SurveyPlan): Table {
  const misses = plan.detection !== undefined;
  return table({
    caption: "Number of places against time",
    columns: [
      { heading: "widest spacing", unit: "mm", align: "right" },
      { heading: "places", align: "right" },
      { heading: "readings", align: "right" },
      { heading: "time", align: "right" },
      ...(misses ? [{ heading: "chance of a miss", unit: "%", align: "right" as const }] : []),
      { heading: "high from", unit: "µm", align: "right" },
    ],
    rows: plan
      .choices()
      .map((choice) => [
        choice.pitch.in("mm").toFixed(0),
        choice.places,
        choice.readings,
        durationText(choice.time),
        ...(misses ? [printNumber(100 * (choice.missChance ?? 0), 2)] : []),
        printNumber(choice.limit.in("um"), 2),
      ]),
  });
}
