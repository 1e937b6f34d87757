import { printNumber } from "../quantity/print.js";
import type { Surface } from "../survey/surface.js";
import type { FigureTexts } from "./figure.js";
import { figureWidth, frameRoom } from "./frame.js";
import { extremes, type MapAxis } from "./map-plan.js";
import { figureLines, heightDecimals, heightTitles, type MapOptions } from "./options.js";
import { type PrintUnits, scaleNumber } from "./print-units.js";
import { seenBox } from "./projection.js";
import { spanOf } from "./raster.js";
import { type Sheet, sheetOf } from "./sheet.js";
import { type Tick, ticks } from "./ticks.js";
import { type View, viewOf } from "./view.js";

/** A surface laid out: the live and the still picture are both drawn from this. */
export interface SurfacePlan {
  readonly sheet: Sheet;
  readonly texts: FigureTexts;
  readonly alt: string;
  /** colours run from minus to plus this height, in print units */
  readonly limit: number;
  readonly exaggeration: number;
  readonly u: MapAxis;
  readonly v: MapAxis;
  readonly z: MapAxis;
  readonly barTicks: readonly Tick[];
  /** the places whose figures stand in the picture */
  readonly marks: readonly { readonly place: number; readonly text: string }[];
  readonly hover: readonly string[];
  /** so many places that points and stems would hide the skin: it is drawn alone */
  readonly isDense: boolean;
  readonly height: number;
  /** height of the picture proper */
  readonly scene: number;
  /** pixels a millimetre or inch of the table */
  readonly perUnit: number;
}

/** most places that are drawn one by one */
const most = 600;

/** room round the axes' box, for ticks, titles, edge names, marked figures and the colour bar */
export const sceneRoom = { left: 66, right: 118, top: 40, bottom: 62 };

export function planSurface(
  surface: Surface,
  valuesUm: readonly number[],
  limit: number,
  options: MapOptions,
  units: PrintUnits,
): SurfacePlan {
  const view = viewOf(surface, valuesUm, units);
  const values = view.places.map(({ value }) => value);
  const sheet = sheetOf(view.places, surface.name);
  const z = heightSpan(values, limit, options.limitUm !== undefined);
  const exaggeration = exaggerationFor(view, z);
  const printed = valuesUm.map((um) => scaleNumber(units.height, um, heightDecimals(surface)));
  const [low, high] = extremes(view.places);
  const marks = [high, low].map((place) => ({
    place,
    text: `${view.places[place]!.label}: ${printed[place]} ${units.height.symbol}`,
  }));
  const texts = textsOf(
    surface,
    options,
    view,
    units,
    exaggeration,
    marks.map(({ text }) => text),
  );
  const room = frameRoom(texts);
  const span = (axis: "u" | "v"): readonly [number, number] => padded(spanOf(view.places.map((place) => place[axis])));
  const seen = seenBox({ u: { range: span("u") }, v: { range: span("v") }, z: { range: z }, exaggeration });
  const perUnit = (figureWidth - sceneRoom.left - sceneRoom.right) / (seen.x[1] - seen.x[0]);
  const scene = Math.round(perUnit * (seen.y[1] - seen.y[0]) + sceneRoom.top + sceneRoom.bottom);
  return {
    sheet,
    texts,
    alt:
      `Surface of ${values.length} places seen from FRONT, ${texts.title}, ${texts.subtitle}: highest ${marks[0]!.text}, ` +
      `lowest ${marks[1]!.text}; FRONT is the edge ${surface.frame.front.replace("-", "−")}.`,
    limit,
    exaggeration,
    u: { title: texts.axes[0]!, range: span("u"), ticks: ticks(...span("u"), 6, view.across.sign) },
    v: { title: texts.axes[1]!, range: span("v"), ticks: ticks(...span("v"), 3, view.away.sign) },
    z: { title: texts.axes[2]!, range: z, ticks: heightTicks(z) },
    barTicks: ticks(-limit, limit, 5),
    marks,
    hover: view.places.map(({ label, where }, i) => `${label}: ${where}, ${printed[i]} ${units.height.symbol}`),
    isDense: values.length > most,
    height: room.above + scene + room.below,
    scene,
    perUnit,
  };
}

function textsOf(
  surface: Surface,
  options: MapOptions,
  view: View,
  { place, height }: PrintUnits,
  times: number,
  marked: readonly string[],
): FigureTexts {
  const exaggeration = `heights × ${printNumber(times)}`;
  const [title, subtitle] = heightTitles(surface, options, [exaggeration]);
  return {
    title,
    subtitle,
    exaggeration,
    axes: [`${view.across.name}/${place.symbol}`, `${view.away.name}/${place.symbol}`, `height/${height.symbol}`],
    edges: ["FRONT", "BACK", "LEFT", "RIGHT"],
    lines: [
      ...figureLines(options),
      ...(view.places.length > most
        ? [`${view.places.length} places: the skin over them is drawn, not each of them`]
        : []),
    ],
    marked,
  };
}

/** The heights and zero, or the whole of the limits where two pictures are to be compared. */
function heightSpan(values: readonly number[], limit: number, whole: boolean): readonly [number, number] {
  return padded(
    whole ? [-limit, limit] : spanOf([...values, 0, ...(values.some((value) => value !== 0) ? [] : [limit])]),
  );
}

/** The foot of the axis is left free: the ticks of the long axis stand there. */
function heightTicks([low, high]: readonly [number, number]): readonly Tick[] {
  return ticks(low + 0.1 * (high - low), high, 2);
}

/** A little more on both sides, so that nothing lies on the rim itself. */
function padded([from, to]: readonly [number, number]): readonly [number, number] {
  const more = 0.02 * (to - from);
  return [from - more, to + more];
}

/** A round factor (1, 2 or 5 times a power of ten) that draws the heights about a quarter as tall as the map is long. */
function exaggerationFor(view: View, [low, high]: readonly [number, number]): number {
  const [u0, u1] = spanOf(view.places.map(({ u }) => u));
  const [v0, v1] = spanOf(view.places.map(({ v }) => v));
  const wanted = (0.3 * Math.max(u1 - u0, v1 - v0)) / ((high - low) / 1000);
  const power = 10 ** Math.floor(Math.log10(wanted));
  const lead = [5, 2, 1].find((step) => step * power <= wanted * (1 + 1e-9)) ?? 1;
  return Number((lead * power).toPrecision(3));
}
