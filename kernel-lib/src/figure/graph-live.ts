import type { FigureTexts, JsonObject } from "./figure.js";
import { hairline, liveFrame, liveMargin, plotlyText, type Room, softInk } from "./frame.js";
import type { Tick } from "./ticks.js";

interface GraphAxis {
  readonly range: readonly [number, number];
  readonly ticks: readonly Tick[];
}

/** The layout of a graph, one quantity against another, that stays at its scale: lines across, a base line below. */
export function graphLayout(
  graph: { readonly texts: FigureTexts; readonly height: number; readonly room: Room },
  across: GraphAxis,
  up: GraphAxis,
): JsonObject {
  const { texts, height, room } = graph;
  return {
    ...liveFrame(texts, height, room.bottom, room.left),
    margin: liveMargin(texts, room),
    xaxis: { ...axis(texts.axes[0]!, across, 6), showgrid: false, showline: true, linecolor: softInk },
    yaxis: { ...axis(texts.axes[1]!, up, 8), gridcolor: hairline },
  };
}

function axis(title: string, { range, ticks }: GraphAxis, standoff: number): JsonObject {
  return {
    zeroline: false,
    fixedrange: true,
    tickfont: { size: 11 },
    title: { text: plotlyText(title), standoff, font: { size: 12 } },
    range: [...range],
    tickvals: ticks.map(({ at }) => at),
    ticktext: ticks.map(({ text }) => text),
  };
}
