import { heightScale, plotlyScale } from "./colour.js";
import type { JsonObject } from "./figure.js";
import { figureWidth, frameRoom, hairline, ink, liveFrame, plotlyText, softInk } from "./frame.js";
import type { MapAxis } from "./map-plan.js";
import { lookVectors } from "./projection.js";
import { type SurfacePlan, sceneRoom } from "./surface-plan.js";

/** The surface as plotly draws it. */
export function liveSurface(plan: SurfacePlan): { data: JsonObject[]; layout: JsonObject } {
  return {
    data: [skin(plan), ...lines(plan), ...(plan.isDense ? [] : [points(plan)])],
    layout: layoutOf(plan),
  };
}

function skin(plan: SurfacePlan): JsonObject {
  const { places, grid, facets } = plan.sheet;
  const colours: JsonObject = {
    colorscale: plotlyScale(heightScale),
    cmin: -plan.limit,
    cmax: plan.limit,
    ...(plan.isDense ? { hoverinfo: "text" } : { hoverinfo: "skip" }),
    lighting: { ambient: 0.92, diffuse: 0.25, specular: 0, roughness: 1, fresnel: 0 },
    colorbar: colourBar(plan),
  };
  if (grid === undefined) {
    return {
      type: "mesh3d",
      x: places.map(({ u }) => u),
      y: places.map(({ v }) => v),
      z: places.map(({ value }) => value),
      i: facets.map((facet) => facet[0]!),
      j: facets.map((facet) => facet[1]!),
      k: facets.map((facet) => facet[2]!),
      intensity: places.map(({ value }) => value),
      ...(plan.isDense && { text: plan.hover.map(plotlyText) }),
      ...colours,
    };
  }
  const z = grid.at.map((row) => row.map((i) => (i === undefined ? null : places[i]!.value)));
  const text = grid.at.map((row) => row.map((i) => (i === undefined ? null : plotlyText(plan.hover[i]!))));
  return {
    type: "surface",
    x: grid.us,
    y: grid.vs,
    z,
    connectgaps: false,
    ...(plan.isDense && { text }),
    ...colours,
  };
}

function colourBar(plan: SurfacePlan): JsonObject {
  return {
    title: { text: plotlyText(plan.texts.axes[2]!), side: "top", font: { size: 11 } },
    tickvals: plan.barTicks.map(({ at }) => at),
    ticktext: plan.barTicks.map(({ text }) => text),
    tickfont: { size: 11 },
    thickness: 12,
    outlinewidth: 0,
    len: 0.7,
    x: 1 - 66 / figureWidth,
    xanchor: "left",
    xpad: 0,
  };
}

type Spot = readonly [u: number, v: number, z: number];

/** A stem from each place to the zero of the heights where they are not too many, and the outline of zero. */
function lines({ sheet, u, v, isDense }: SurfacePlan): JsonObject[] {
  const [[u0, u1], [v0, v1]] = [u.range, v.range];
  const stems = sheet.places.map((at): Spot[] => [
    [at.u, at.v, at.value],
    [at.u, at.v, 0],
  ]);
  const zero: Spot[] = [
    [u0, v0, 0],
    [u1, v0, 0],
    [u1, v1, 0],
    [u0, v1, 0],
    [u0, v0, 0],
  ];
  return [
    ...(isDense ? [] : [strokes(stems, { color: softInk, width: 1.5 })]),
    strokes([zero], { color: softInk, width: 1.5, dash: "dash" }),
  ];
}

function strokes(list: readonly (readonly Spot[])[], line: JsonObject): JsonObject {
  const along = (axis: 0 | 1 | 2): JsonObject[string] =>
    list.flatMap((spots) => [...spots.map((spot) => spot[axis]), null]);
  return { type: "scatter3d", mode: "lines", x: along(0), y: along(1), z: along(2), line, hoverinfo: "skip" };
}

function points({ sheet, hover }: SurfacePlan): JsonObject {
  return {
    type: "scatter3d",
    mode: "markers",
    x: sheet.places.map(({ u }) => u),
    y: sheet.places.map(({ v }) => v),
    z: sheet.places.map(({ value }) => value),
    marker: { size: 2.2, color: ink },
    customdata: hover.map(plotlyText),
    hovertemplate: "%{customdata}<extra></extra>",
  };
}

