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
  readonly cautions?: readonly FigureCaution[];
  readonly notes?: readonly string[];
}

export interface BarRow {
  readonly label: string;
  /** in the unit of the axis, not below zero */
  readonly value: number;
  /** the value as printed, at the end of its bar: "61 %" */
  readonly text: string;
}

/** Bars laid out: the live and the still picture are both drawn from this. */
export interface BarsPlan {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly rows: readonly (BarRow & { readonly lines: readonly string[] })[];
  readonly end: number;
  readonly ticks: readonly Tick[];
  readonly height: number;
}

export const barsRoom = { left: 206, right: 70, top: 10, bottom: 44, row: 34 };
export const barColour = "#5f8fb0";

/** where the axis must end for the text behind a bar to stay inside the picture, at about 6.4 px a sign */
function leastEnd({ value, text }: BarRow): number {
  const plot = figureWidth - barsRoom.left - barsRoom.right;
  return (value * plot) / Math.max(plot / 3, plot + barsRoom.right - 10 - 6.4 * text.length);
}

/** @throws MeasurementError `not-finite` for a value below zero or no number, `no-rows` */
export function planBars(content: BarsContent): BarsPlan {
  const { title, subtitle = "", axis, rows } = content;
  if (rows.length === 0)
    throw new MeasurementError("no-rows", `figure ${title}: no bar to draw; give at least one row`);
  for (const { label, value } of rows) {
    if (Number.isFinite(value) && value >= 0) continue;
    throw new MeasurementError("not-finite", `figure ${title}, bar ${label}: ${value}; give a number not below zero`);
  }
  const largest = Math.max(...rows.map(({ value }) => value));
  const end = Math.max(roundUp(largest > 0 ? largest : 1), ...rows.map(leastEnd));
  const marked = rows.map(({ text }) => text);
  const texts = { title, subtitle, axes: [axis], edges: [], lines: figureLines(content), marked };
  const room = frameRoom(texts);
  return {
    texts,
    alt: `Bars, ${title}, ${axis}: ${rows.map(({ label, text }) => `${label} ${text}`).join("; ")}.`,
    rows: rows.map((row) => ({ ...row, lines: wrap(row.label, 30) })),
    end,
    ticks: ticks(0, end, 5),
    height: room.above + barsRoom.top + rows.length * barsRoom.row + barsRoom.bottom + room.below,
  };
}
