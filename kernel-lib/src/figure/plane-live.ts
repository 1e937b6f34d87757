import type { FigureTexts, JsonObject } from "./figure.js";
import { hairline, liveFrame, liveMargin, plotlyText, type Room, softInk, word } from "./frame.js";
import type { MapAxis } from "./map-plan.js";
import type { Box } from "./plan-layout.js";

/** A picture seen from above in true proportion: axes, edge words, and what is drawn and written on it. */
export function planeLayout(
  plane: {
    readonly texts: FigureTexts;
    readonly height: number;
    readonly room: Room;
    readonly u: MapAxis;
    readonly v: MapAxis;
  },
  drawn: { readonly shapes?: readonly JsonObject[]; readonly annotations?: readonly JsonObject[] },
): JsonObject {
  const frame = liveFrame(plane.texts, plane.height, plane.room.bottom, plane.room.left);
  const framed = frame.annotations as JsonObject[];
  return {
    ...frame,
    margin: liveMargin(plane.texts, plane.room),
    hovermode: "closest",
    xaxis: planeAxis(plane.u, {}),
    yaxis: planeAxis(plane.v, { scaleanchor: "x", scaleratio: 1 }),
    annotations: [...framed, ...planeWords(), ...(drawn.annotations ?? [])],
    ...(drawn.shapes ? { shapes: [...drawn.shapes] } : {}),
  };
}

/** A rectangle on a picture seen from above, below what else is drawn. */
export function planeBox({ u, v }: Pick<Box, "u" | "v">, look: JsonObject): JsonObject {
  return { type: "rect", layer: "below", x0: u[0], x1: u[1], y0: v[0], y1: v[1], ...look };
}

/** A circle on a picture seen from above, below what else is drawn. */
export function planeCircle([u, v]: readonly [number, number], radius: number, look: JsonObject): JsonObject {
  return { type: "circle", layer: "below", x0: u - radius, x1: u + radius, y0: v - radius, y1: v + radius, ...look };
}

/** An axis of a picture seen from above, as plotly draws it. */
function planeAxis({ title, range, ticks }: MapAxis, more: JsonObject): JsonObject {
  return {
    title: { text: plotlyText(title), standoff: 6, font: { size: 12 } },
    range,
    tickvals: ticks.map(({ at }) => at),
    ticktext: ticks.map(({ text }) => text),
    tickfont: { size: 11 },
    ticks: "outside",
    ticklen: 4,
    tickcolor: softInk,
    showgrid: false,
    zeroline: false,
    showline: true,
    mirror: true,
    linecolor: hairline,
    ...more,
  };
}

/** FRONT, BACK, LEFT, RIGHT around a picture seen from above. */
function planeWords(): JsonObject[] {
  return [
    word("FRONT", 0.5, 0, { yanchor: "bottom", yshift: -55 }),
    word("BACK", 0.5, 1, { yanchor: "bottom", yshift: 2 }),
    word("LEFT", 0, 0.5, { textangle: -90, xanchor: "right", xshift: -58 }),
    word("RIGHT", 1, 0.5, { textangle: 90, xanchor: "left", xshift: 4 }),
  ];
}
