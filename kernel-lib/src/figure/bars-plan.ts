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
  /** the words of a bar stand under its name: beside it a limit would cross them */
  readonly wordsUnderName: boolean;
  /** px: of a row, and beside the plot on its right */
  readonly row: number;
  readonly right: number;
  readonly limit: BarLimit | undefined;
  readonly end: number;
  readonly ticks: readonly Tick[];
  readonly height: number;
}

export const barsRoom = { left: 206, top: 10, bottom: 44 };
const lineRoom = 14;
export const barColour = "#3f7399";

/** room on the right for words beside a bar, and without them */
const besideRoom = 70;
const plainRoom = 24;

/** where the axis must end for the text behind a bar to stay inside the picture, at about 6.4 px a sign */
function leastEnd(row: BarRow): number {
  const plot = figureWidth - barsRoom.left - besideRoom;
  return (reachOf(row) * plot) / Math.max(plot / 3, plot + besideRoom - 10 - 6.4 * row.text.length);
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
  const under = limit !== undefined;
  const end = Math.max(roundUp(largest > 0 ? largest : 1), ...(under ? [] : rows.map(leastEnd)));
  const named = rows.map((row) => ({ ...row, lines: [...wrap(row.label, 30), ...(under ? [row.text] : [])] }));
  const row = Math.max(34, lineRoom * Math.max(...named.map(({ lines }) => lines.length)) + 10);
  const marked = [...rows.map(({ text }) => text), ...(limit ? [limit.text] : [])];
  const texts = { title, subtitle, axes: [axis], edges: [], lines: figureLines(content), marked };
  const room = frameRoom(texts);
  return {
    texts,
    alt: `Bars, ${title}, ${axis}: ${rows.map(({ label, text }) => `${label} ${text}`).join("; ")}${limit ? `; line: ${limit.text}` : ""}.`,
    rows: named,
    wordsUnderName: under,
    row,
    right: under ? plainRoom : besideRoom,
    limit,
    end,
    ticks: ticks(0, end, 5),
    height: room.above + topOf(limit) + rows.length * row + barsRoom.bottom + room.below,
  };
}

/** room above the bars, with the words of the limit */
export function topOf(limit: BarLimit | undefined): number {
  return barsRoom.top + (limit ? 16 : 0);
}

/** the words of a limit far to the right end at its line, others stand in the middle over it */
export function limitWordsEnd({ limit, end }: BarsPlan): boolean {
  return limit !== undefined && limit.at > 0.7 * end;
}

/** where a bar or its whisker ends: its words begin there */
export function reachOf({ value, high = value }: BarRow): number {
  return Math.max(value, high);
}
