import { barColour } from "./bars-plan.js";
import { type CurvePlan, curveRoom } from "./curve-plan.js";
import type { JsonObject } from "./figure.js";
import { ink, plotlyText, softInk } from "./frame.js";
import { graphLayout } from "./graph-live.js";

/** The curve as a live picture. */
export function liveCurve(plan: CurvePlan): { data: JsonObject[]; layout: JsonObject } {
  const across = { range: plan.xRange, ticks: plan.xTicks };
  const graph = graphLayout({ ...plan, room: curveRoom }, across, { range: plan.yRange, ticks: plan.yTicks });
  const layout: JsonObject = {
    ...graph,
    shapes: plan.marks.map(({ x }): JsonObject => ({ ...upright, x0: x, x1: x })),
    annotations: [...(graph.annotations as JsonObject[]), ...plan.marks.map((mark) => markWords(plan, mark))],
  };
  return { data: [band(plan), ...curves(plan), readings(plan)], layout };
}

const upright: JsonObject = { type: "line", yref: "paper", y0: 0, y1: 1, line: { color: ink, width: 1, dash: "dot" } };

/** words left of the line where it stands in the right half */
function markWords({ xRange }: CurvePlan, { x, text }: CurvePlan["marks"][number]): JsonObject {
  const isRight = x > (xRange[0] + xRange[1]) / 2;
  const side: JsonObject = { xanchor: isRight ? "right" : "left", xshift: isRight ? -4 : 4 };
  const place: JsonObject = { x, yref: "paper", y: 0, yanchor: "bottom", yshift: 4 };
  return { ...place, ...side, text: plotlyText(text), showarrow: false, font: { size: 11, color: ink } };
}

function band({ band: { x, low, high } }: CurvePlan): JsonObject {
  return {
    type: "scatter",
    mode: "lines",
    x: [...x, ...[...x].reverse()],
    y: [...high, ...[...low].reverse()],
    fill: "toself",
    fillcolor: "rgba(146,146,146,0.35)",
    line: { width: 0 },
    hoverinfo: "skip",
  };
}

function curves({ curves: all }: CurvePlan): JsonObject[] {
  return all.map(({ x, y, dashed }) => ({
    type: "scatter",
    mode: "lines",
    x: [...x],
    y: [...y],
    line: { color: dashed ? softInk : barColour, width: 1.6, dash: dashed ? "dash" : "solid" },
    hoverinfo: "skip",
  }));
}

function readings({ points }: CurvePlan): JsonObject {
  return {
    type: "scatter",
    mode: "markers",
    x: points.map(({ x }) => x),
    y: points.map(({ y }) => y),
    marker: { color: ink, size: 5 },
    customdata: points.map(({ hover }) => plotlyText(hover)),
    hovertemplate: "%{customdata}<extra></extra>",
  };
}
