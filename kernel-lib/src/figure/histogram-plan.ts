import { MeasurementError } from "../measurement-error.js";
import type { FigureTexts } from "./figure.js";
import { frameRoom } from "./frame.js";
import { type FigureCaution, figureLines } from "./options.js";
import { roundUp, type Tick, ticks } from "./ticks.js";
import { wrap } from "./wrap.js";

export interface HistogramContent {
  readonly title: string;
  readonly subtitle?: string;
  /** quantity over unit: "growth/µm" */
  readonly axis: string;
  /** what a bar's height is: "trials in a bar/%" */
  readonly heightAxis: string;
  /** edge of the first and of the last bar, in the unit of the axis */
  readonly from: number;
  readonly to: number;
  /** heights of bars of equal width between them, none below zero */
  readonly heights: readonly number[];
  /** a curve to hold the bars against */
  readonly curve?: HistogramCurve;
  /** drawn above the bars, the first on top */
  readonly intervals?: readonly HistogramInterval[];
  readonly cautions?: readonly FigureCaution[];
  readonly notes?: readonly string[];
}

export interface HistogramCurve {
  readonly label: string;
  /** places in the unit of the axis, heights in that of the bars */
  readonly points: readonly (readonly [at: number, height: number])[];
}

export interface HistogramInterval {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  /** as printed: "1.08 g to 1.38 g" */
  readonly text: string;
  /** drawn in the colour of the curve */
  readonly ofCurve?: boolean;
}

/** A histogram laid out: the live and the still picture are both drawn from this. */
export interface HistogramPlan {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly content: HistogramContent;
  readonly intervals: readonly (HistogramInterval & { readonly lines: readonly string[] })[];
  readonly range: readonly [number, number];
  /** top of the height axis */
  readonly top: number;
  readonly ticks: readonly Tick[];
  readonly heightTicks: readonly Tick[];
  readonly height: number;
}

export const histogramRoom = { left: 206, right: 24, top: 6, bottom: 44, row: 38, gap: 8, plot: 190 };
export const curveColour = "#a4471a";

/** @throws MeasurementError `not-finite` for a height below zero or no number, `no-rows`, `no-width` */
export function planHistogram(content: HistogramContent): HistogramPlan {
  const { title, subtitle = "", axis, heightAxis, from, to, heights, curve, intervals = [] } = content;
  if (heights.length === 0) {
    throw new MeasurementError("no-rows", `figure ${title}: no bar to draw; give at least one height`);
  }
  if (!(to > from)) {
    throw new MeasurementError(
      "no-width",
      `figure ${title}: the bars run from ${from} to ${to}; give a range with a width`,
    );
  }
  const bad = heights.find((height) => !(height >= 0 && height < Number.POSITIVE_INFINITY));
  if (bad !== undefined) {
    throw new MeasurementError("not-finite", `figure ${title}: a bar of ${bad}; give heights not below zero`);
  }
  const points = curve?.points ?? [];
  const ends = [
    from,
    to,
    ...points.map(([at]) => at),
    ...intervals.flatMap((interval) => [interval.from, interval.to]),
  ];
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const room = 0.03 * (most - least);
  const range: readonly [number, number] = [least - room, most + room];
  const highest = Math.max(...heights, ...points.map(([, height]) => height));
  const top = roundUp(highest > 0 ? highest * 1.04 : 1);
  const marked = [...intervals.flatMap(({ label, text }) => [label, text]), ...(curve ? [curve.label] : [])];
  const texts = { title, subtitle, axes: [axis, heightAxis], edges: [], lines: figureLines(content), marked };
  const { above, below } = frameRoom(texts);
  const { bottom, row, gap, plot } = histogramRoom;
  return {
    texts,
    alt: `Histogram, ${title}, ${axis}: ${intervals.map(({ label, text }) => `${label} ${text}`).join("; ")}.`,
    content,
    intervals: intervals.map((interval) => ({ ...interval, lines: [interval.label, ...wrap(interval.text, 32)] })),
    range,
    top,
    ticks: ticks(...range, 6),
    heightTicks: ticks(0, top, 4),
    height: above + histogramRoom.top + intervals.length * row + gap + plot + bottom + below,
  };
}
