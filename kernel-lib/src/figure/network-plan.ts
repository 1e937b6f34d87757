import type { CheckedReading, LevelNetwork } from "../form/index.js";
import { printDecimals } from "../quantity/print.js";
import { facingOf } from "../survey/plan-outline.js";
import { counted } from "../words.js";
import { colourAt, heightScale } from "./colour.js";
import { softInk } from "./frame.js";
import { figureLines, type MapOptions } from "./options.js";
import { layOutContent, type PlanLayout } from "./plan-layout.js";
import { type PrintUnits, scaleText } from "./print-units.js";
import { restated } from "./restated.js";
import { roundUp } from "./ticks.js";

type Spot = readonly [u: number, v: number];

export type NetworkOptions = Pick<MapOptions, "title" | "limitUm" | "cautions" | "notes">;

/** of a step: fits, can't be checked, stands out */
export const stepLooks = {
  fits: { colour: softInk, width: 1, dash: "solid", dashes: "" },
  "can't be checked": { colour: softInk, width: 1, dash: "dot", dashes: "1.5 3.5" },
  "stands out": { colour: "#a8480f", width: 4, dash: "solid", dashes: "" },
} as const;

/** A step between two places, drawn once however often it was read. */
export interface NetworkStep {
  readonly from: Spot;
  readonly to: Spot;
  /** the most doubtful of its readings */
  readonly look: CheckedReading["verdict"];
  /** beside the step where a reading stands out, "" elsewhere */
  readonly mark: string;
  readonly hover: string;
}

/** A level network laid out: the live and the still picture are both drawn from this. */
export interface NetworkPlan {
  readonly base: PlanLayout;
  readonly steps: readonly NetworkStep[];
  readonly closures: readonly { readonly at: Spot; readonly mark: string; readonly hover: string }[];
  /** of the places, by their heights */
  readonly colours: readonly string[];
  /** on which side of each place its figure stands */
  readonly sides: readonly MarkSide[];
}

/** to the right and up, and so on */
export type MarkSide = readonly [right: 1 | -1, up: 1 | -1];

export function planNetwork(network: LevelNetwork, options: NetworkOptions, units: PrintUnits): NetworkPlan {
  const { survey, deviationsUm } = network;
  const { places } = survey;
  const print = (um: number) => printDecimals(units.height.of(Number(um.toFixed(1))), 1 + units.height.moreDecimals);
  const base = layOutContent(
    {
      title: options.title ?? `Level network: ${survey.name}`,
      subtitle: `heights above the least-squares plane, ${network.relative}, in ${units.height.symbol}; lines: steps read; in brackets: how far the rises round the loop miss zero, in ${units.height.symbol}`,
      alt: `Network of ${places.length} places joined by level readings, ${survey.name}: ${restated(network.checkText(), units.system)}.`,
      facing: facingOf(survey.frame),
      rim: false,
      outline: { table: extentOf(places), travel: {}, slots: [], holes: [], obstacles: [] },
      places: places.map((place, i) => ({ ...place, label: print(deviationsUm[i]!) })),
      datums: [],
      visits: [],
      lines: figureLines({ ...options, notes: [...linesOf(network, units), ...(options.notes ?? [])] }),
    },
    units,
  );
  const at = new Map(places.map(({ label }, i) => [label, base.places[i]!.at]));
  const steps = stepsOf(network, at, units);
  const closures = network.loops.map(({ places: round, closure, standardUncertainty }) => ({
    at: roomFor(`(${print(closure.in("um"))})`, middleOf(round.map((label) => at.get(label)!)), base),
    mark: `(${print(closure.in("um"))})`,
    hover: `${round.length} places, closure ${scaleText(units.height, closure.in("um"), 1)}, u ${scaleText(units.height, standardUncertainty.in("um"), 1)}`,
  }));
  const limit = options.limitUm ?? roundUp(Math.max(1e-3, ...deviationsUm.map(Math.abs)));
  const marked = [...base.texts.marked, ...closures.map(({ mark }) => mark), ...steps.map(({ mark }) => mark)];
  return {
    base: { ...base, texts: { ...base.texts, marked: marked.filter((text) => text !== "") } },
    steps,
    sides: base.places.map((place) => freeSide(place, steps, base)),
    closures,
    colours: deviationsUm.map((um) => colourAt(heightScale, (um / limit + 1) / 2)),
  };
}

