import { barColour } from "./bars-plan.js";
import { Figure, type Json, type JsonObject } from "./figure.js";
import { frameRoom, hairline, ink, liveFrame, plotlyText, softInk, word } from "./frame.js";
import {
  curveColour,
  type HistogramContent,
  type HistogramPlan,
  histogramRoom,
  planHistogram,
} from "./histogram-plan.js";
import { stillHistogram } from "./still/histogram.js";

/**
 * A histogram with a curve to hold it against and intervals above it: what a simulation gave, beside what the first-order
 * way says.
 *
 * @throws MeasurementError `not-finite` for a height below zero or no number, `no-rows`, `no-width`
 * @example
 * figure.histogram({ title: "growth", axis: "growth/µm", heightAxis: "trials in a bar/%", from: 0, to: 2, heights: [40, 60] }).texts.axes.join() // => "growth/µm,trials in a bar/%"
 */
export function histogram(content: HistogramContent): Figure {
  const plan = planHistogram(content);
  return new Figure({ texts: plan.texts, alt: plan.alt, ...liveHistogram(plan), still: stillHistogram(plan) });
}

function liveHistogram(plan: HistogramPlan): { data: JsonObject[]; layout: JsonObject } {
  const room = frameRoom(plan.texts);
  const { left, right, top, bottom, row, gap, plot } = histogramRoom;
  const rows = plan.intervals.length * row;
  const share = plot / (plot + gap + rows);
  const quiet: JsonObject = { zeroline: false, fixedrange: true };
  const layout: JsonObject = {
    ...withCurveLabel(plan, liveFrame(plan.texts, plan.height, bottom, left)),
    margin: { l: left, r: right, t: room.above + top, b: bottom + room.below, autoexpand: false },
    bargap: 0.06,
    xaxis: {
      ...quiet,
      anchor: "y",
      title: { text: plotlyText(plan.texts.axes[0]!), standoff: 6, font: { size: 12 } },
      range: [...plan.range],
      tickvals: plan.ticks.map(({ at }) => at),
      ticktext: plan.ticks.map(({ text }) => text),
      tickfont: { size: 11 },
      showgrid: false,
      showline: true,
      linecolor: softInk,
    },
    yaxis: {
      ...quiet,
      domain: [0, share],
      title: { text: plotlyText(plan.texts.axes[1]!), standoff: 8, font: { size: 12 } },
      range: [0, plan.top],
      tickvals: plan.heightTicks.map(({ at }) => at),
      ticktext: plan.heightTicks.map(({ text }) => text),
      tickfont: { size: 11 },
      gridcolor: hairline,
    },
    yaxis2: {
      ...quiet,
      domain: [plan.intervals.length === 0 ? 1 : 1 - rows / (plot + gap + rows), 1],
      range: [plan.intervals.length - 0.5, -0.5],
      tickvals: plan.intervals.map((_, i) => i),
      ticktext: plan.intervals.map(({ lines }) => lines.map(plotlyText).join("<br>")),
      tickfont: { size: 11 },
      showgrid: false,
    },
  };
  return { data: [barsOf(plan), ...curveOf(plan), ...plan.intervals.map((_, i) => intervalOf(plan, i))], layout };
}

function barsOf({ content }: HistogramPlan): JsonObject {
  const { from, to, heights } = content;
  const width = (to - from) / heights.length;
  return {
    type: "bar",
    x: heights.map((_, i) => from + (i + 0.5) * width),
    y: heights,
    width: 0.94 * width,
    marker: { color: barColour },
    hovertemplate: "%{x:.4g}: %{y:.3g}<extra></extra>",
  };
}

function curveOf({ content: { curve } }: HistogramPlan): JsonObject[] {
  if (curve === undefined) return [];
  const [x, y] = [curve.points.map(([at]) => at), curve.points.map(([, height]) => height)];
  // on a rim of paper, or it would be lost on the bars
  const looks = [
    { color: "rgba(255,255,255,.9)", width: 5 },
    { color: curveColour, width: 2 },
  ];
  return looks.map((line) => ({ type: "scatter", mode: "lines", x, y, line, hoverinfo: "skip" }));
}

function intervalOf({ intervals }: HistogramPlan, i: number): JsonObject {
  const { from, to, ofCurve } = intervals[i]!;
  const color = ofCurve === true ? curveColour : ink;
  return {
    type: "scatter",
    mode: "lines+markers",
    x: [from, to],
    y: [i, i],
    yaxis: "y2",
    line: { color, width: 2 },
    marker: { symbol: "line-ns", size: 12, line: { color, width: 2 } },
    hoverinfo: "skip",
  };
}

/** the name of the curve stands in the picture, in its colour */
function withCurveLabel({ content: { curve } }: HistogramPlan, frame: JsonObject): JsonObject {
  if (curve === undefined) return frame;
  const place = { xanchor: "left", yanchor: "bottom", xshift: 8, yshift: histogramRoom.plot - 18 };
  const label = word(plotlyText(curve.label), 0, 0, { ...place, font: { size: 11, color: curveColour } });
  return { ...frame, annotations: [...(frame.annotations as readonly Json[]), label] };
}
