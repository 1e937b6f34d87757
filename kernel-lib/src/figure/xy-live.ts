import { Figure, type JsonObject } from "./figure.js";
import { frameRoom, hairline, ink, liveFrame, plotlyText, softInk } from "./frame.js";
import { stillXy } from "./still/xy.js";
import type { Tick } from "./ticks.js";
import {
  bracketX,
  planXy,
  wordsOf,
  type XyBracket,
  type XyContent,
  type XyPlan,
  type XySeries,
  xyRoom,
} from "./xy-plan.js";

/** Values against a coordinate, live and still. */
export function xyFigure(content: XyContent): Figure {
  const plan = planXy(content);
  return new Figure({
    texts: plan.texts,
    alt: plan.alt,
    data: [...plan.series.flatMap(bandOf), ...plan.series.map(traceOf)],
    layout: layoutOf(plan),
    still: stillXy(plan),
  });
}

const symbols = { up: "triangle-up", down: "triangle-down", circle: "circle", none: "circle" };

function traceOf({ points, sign, colour, line }: XySeries): JsonObject {
  const mode = [line === "none" ? "" : "lines", sign === "none" ? "" : "markers"].filter((m) => m !== "").join("+");
  return {
    type: "scatter",
    mode,
    x: points.map(({ x }) => x),
    y: points.map(({ y }) => y),
    ...(line === "none" ? {} : { line: { color: colour, width: 1.5, dash: line } }),
    ...(sign === "none" ? {} : { marker: { symbol: symbols[sign], size: 7, color: colour } }),
    customdata: points.map(({ hover }) => plotlyText(hover)),
    hovertemplate: "%{customdata}<extra></extra>",
  };
}

function bandOf({ points, colour, band }: XySeries): JsonObject[] {
  if (!band) return [];
  const back = [...points].reverse();
  return [
    {
      type: "scatter",
      mode: "lines",
      x: [...points, ...back].map(({ x }) => x),
      y: [...points.map(({ y, high = y }) => high), ...back.map(({ y, low = y }) => low)],
      fill: "toself",
      fillcolor: colour,
      opacity: 0.14,
      line: { width: 0 },
      hoverinfo: "skip",
    },
  ];
}

function layoutOf(plan: XyPlan): JsonObject {
  const room = frameRoom(plan.texts);
  const { left, right, top, bottom, column } = xyRoom;
  const columns = Math.max(0, ...plan.brackets.map(({ beside = -1 }) => beside + 1));
  const frame = liveFrame(plan.texts, plan.height, bottom, left);
  const axis = (title: string, range: readonly [number, number], marks: readonly Tick[]): JsonObject => ({
    title: { text: plotlyText(title), standoff: 6, font: { size: 12 } },
    range: [...range],
    tickvals: marks.map(({ at }) => at),
    ticktext: marks.map(({ text }) => text),
    tickfont: { size: 11 },
    zeroline: false,
    showline: true,
    linecolor: softInk,
  });
  const spans = plan.brackets.map((bracket) => spanOf(bracket, plan, columns));
  return {
    ...frame,
    margin: {
      l: left,
      r: right + columns * column,
      t: room.above + top,
      b: bottom + room.below,
      autoexpand: false,
    },
    hovermode: "closest",
    xaxis: { ...axis(plan.texts.axes[0]!, plan.xRange, plan.xTicks), showgrid: false },
    yaxis: { ...axis(plan.texts.axes[1]!, plan.yRange, plan.yTicks), gridcolor: hairline },
    shapes: spans.map(({ shape }) => shape),
    annotations: [...(frame.annotations as readonly JsonObject[]), ...spans.map(({ label }) => label)],
  };
}

function spanOf(bracket: XyBracket, plan: XyPlan, columns: number): { shape: JsonObject; label: JsonObject } {
  const { from, to, beside, label } = bracket;
  const [xref, at] =
    beside === undefined
      ? ["x", bracketX(bracket, plan)]
      : ["paper", 1 + (12 + beside * xyRoom.column) / plan.box.width];
  const ends = { xref, yref: "y", x0: at, x1: at, y0: from, y1: to };
  const text = { text: plotlyText(label), xref, yref: "y", showarrow: false, font: { size: 11, color: ink } };
  return {
    shape: { type: "line", ...ends, line: { color: ink, width: 2 }, layer: columns > 0 ? "above" : "below" },
    label: { ...text, ...(beside === undefined ? levelWords(bracket, plan) : uprightWords(bracket, at as number)) },
  };
}

const anchors = { start: "left", middle: "center", end: "right" };

function levelWords(bracket: XyBracket, plan: XyPlan): JsonObject {
  const { x, y, side, anchor } = wordsOf(bracket, plan);
  return {
    x,
    y,
    xanchor: anchors[anchor],
    yanchor: side === "above" ? "bottom" : "top",
    yshift: side === "above" ? 4 : -4,
  };
}

/** anchored by hand: left to itself, words beyond the plot end on their line */
function uprightWords({ from, to }: XyBracket, x: number): JsonObject {
  return { x, y: (from + to) / 2, xanchor: "left", xshift: 3, textangle: -90 };
}
