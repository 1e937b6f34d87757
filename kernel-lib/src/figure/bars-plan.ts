import { MeasurementError } from "../measurement-error.js";
import type { FigureTexts } from "./figure.js";
import { figureWidth, frameRoom } from "./frame.js";
import { type FigureCaution, figureLines } from "./options.js";
import { roundUp, type Tick, ticks } from "./ticks.js";
import { wrap } from "./wrap.js";

export interface BarsContent {
  readonly title: string;
  readonly subtitle?: string;
  /** quantity over unit: "share of the variance/%" */
  readonly axis: string;
  /** the first is drawn on top */
  readonly rows: readonly BarRow[];
  /** a line across all bars, such as a tolerance, with its words above it */
  readonly limit?: BarLimit;
  readonly cautions?: readonly FigureCaution[];
  readonly notes?: readonly string[];
}

export interface BarRow {
  readonly label: string;
  /** in the unit of the axis, not below zero */
  readonly value: number;
  /** the value as printed, at the end of its bar: "61 %" */
  readonly text: string;
  /** ends of the interval of the value, drawn as a whisker */
  readonly low?: number;
  readonly high?: number;
}

export interface BarLimit {
  readonly at: number;
  readonly text: string;
}

/** Bars laid out: the live and the still picture are both drawn from this. */
export interface BarsPlan {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly rows: readonly (BarRow & { readonly lines: readonly string[] })[];
  readonly limit: BarLimit | undefined;
  readonly end: number;
  readonly ticks: readonly Tick[];
  readonly height: number;
}

export const barsRoom = { left: 206, right: 70, top: 10, bottom: 44, row: 34 };
export const barColour = "#5f8fb0";

/** where the axis must end for the text behind a bar to stay inside the picture, at about 6.4 px a sign */
function leastEnd(row: BarRow): number {
  const plot = figureWidth - barsRoom.left - barsRoom.right;
  return (reachOf(row) * plot) / Math.max(plot / 3, plot + barsRoom.right - 10 - 6.4 * row.text.length);
}

/** @throws MeasurementError `not-finite` for a value below zero or no number, `no-rows` */
export function planBars(content: BarsContent): BarsPlan {
  const { title, subtitle = "", axis, rows, limit } = content;
  if (rows.length === 0)
    throw new MeasurementError("no-rows", `figure ${title}: no bar to draw; give at least one row`);
  for (const { label, value } of rows) {
    if (Number.isFinite(value) && value >= 0) continue;
    throw new MeasurementError("not-finite", `figure ${title}, bar ${label}: ${value}; give a number not below zero`);
  }
  const largest = Math.max(...rows.map(reachOf), limit?.at ?? 0);
  const end = Math.max(roundUp(largest > 0 ? largest : 1), ...rows.map(leastEnd));
  const marked = [...rows.map(({ text }) => text), ...(limit ? [limit.text] : [])];
  const texts = { title, subtitle, axes: [axis], edges: [], lines: figureLines(content), marked };
  const room = frameRoom(texts);
  return {
    texts,
    alt: `Bars, ${title}, ${axis}: ${rows.map(({ label, text }) => `${label} ${text}`).join("; ")}${limit ? `; line: ${limit.text}` : ""}.`,
    rows: rows.map((row) => ({ ...row, lines: wrap(row.label, 30) })),
    limit,
    end,
    ticks: ticks(0, end, 5),
    height: room.above + topOf(limit) + rows.length * barsRoom.row + barsRoom.bottom + room.below,
  };
}

/** room above the bars, with the words of the limit */
export function topOf(limit: BarLimit | undefined): number {
  return barsRoom.top + (limit ? 16 : 0);
}

/** where a bar or its whisker ends: its words begin there */
export function reachOf({ value, high = value }: BarRow): number {
  return Math.max(value, high);
}
