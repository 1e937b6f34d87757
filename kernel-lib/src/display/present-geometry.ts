import { levelNetwork as levelNetworkFigure } from "../figure/index.js";
import type { CheckedReading, LevelNetwork } from "../form/index.js";
import type { Length, Slope } from "../quantity/index.js";
import { stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** The sentence, the places, the loops, and the readings that need a look. */
export const presentLevelNetwork = stackPresenter<LevelNetwork>((network) => [
  network.toString(),
  levelNetworkFigure(network),
  placesTable(network),
  network.loops.length > 0 ? loopsTable(network) : undefined,
  readingsTable(network),
]);

function placesTable(network: LevelNetwork): Table {
  const { survey, deviationsUm, formName, relative } = network;
  const from = formName === "flatness" ? "least-squares plane" : "least-squares line";
  return table({
    caption: `${survey.name}: places above the ${from}, ${relative}`,
    columns: [
      { heading: "place", align: "left", asWritten: true },
      { heading: "x", unit: "mm", align: "right" },
      { heading: "y", unit: "mm", align: "right" },
      { heading: "height", unit: "µm", align: "right" },
      { heading: "U (95 %)", unit: "µm", align: "right" },
    ],
    rows: survey.places.map(({ label, xMm, yMm }, i) => [
      label,
      fixed(xMm, 0),
      fixed(yMm, 0),
      fixed(deviationsUm[i]!, 1),
      network.deviation(label).expandedUncertainty().in("um").toFixed(1),
    ]),
    notes: [`one reading scatters by s = ${slope(network.spread.standardDeviation)} µm/m (${network.spread.source})`],
  });
}

function loopsTable({ loops, survey }: LevelNetwork): Table {
  return table({
    caption: `${survey.name}: closures`,
    columns: [
      { heading: "loop", align: "left", asWritten: true },
      { heading: "closure", unit: "µm", align: "right" },
      { heading: "standard uncertainty", unit: "µm", align: "right" },
    ],
    rows: loops.map(({ places, closure, standardUncertainty }) => [
      places.length > 4
        ? `${places.slice(0, 3).join(" ")} … ${places.at(-1)} (${places.length} places)`
        : places.join(" "),
      um1(closure),
      um1(standardUncertainty),
    ]),
    notes: ["the zero of the level taken out, steps read several times by their mean"],
  });
}

function readingsTable(network: LevelNetwork): Table {
  const { readings, limit, survey } = network;
  const shown = readings.filter(({ verdict }) => verdict === "stands out");
  const bySize = [...readings].sort((a, b) => (b.times ?? 0) - (a.times ?? 0));
  const rows = [...shown, ...bySize.filter((r) => !shown.includes(r))].slice(0, Math.max(shown.length, 5));
  const blind = network.unchecked.length;
  return table({
    caption: `${survey.name}: readings against what the others say, ${rows.length} of ${readings.length}`,
    columns: [
      { heading: "step", align: "left", asWritten: true },
      { heading: "reading", unit: "µm/m", align: "right" },
      { heading: "off by", unit: "µm/m", align: "right" },
      { heading: "times u", align: "right" },
      { heading: "told from", unit: "µm/m", align: "right" },
      { heading: "verdict", align: "left" },
    ],
    rows: rows.map(readingRow),
    notes: [
      ...(Number.isFinite(limit)
        ? [`a reading stands out above ${limit.toFixed(2)}: one in 20 clean surveys has one`]
        : []),
      blind > 0
        ? `${blind} of ${readings.length} readings can't be checked: the others show less than 0.3 of an error in them`
        : "every reading can be checked by the others",
      "told from: a blunder this large would be found 8 times in 10",
    ],
  });
}

function readingRow(reading: CheckedReading): readonly string[] {
  const { line, from, to, inclination, off, times, smallestFound, verdict, orInstead } = reading;
  return [
    `${line}: ${from} to ${to}`,
    slope(inclination),
    off ? slope(off) : "–",
    times === undefined ? "–" : times.toFixed(2),
    smallestFound ? slope(smallestFound) : "–",
    orInstead.length > 0 ? `${verdict}; or ${orInstead.join(", ")}` : verdict,
  ];
}

/** number of a slope to a hundredth of what shops read: µm/m with one decimal */
function slope(value: Slope): string {
  return fixed(value.in("um/m"), 1);
}

function um1(value: Length): string {
  return fixed(value.in("um"), 1);
}

export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}
