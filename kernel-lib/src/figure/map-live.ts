import { plotlyScale } from "./colour.js";
import type { JsonObject } from "./figure.js";
import { ink, plotlyText, softInk } from "./frame.js";
import type { FieldGap } from "./map-field.js";
import { type MapPlan, mapRoom, mostDots } from "./map-plan.js";
import { planeBox, planeCircle, planeLayout } from "./plane-live.js";
import { raster } from "./raster.js";

const dashes = ["dash", "dot", "dashdot"];

/** The map as plotly draws it. */
export function liveMap(plan: MapPlan): { data: JsonObject[]; layout: JsonObject } {
  return { data: [contour(plan), ...outlines(plan), points(plan)], layout: layoutOf(plan) };
}

function contour(plan: MapPlan): JsonObject {
  const [low, high] = plan.span;
  return {
    type: "contour",
    ...values(plan),
    connectgaps: false,
    colorscale: plotlyScale(plan.scale),
    zauto: false,
    zmin: low,
    zmax: high,
    autocontour: false,
    contours: { start: plan.lowest, end: high + low - plan.lowest, size: plan.step, coloring: "fill" },
    line: { width: 0.5, color: "rgba(60,60,60,.45)" },
    hoverinfo: "skip",
    colorbar: {
      title: { text: plotlyText(plan.texts.axes[2]!), side: "top", font: { size: 11 } },
      tickvals: plan.barTicks.map(({ at }) => at),
      ticktext: plan.barTicks.map(({ text }) => text),
      tickfont: { size: 11 },
      thickness: 12,
      outlinewidth: 0,
      len: 1,
      lenmode: "fraction",
      x: 1 + 34 / plan.box.width,
      xanchor: "left",
      xpad: 0,
      ypad: 0,
    },
  };
}

/** A grid as it was probed; scattered places on a raster through their triangles. */
function values({ sheet, step, field }: MapPlan): JsonObject {
  const decimals = Math.max(0, 3 - Math.floor(Math.log10(step)));
  const round = (value: number): number => Number(value.toFixed(Math.min(decimals, 12)));
  const place = (value: number): number => Number(value.toFixed(4));
  if (field === undefined && sheet.grid !== undefined) {
    const { us, vs, at } = sheet.grid;
    return {
      x: us,
      y: vs,
      z: at.map((row) => row.map((i) => (i === undefined ? null : round(sheet.places[i]!.value)))),
    };
  }
  const { us, vs, at } = field?.raster ?? raster(sheet, 140);
  return {
    x: us.map(place),
    y: vs.map(place),
    z: at.map((row) => row.map((value) => (value === undefined ? null : round(value)))),
  };
}

function points({ sheet, marks, markSize, hover }: MapPlan): JsonObject {
  return {
    type: "scatter",
    mode: "markers+text",
    x: sheet.places.map(({ u }) => u),
    y: sheet.places.map(({ v }) => v),
    text: marks,
    textposition: "top center",
    textfont: { size: markSize, color: ink },
    marker: { size: sheet.places.length > mostDots ? marks.map((mark) => (mark === "" ? 0.1 : 3.5)) : 3.5, color: ink },
    customdata: hover.map(plotlyText),
    hovertemplate: "%{customdata}<extra></extra>",
    cliponaxis: false,
  };
}

function outlines({ outlines: list }: MapPlan): JsonObject[] {
  return list.map(({ dash, corners }) => ({
    type: "scatter",
    mode: "lines",
    x: [...corners, corners[0]!].map(([u]) => u),
    y: [...corners, corners[0]!].map(([, v]) => v),
    line: { dash: dashes[dash]!, width: 1.2, color: ink },
    hoverinfo: "skip",
  }));
}

function layoutOf(plan: MapPlan): JsonObject {
  return planeLayout({ ...plan, room: mapRoom }, plan.field ? { shapes: plan.field.gaps.map(gapShape) } : {});
}

/** slots and holes lie above the contours, as what they are: nothing */
function gapShape(gap: FieldGap): JsonObject {
  const look = { layer: "above", fillcolor: "#ffffff", line: { width: 0.8, color: softInk } };
  return gap.kind === "box" ? planeBox(gap, look) : planeCircle(gap.at, gap.radius, look);
}