function layoutOf(plan: SurfacePlan): JsonObject {
  const room = frameRoom(plan.texts);
  return {
    ...liveFrame(plan.texts, plan.height, 6, 0),
    margin: { l: 0, r: 0, t: room.above, b: room.below, autoexpand: false },
    scene: {
      xaxis: axisOf(plan.u),
      yaxis: axisOf(plan.v),
      zaxis: { ...axisOf(plan.z), title: { text: "" } },
      aspectmode: "manual",
      aspectratio: aspect(plan),
      camera: cameraOf(plan),
      annotations: [...edgeWords(plan), ...markWords(plan)],
    },
  };
}

/** True proportions of the table, and the heights drawn larger by exactly the stated factor. In a parallel projection
 * plotly draws one unit as half the height of the scene. */
function aspect({ u, v, z, exaggeration, perUnit, scene }: SurfacePlan): JsonObject {
  const one = perUnit / (scene / 2);
  const size = ({ range }: MapAxis): number => (range[1] - range[0]) * one;
  return { x: size(u), y: size(v), z: (size(z) / 1000) * exaggeration };
}

/** Looks from the raised eye, a little beside the middle of the box so that it stands where the still one stands. */
function cameraOf({ scene }: SurfacePlan): JsonObject {
  const { right, up, toEye } = lookVectors;
  const aside = (sceneRoom.right - sceneRoom.left) / scene;
  const down = (sceneRoom.top - sceneRoom.bottom) / scene;
  const middle = right.map((value, i) => value * aside + up[i]! * down);
  const place = (values: readonly number[]): JsonObject => {
    const [x, y, z] = values.map((value) => Number(value.toFixed(4)));
    return { x: x!, y: y!, z: z! };
  };
  const eye = middle.map((value, i) => value + 2 * toEye[i]!);
  return { eye: place(eye), center: place(middle), projection: { type: "orthographic" } };
}

function axisOf({ title, range, ticks }: MapAxis): JsonObject {
  return {
    title: { text: plotlyText(title), font: { size: 12 } },
    range,
    tickvals: ticks.map(({ at }) => at),
    ticktext: ticks.map(({ text }) => text),
    tickfont: { size: 11 },
    tickangle: 0,
    showbackground: false,
    gridcolor: hairline,
    linecolor: hairline,
    zerolinecolor: softInk,
    showspikes: false,
  };
}

function edgeWords({ u, v, z }: SurfacePlan): JsonObject[] {
  const middle = ({ range }: MapAxis): number => (range[0] + range[1]) / 2;
  const [low, high] = z.range;
  const small = { showarrow: false, font: { size: 11, color: softInk } };
  const axisFont = { showarrow: false, font: { size: 12, color: ink } };
  return [
    { text: "FRONT", x: middle(u), y: v.range[0], z: low, xshift: -14, yshift: -52, ...small },
    { text: "RIGHT", x: u.range[1], y: middle(v), z: low, xshift: 34, yshift: -40, ...small },
    // plotly writes its own title over the ticks
    {
      text: plotlyText(z.title),
      x: u.range[0],
      y: v.range[0],
      z: (low + high) / 2,
      xshift: -42,
      textangle: -90,
      ...axisFont,
    },
    { text: "BACK", x: middle(u), y: v.range[1], z: high, yshift: 12, ...small },
    { text: "LEFT", x: u.range[0], y: middle(v), z: high, yshift: 26, xshift: -20, ...small },
  ];
}

function markWords({ sheet, marks }: SurfacePlan): JsonObject[] {
  return marks.map(({ place, text }, i) => {
    const { u, v, value } = sheet.places[place]!;
    const arrow = { showarrow: true, arrowhead: 0, arrowwidth: 1, arrowcolor: softInk, ax: 0, ay: i === 0 ? -24 : -40 };
    return {
      text: plotlyText(text),
      x: u,
      y: v,
      z: value,
      font: { size: 11, color: ink },
      bgcolor: "rgba(255,255,255,.8)",
      ...arrow,
    };
  });
}
