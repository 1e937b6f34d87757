import type { Surface } from "../survey/surface.js";
import type { ColourScale } from "./colour.js";
import type { FigureTexts } from "./figure.js";
import { figureWidth, frameRoom } from "./frame.js";
import { type MapField, type SheetField, turnedField } from "./map-field.js";
import { figureLines, heightDecimals, type MapOptions, type Outline } from "./options.js";
import { type PrintUnits, scaleNumber } from "./print-units.js";
import { restated } from "./restated.js";
import { type Sheet, sheetOf } from "./sheet.js";
import { roundStep, type Tick, ticks } from "./ticks.js";
import { along, type View, type ViewPlace, viewOf } from "./view.js";

type Span = readonly [from: number, to: number];

/** What a map is to show. */
export interface MapInput {
  readonly surface: Surface;
  /** heights in µm, one a place */
  readonly values: readonly number[];
  readonly titles: readonly [title: string, subtitle: string];
  /** "height", "u" */
  readonly quantity: string;
  readonly scale: ColourScale;
  /** of the colours, in print units */
  readonly span: Span;
  readonly options: MapOptions;
  readonly units: PrintUnits;
  /** what lies between the places, in place of straight lines */
  readonly field?: SheetField;
  /** of the figures at the places; by the noise of the map where left out */
  readonly decimals?: number;
  /** of colour over the span, about so many; 12 where left out */
  readonly bands?: number;
}

/** A map laid out: the live and the still picture are both drawn from this. */
export interface MapPlan {
  readonly sheet: Sheet;
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly scale: ColourScale;
  readonly span: Span;
  readonly step: number;
  /** where the lowest band begins: at the end of the span, or half a band beyond it where a map of nothing but zeros is neutral */
  readonly lowest: number;
  readonly barTicks: readonly Tick[];
  readonly u: MapAxis;
  readonly v: MapAxis;
  readonly outlines: readonly { readonly dash: number; readonly corners: readonly Span[] }[];
  /** text at each place, "" where it would not fit */
  readonly marks: readonly string[];
  /** of their letters, px: smaller where places lie close */
  readonly markSize: number;
  readonly hover: readonly string[];
  readonly box: Box;
  readonly height: number;
  readonly field: MapField | undefined;
}

