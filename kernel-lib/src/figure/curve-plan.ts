import type { FigureTexts } from "./figure.js";
import { frameRoom } from "./frame.js";
import { roundStep, type Tick, ticks } from "./ticks.js";

/** A curve with its band, readings and marked moments, laid out: the live and the still picture are both drawn from this. */
export interface CurvePlan {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly points: readonly { readonly x: number; readonly y: number; readonly hover: string }[];
  readonly curves: readonly {
    readonly x: readonly number[];
    readonly y: readonly number[];
    readonly dashed?: boolean;
  }[];
  readonly band: { readonly x: readonly number[]; readonly low: readonly number[]; readonly high: readonly number[] };
  /** upright lines, words beside them */
  readonly marks: readonly { readonly x: number; readonly text: string }[];
  readonly xRange: readonly [number, number];
  readonly yRange: readonly [number, number];
  readonly xTicks: readonly Tick[];
  readonly yTicks: readonly Tick[];
  readonly height: number;
}

export const curveRoom = { left: 66, right: 24, top: 16, bottom: 46, plot: 260 };

/** Everything of a plan but what follows from it. */
export type CurveContent = Omit<CurvePlan, "xRange" | "yRange" | "xTicks" | "yTicks" | "height">;

/** Ranges that hold points, curves, band and marks, with round ticks. */
export function planCurve(content: CurveContent): CurvePlan {
  const { points, curves, band, marks } = content;
  const xs = [...points.map(({ x }) => x), ...curves.flatMap(({ x }) => x), ...marks.map(({ x }) => x)];
  const ys = [...points.map(({ y }) => y), ...curves.flatMap(({ y }) => y), ...band.low, ...band.high];
  const xRange = padded(xs, 0.03);
  const yRange = rounded(ys);
  const room = frameRoom(content.texts);
  return {
    ...content,
    xRange,
    yRange,
    xTicks: ticks(xRange[0], xRange[1], 8),
    yTicks: ticks(yRange[0], yRange[1], 6),
    height: room.above + curveRoom.top + curveRoom.plot + curveRoom.bottom + room.below,
  };
}

function padded(values: readonly number[], share: number): [number, number] {
  const [low, high] = ends(values);
  const pad = share * (high - low || 1);
  return [low - pad, high + pad];
}

function rounded(values: readonly number[]): [number, number] {
  const [low, high] = padded(values, 0.04);
  const step = roundStep(high - low, 6);
  return [Math.floor(low / step) * step, Math.ceil(high / step) * step];
}

function ends(values: readonly number[]): [number, number] {
  return [values.reduce((a, b) => Math.min(a, b)), values.reduce((a, b) => Math.max(a, b))];
}
