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
  const y = padded(ys, 0.06);
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

function padded(values: readonly number[], part: number): readonly [number, number] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const margin = high > low ? part * (high - low) : Math.max(1, Math.abs(high) * part);
  return [low - margin, high + margin];
}