/** what the test of the readings says, how sure a place is, and what the lines mean */
function linesOf(network: LevelNetwork, units: PrintUnits): string[] {
  const { survey, suspects, unchecked } = network;
  const doubts = survey.places.map(({ label }) => network.deviation(label).expandedUncertainty().in("um"));
  return [
    restated(network.checkText(), units.system),
    `U of one place up to ${scaleText(units.height, Math.max(...doubts), 1)} (95 %)`,
    ...(suspects.length > 0 ? ["thick: a reading of the step stands out from what the others say"] : []),
    ...(unchecked.length > 0 ? ["dotted: a reading of the step can't be checked by the others"] : []),
  ];
}

const doubtful = ["fits", "can't be checked", "stands out"] as const;

function stepsOf(network: LevelNetwork, at: ReadonlyMap<string, Spot>, units: PrintUnits): NetworkStep[] {
  const groups = new Map<string, CheckedReading[]>();
  for (const reading of network.readings) {
    const key = [reading.from, reading.to].sort().join(" | ");
    groups.set(key, [...(groups.get(key) ?? []), reading]);
  }
  const slope = (reading: CheckedReading) =>
    restated(`${printDecimals(reading.off!.in("um/m"), 0)} µm/m`, units.system);
  return [...groups.values()].map((readings) => {
    const worst = readings.reduce((a, b) => (doubtful.indexOf(b.verdict) > doubtful.indexOf(a.verdict) ? b : a));
    const off = worst.verdict === "stands out" ? `off by ${slope(worst)}` : "";
    return {
      from: at.get(worst.from)!,
      to: at.get(worst.to)!,
      look: worst.verdict,
      mark: off,
      hover: `line ${worst.line}, ${worst.from} to ${worst.to}: ${counted(readings.length, "reading")}, ${off === "" ? worst.verdict : off}`,
    };
  });
}

function middleOf(spots: readonly Spot[]): Spot {
  const mean = (k: 0 | 1) => spots.reduce((s, spot) => s + spot[k], 0) / spots.length;
  return [mean(0), mean(1)];
}

const markSides: readonly MarkSide[] = [
  [1, 1],
  [-1, 1],
  [1, -1],
  [-1, -1],
];

/** the first side of a place on which no step runs through its figure; right and up where none is free */
function freeSide(
  { at, mark }: PlanLayout["places"][number],
  steps: readonly NetworkStep[],
  base: PlanLayout,
): MarkSide {
  const perUnit = base.box.width / (base.u.range[1] - base.u.range[0]);
  const away = ([u, v]: Spot): Spot => [(u - at[0]) * perUnit, (v - at[1]) * perUnit];
  const lines = steps.map(({ from, to }) => [away(from), away(to)] as const);
  const passes = ([right, up]: MarkSide) =>
    lines.some(([[a, b], [c, d]]) =>
      Array.from({ length: 101 }, (_, i): Spot => [a + (i / 100) * (c - a), b + (i / 100) * (d - b)]).some(
        ([x, y]) => right * x > 4 && right * x < 6 + 6.2 * mark.length && up * y > 4 && up * y < 15,
      ),
    );
  return markSides.find((side) => !passes(side)) ?? [1, 1];
}

/** where a figure of a loop does not touch those of the places: its middle, or a line or two above or below it */
function roomFor(mark: string, [u, v]: Spot, { places, box, u: across }: PlanLayout): Spot {
  const perUnit = box.width / (across.range[1] - across.range[0]);
  const half = (text: string) => 2.9 * text.length + 2;
  const clashes = (tried: number) =>
    places.some(({ at, mark: other }) => {
      const right = (at[0] - u) * perUnit + 5 + half(other);
      return Math.abs(right) < half(mark) + half(other) && Math.abs((at[1] - tried) * perUnit + 9) < 12;
    });
  const tries = [0, -7, 7, -14, 14, -21, 21].map((pixels) => v + pixels / perUnit);
  return [u, tries.find((tried) => !clashes(tried)) ?? v];
}

/** the places with room about them */
function extentOf(places: LevelNetwork["survey"]["places"]) {
  const [xs, ys] = [places.map(({ xMm }) => xMm), places.map(({ yMm }) => yMm)];
  const long = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
  const span = (list: readonly number[]) => ({
    fromMm: Math.min(...list) - 0.06 * long,
    toMm: Math.max(...list) + 0.06 * long,
  });
  return { x: span(xs), y: span(ys) };
}
