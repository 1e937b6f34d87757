import type { FigureTexts } from "./figure.js";
import { figureWidth, frameRoom } from "./frame.js";
import { type Tick, ticks } from "./ticks.js";

export interface XyPoint {
  readonly x: number;
  readonly y: number;
  readonly hover: string;
  /** ends of the band at this place */
  readonly low?: number;
  readonly high?: number;
}

/** Values against a coordinate: a line, signs, a band, in any mixture. */
export interface XySeries {
  readonly points: readonly XyPoint[];
  readonly sign: "up" | "down" | "circle" | "none";
  readonly colour: string;
  readonly line: "solid" | "dash" | "none";
  readonly band: boolean;
}

/** A figure drawn where it arises: a span of heights with its words. */
export interface XyBracket {
  readonly from: number;
  readonly to: number;
  /** beside the plot, in columns from 0; else at a coordinate, moved to one side */
  readonly beside?: number;
  readonly x?: number;
  readonly side?: -1 | 1;
  /** where the words of a bracket at a coordinate stand, clear of all that is drawn there */
  readonly words?: "above" | "below";
  readonly label: string;
}

/** Values against a coordinate laid out: the live and the still picture are both drawn from this. */
export interface XyPlan {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly series: readonly XySeries[];
  readonly brackets: readonly XyBracket[];
  readonly xRange: readonly [number, number];
  readonly yRange: readonly [number, number];
  readonly xTicks: readonly Tick[];
  readonly yTicks: readonly Tick[];
  readonly box: { readonly left: number; readonly top: number; readonly width: number; readonly height: number };
  readonly height: number;
}

/** Where the words of a bracket at a coordinate stand: the height they keep clear of, and which end of them is at the bracket. */
export interface BracketWords {
  readonly x: number;
  readonly y: number;
  readonly side: "above" | "below";
  readonly anchor: "start" | "middle" | "end";
}

export interface XyContent {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly series: readonly XySeries[];
  readonly brackets?: readonly XyBracket[];
  /** heights that the axis must reach besides those drawn */
  readonly yRange?: readonly [number, number];
}

export const xyRoom = { left: 66, right: 24, top: 14, bottom: 46, column: 30, plot: 280 };
/** how far from its coordinate a bracket stands, in parts of the span of x */
export const aside = 0.012;

export function planXy({ texts, alt, series, brackets = [], yRange }: XyContent): XyPlan {
  const points = series.flatMap((one) => one.points);
  const xs = points.map(({ x }) => x);
  const ys = [
    ...points.flatMap(({ y, low = y, high = y }) => [y, low, high]),
    ...brackets.flatMap(({ from, to }) => [from, to]),
    ...(yRange ?? []),
  ];
  const columns = Math.max(0, ...brackets.map(({ beside = -1 }) => beside + 1));
  const room = frameRoom(texts);
  const box = {
    left: xyRoom.left,
    top: room.above + xyRoom.top,
    width: figureWidth - xyRoom.left - xyRoom.right - columns * xyRoom.column,
    height: xyRoom.plot,
  };
  const x = padded(xs, 0.04);
  const drawn = { series, xRange: x, box };
  const words = brackets.filter(({ beside }) => beside === undefined).map((bracket) => wordsOf(bracket, drawn));
  const y = yRange ? padded(ys, 0.06) : withRoomFor(words, padded(ys, 0.06));
  return {
    texts,
    alt,
    series,
    brackets,
    xRange: x,
    yRange: y,
    xTicks: ticks(x[0], x[1], Math.max(4, Math.round(box.width / 75))),
    yTicks: ticks(y[0], y[1], 6),
    box,
    height: box.top + box.height + xyRoom.bottom + room.below,
  };
}

/** Coordinate of a bracket that does not stand beside the plot. */
export function bracketX({ x = 0, side = 1 }: XyBracket, { xRange }: Pick<XyPlan, "xRange">): number {
  return x + side * aside * (xRange[1] - xRange[0]);
}

/** Words above or below all that is drawn as far as they reach, and inside the plot at its two ends. */
export function wordsOf(bracket: XyBracket, plan: Pick<XyPlan, "series" | "xRange" | "box">): BracketWords {
  const { label, from, to, words: side = "above" } = bracket;
  const [low, high] = plan.xRange;
  const x = bracketX(bracket, plan);
  const half = ((high - low) * 3.2 * label.length) / plan.box.width;
  const anchor = x - half < low ? "start" : x + half > high ? "end" : "middle";
  const reach = [
    x - (anchor === "start" ? 0 : half * (anchor === "end" ? 2 : 1)),
    x + (anchor === "end" ? 0 : half * (anchor === "start" ? 2 : 1)),
  ] as const;
  const drawn = plan.series.flatMap((series) => heightsWithin(series, reach));
  const y = side === "above" ? Math.max(from, to, ...drawn) : Math.min(from, to, ...drawn);
  return { x, y, side, anchor };
}

/** what a series shows between two coordinates: its points there, and where its lines cross the two ends */
function heightsWithin({ points }: XySeries, [from, to]: readonly [number, number]): number[] {
  const heights = (p: XyPoint, q: XyPoint, part: number) =>
    (["y", "low", "high"] as const).map((key) => {
      const [a, b] = [p[key] ?? p.y, q[key] ?? q.y];
      return a + part * (b - a);
    });
  return points.flatMap((p, i) => {
    const next = points[i + 1];
    const own = p.x >= from && p.x <= to ? heights(p, p, 0) : [];
    if (!next) return own;
    const crossed = [from, to].filter((at) => (p.x - at) * (next.x - at) < 0);
    return [...own, ...crossed.flatMap((at) => heights(p, next, (at - p.x) / (next.x - p.x)))];
  });
}

/** what a line of words takes beyond the height it keeps clear of, px */
const wordsRoom = 26;

/** a range in which words above and below what is drawn do not meet the axes */
function withRoomFor(
  words: readonly BracketWords[],
  [low, high]: readonly [number, number],
): readonly [number, number] {
  const part = wordsRoom / xyRoom.plot;
  const floor = words.filter(({ side }) => side === "below").map(({ y }) => (y - part * high) / (1 - part));
  const from = Math.min(low, ...floor);
  const ceiling = words.filter(({ side }) => side === "above").map(({ y }) => (y - part * from) / (1 - part));
  return [from, Math.max(high, ...ceiling)];
}

function padded(values: readonly number[], part: number): readonly [number, number] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const margin = high > low ? part * (high - low) : Math.max(1, Math.abs(high) * part);
  return [low - margin, high + margin];
}