export interface MapAxis {
  readonly title: string;
  readonly range: Span;
  readonly ticks: readonly Tick[];
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** room beside the plot's box, for ticks, titles, edge names and the colour bar */
export const mapRoom = { left: 78, right: 112, top: 24, bottom: 58 };
/** with more places than this their dots would hide the picture; only the highest and the lowest are marked */
export const mostDots = 600;
export const dashNames = ["dashed", "dotted", "dash-dotted"];

export function planMap(given: MapInput): MapPlan {
  const { surface, options, units } = given;
  const subtitle = restated(given.titles[1], units.system, [surface.name]);
  const input: MapInput = { ...given, titles: [given.titles[0], subtitle] };
  const view = viewOf(surface, input.values, units);
  const sheet = sheetOf(view.places, surface.name);
  const outlines = (options.outlines ?? []).map((outline, i) => turned(outline, view, i, units));
  const { box, u, v } = axesOf(
    view,
    outlines.flatMap(({ corners }) => corners),
  );
  const { decimals = heightDecimals(surface) } = input;
  const values = input.values.map((um) => scaleNumber(units.height, um, decimals));
  const { marks, markSize } = marksThatFit(view.places, values, box.width / (u[1] - u[0]));
  const shown = marks.filter((text) => text !== "");
  const axes = [
    `${view.across.name}/${units.place.symbol}`,
    `${view.away.name}/${units.place.symbol}`,
    `${input.quantity}/${units.height.symbol}`,
  ];
  const texts: FigureTexts = {
    title: input.titles[0],
    subtitle,
    axes,
    edges: ["FRONT", "BACK", "LEFT", "RIGHT"],
    lines: [...figureLines(options), ...(options.outlines ?? []).map(({ name }, i) => `${dashName(i)}: ${name}`)],
    marked: shown,
  };
  const room = frameRoom(texts);
  const [low, high] = input.span;
  const step = roundStep(high - low, input.bands ?? 12);
  return {
    sheet,
    texts,
    alt: altOf(input, view.places, values),
    scale: input.scale,
    span: input.span,
    step,
    // zero parts two bands; where nothing is on either side of it, it is the middle of one
    lowest: low < 0 && input.values.every((value) => Math.abs(value) <= 1e-9 * step) ? low - step / 2 : low,
    barTicks: ticks(low, high, 5),
    u: { title: axes[0]!, range: u, ticks: ticks(u[0], u[1], 8, view.across.sign) },
    v: { title: axes[1]!, range: v, ticks: ticks(v[0], v[1], Math.max(2, box.height / 50), view.away.sign) },
    outlines,
    marks,
    markSize,
    hover: view.places.map(({ label, where }, i) => `${label}: ${where}, ${values[i]} ${units.height.symbol}`),
    box: { ...box, top: room.above + mapRoom.top },
    height: room.above + mapRoom.top + box.height + mapRoom.bottom + room.below,
    field: input.field && turnedField(input.field, view, units),
  };
}

function dashName(i: number): string {
  return dashNames[i % dashNames.length]!;
}

function turned({ cornersMm }: Outline, view: View, i: number, { place }: PrintUnits): MapPlan["outlines"][number] {
  const corners = cornersMm.map(([xMm, yMm]): Span => {
    const own = { x: place.of(xMm), y: place.of(yMm) };
    return [along(view.across, own), along(view.away, own)];
  });
  return { dash: i % dashNames.length, corners };
}

/** One scale both ways, whatever the shape of the map; a slim one gets more paper, not another scale. */
function axesOf(view: View, corners: readonly Span[]): { box: Omit<Box, "top">; u: Span; v: Span } {
  const us = [...view.places.map(({ u }) => u), ...corners.map(([u]) => u)];
  const vs = [...view.places.map(({ v }) => v), ...corners.map(([, v]) => v)];
  const longest = Math.max(Math.max(...us) - Math.min(...us), Math.max(...vs) - Math.min(...vs));
  const u = padded(us, longest * 0.045);
  const v = padded(vs, longest * 0.045);
  const width = figureWidth - mapRoom.left - mapRoom.right;
  const perUnit = Math.min(width / (u[1] - u[0]), 520 / (v[1] - v[0]));
  const height = Math.round(Math.max(130, perUnit * (v[1] - v[0])));
  return {
    box: { left: mapRoom.left, width, height },
    u: widened(u, width / perUnit),
    v: widened(v, height / perUnit),
  };
}

function padded(values: readonly number[], by: number): Span {
  return [Math.min(...values) - by, Math.max(...values) + by];
}

function widened([from, to]: Span, span: number): Span {
  const more = (span - (to - from)) / 2;
  return [from - more, to + more];
}

/** sizes of letters that are tried, px */
const markSizes = [10, 9, 8.5];

/** width of a figure in letters of a size, in a wide type, px */
function widthOf(text: string, size: number): number {
  const parts = Array.from(text, (sign) => (sign === "−" ? 0.84 : /[.,]/.test(sign) ? 0.32 : 0.64));
  return size * parts.reduce((sum, part) => sum + part, 0);
}

/** The figure at every place where there is room for all of them, otherwise at the highest and the lowest place. */
function marksThatFit(
  places: readonly ViewPlace[],
  values: readonly string[],
  perUnit: number,
): { readonly marks: readonly string[]; readonly markSize: number } {
  const clashAt = (size: number): boolean => {
    const widths = values.map((text) => widthOf(text, size));
    return places.some((a, i) =>
      places.some(
        (b, j) =>
          j < i &&
          Math.abs(a.u - b.u) * perUnit < (widths[i]! + widths[j]!) / 2 + 2 &&
          Math.abs(a.v - b.v) * perUnit < size + 4,
      ),
    );
  };
  const markSize = markSizes.find((size) => !clashAt(size));
  if (markSize !== undefined) return { marks: values, markSize };
  const [low, high] = extremes(places);
  const marks = values.map((text, i) => (i === low || i === high ? `${places[i]!.label}: ${text}` : ""));
  return { marks, markSize: markSizes[0]! };
}

/** Indices of the lowest and of the highest place. */
export function extremes(places: readonly ViewPlace[]): readonly [low: number, high: number] {
  const by = (better: (a: number, b: number) => boolean): number =>
    places.reduce((best, { value }, i) => (better(value, places[best]!.value) ? i : best), 0);
  return [by((a, b) => a < b), by((a, b) => a > b)];
}

function altOf({ surface, titles, units }: MapInput, places: readonly ViewPlace[], values: readonly string[]): string {
  const [low, high] = extremes(places);
  return (
    `Map of ${places.length} places, ${titles[0]}, ${titles[1]}: from ${values[low]} ${units.height.symbol} at ${places[low]!.label} ` +
    `to ${values[high]} ${units.height.symbol} at ${places[high]!.label}; FRONT is the edge ${surface.frame.front.replace("-", "−")}.`
  );
}
