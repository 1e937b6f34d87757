import { studyBars, studyReadings } from "../figure/index.js";
import { printNumber } from "../quantity/print.js";
import type { GaugeStudy, StudySplit } from "../survey/index.js";
import { figureBundle } from "./figure-bundle.js";
import { stackPresenter } from "./present.js";
import { type Column, type Table, table } from "./table.js";

/** What the study found in one line, its components, the picture, the analysis behind it, the other ways beside it. */
export const presentStudy = stackPresenter<GaugeStudy>(
  (study) => [
    study.toString(),
    splitTable(study, study.chosen),
    figureBundle(studyBars(study)),
    figureBundle(studyReadings(study)),
    anovaTable(study),
    methodsTable(study),
  ],
  ({ name, parts, operators }) => [name, ...parts, ...operators],
);

export const presentSplit = stackPresenter<StudySplit>((split) => [componentsTable(split, split.method, [])]);

function splitTable(study: GaugeStudy, split: StudySplit): Table {
  const groups = Number.isFinite(split.categories)
    ? `${split.categories} groups of ${study.words.part}s can be told apart (1.41 PV/GRR, rounded down); 5 or more are wanted (common practice, no source)`
    : "the gauge shows no scatter of its own";
  return componentsTable(
    split,
    `${study.name}: what makes the readings differ, ${split.method}`,
    [...split.notes, ...study.notes, groups, "percentages of s do not add up to 100, those of the variance do"],
    study.sigmas,
  );
}

function componentsTable(split: StudySplit, caption: string, notes: readonly string[], sigmas?: number): Table {
  const byTolerance = split.components.some(({ percentOfTolerance }) => percentOfTolerance !== undefined);
  const columns: Column[] = [
    { heading: "component", align: "left" },
    { heading: "s", unit: "µm", align: "right" },
    {
      heading: sigmas === undefined ? "spread" : `${sigmas} s`,
      unit: "µm",
      align: "right",
    },
    { heading: "of whole s", unit: "%", align: "right" },
    { heading: "of variance", unit: "%", align: "right" },
    ...(byTolerance ? [{ heading: "of tolerance", unit: "%", align: "right" as const }] : []),
    { heading: "ν", align: "right" },
  ];
  return table({
    caption,
    columns,
    rows: split.components.map((component) => [
      component.name,
      three(component.standardDeviation.in("um")),
      three(component.spread.in("um")),
      component.percentOfVariation.toFixed(1),
      component.percentOfVariance.toFixed(1),
      ...(byTolerance ? [component.percentOfTolerance!.toFixed(1)] : []),
      component.degreesOfFreedom === undefined ? "–" : printNumber(component.degreesOfFreedom, 2),
    ]),
    notes: [...(notes.length > 0 ? notes : split.notes)],
  });
}

function anovaTable({ anova, words, name }: GaugeStudy): Table | undefined {
  if (!anova) return undefined;
  const { parts, operators, interaction, repeats } = anova;
  const tested = [
    [`${words.part}s`, parts],
    [`${words.operator}s`, operators],
    [`${words.operator}s × ${words.part}s`, interaction],
  ] as const;
  return table({
    caption: `${name}: analysis of variance`,
    columns: [
      { heading: "source", align: "left" },
      { heading: "sum of squares", unit: "µm²", align: "right" },
      { heading: "degrees of freedom", align: "right" },
      { heading: "mean square", unit: "µm²", align: "right" },
      { heading: "F", align: "right" },
      { heading: "p", align: "right" },
    ],
    rows: [
      ...tested.map(([source, row]) => [
        source,
        three(row.sumOfSquares),
        row.degreesOfFreedom,
        three(row.meanSquare),
        Number.isFinite(row.f) ? three(row.f) : "∞",
        row.p < 0.001 ? "< 0.001" : row.p.toFixed(3),
      ]),
      ["repeats", three(repeats.sumOfSquares), repeats.degreesOfFreedom, three(repeats.meanSquare), "–", "–"],
    ],
    notes: [
      `${words.part}s and ${words.operator}s are tested against the interaction, the interaction against the repeats`,
    ],
  });
}

function methodsTable({ withInteraction, withoutInteraction, averageAndRange, chosen, name }: GaugeStudy): Table {
  const splits = [withInteraction, withoutInteraction, averageAndRange].filter((split) => split !== undefined);
  const all = splits.length > 0 ? splits : [chosen];
  return table({
    caption: `${name}: the same by other ways`,
    columns: [
      { heading: "way", align: "left" },
      { heading: "EV", unit: "µm" },
      { heading: "AV", unit: "µm" },
      { heading: "GRR", unit: "µm" },
      { heading: "PV", unit: "µm" },
      { heading: "GRR of the whole", unit: "%", align: "right" },
      { heading: "groups told apart", align: "right" },
    ],
    rows: all.map((split) => [
      split === chosen ? `${split.method} (the one used)` : split.method,
      ...(["EV", "AV", "GRR", "PV"] as const).map((key) => {
        const component = split.of(key);
        return component ? three(component.standardDeviation.in("um")) : "–";
      }),
      split.of("GRR")!.percentOfVariation.toFixed(1),
      Number.isFinite(split.categories) ? String(split.categories) : "∞",
    ]),
    notes: ["one standard deviation each"],
  });
}

function three(value: number): string {
  const size = Math.abs(value);
  return size === 0 || (size >= 1e-3 && size < 1000) ? value.toPrecision(3) : printNumber(value, 3);
}
