import type { JsonObject } from "./figure.js";
import { hairline, softInk, word } from "./frame.js";
import type { MapAxis } from "./map-plan.js";

/** An axis of a picture seen from above, as plotly draws it. */
export function planeAxis({ title, range, ticks }: MapAxis, more: JsonObject): JsonObject {
  return {
    title: { text: title, standoff: 6, font: { size: 12 } },
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
export function planeWords(): JsonObject[] {
  return [
    word("FRONT", 0.5, 0, { yanchor: "bottom", yshift: -55 }),
    word("BACK", 0.5, 1, { yanchor: "bottom", yshift: 2 }),
    word("LEFT", 0, 0.5, { textangle: -90, xanchor: "right", xshift: -58 }),
    word("RIGHT", 1, 0.5, { textangle: 90, xanchor: "left", xshift: 4 }),
  ];
}
