import { colourAt } from "../colour.js";
import { ink, softInk } from "../frame.js";
import { contentHash } from "../hash.js";
import { type MapPlan, mostDots } from "../map-plan.js";
import { escapeMarkup } from "../markup.js";
import { carriedOut, fineRaster } from "../raster.js";
import { areasAbove } from "./areas-above.js";
import { colourBar } from "./colour-bar.js";
import { planeAxes, planeEdges, toX, toY } from "./plane-axes.js";
import { closedLine, closedPath, element, stillFrame } from "./svg.js";

const halo = { "paint-order": "stroke", stroke: "#ffffff", "stroke-opacity": 0.88, "stroke-width": 3 };
const bandRim = { stroke: "#3c3c3c", "stroke-width": 0.4, "stroke-opacity": 0.55 };
const dashes = ["6 4", "1.5 3", "7 3 1.5 3"];

/** The map as a still picture. */
export function stillMap(plan: MapPlan): string {
  const picture = [
    painted(plan),
    gaps(plan),
    outlines(plan),
    points(plan),
    planeAxes(plan),
    planeEdges(plan),
    bar(plan),
  ];
  return stillFrame(plan.texts, plan.alt, plan.height, picture.join(""));
}

/** Filled bands, cut at the probed pieces. A page may hold several pictures: the cut is named by what is in it. */
function painted(plan: MapPlan): string {
  const [areas, pieces] = [bands(plan), probed(plan)];
  const id = `probed-${contentHash(pieces + areas)}`;
  return (
    element("clipPath", { id }, element("path", { d: pieces })) + element("g", { "clip-path": `url(#${id})` }, areas)
  );
}

/** Areas of the bands, each painted over the one below it; the rim is carried outwards and cut at the probed pieces. */
function bands(plan: MapPlan): string {
  const { us, vs, at } = plan.field?.raster ?? fineRaster(plan.sheet);
  const values = carriedOut(at, 3).flatMap((row) => row.map((value) => value ?? Number.NaN));
  const [low, high] = plan.span;
  const { lowest, step } = plan;
  const count = Math.round((high - low) / step) + (lowest < low ? 1 : 0);
  // the first band takes all that lies below the scale too
  const levels = Array.from({ length: count }, (_, i) => (i === 0 ? -Number.MAX_VALUE : lowest + i * step));
  const lines = { xs: us.map((u) => toX(plan, u)), ys: vs.map((v) => toY(plan, v)) };
  const areas = areasAbove({ ...lines, values }, levels).map((rings, i) => {
    const fill = colourAt(plan.scale, (lowest + (i + 0.5) * step - low) / (high - low));
    const rim = i === 0 ? { stroke: "none" } : {};
    return rings.length === 0 ? "" : element("path", { d: rings.map(closedLine).join(""), fill, ...rim });
  });
  return element("g", { "fill-rule": "evenodd", ...bandRim }, areas.join(""));
}

/** The pieces between probed places: nothing is painted outside of them. */
function probed(plan: MapPlan): string {
  if (plan.field !== undefined) {
    return closedPath(plan.field.rim.map(([u, v]): [number, number] => [toX(plan, u), toY(plan, v)]));
  }
  const d = plan.sheet.facets.map((facet) => {
    const corners = facet.map((i) => plan.sheet.places[i]!);
    return closedPath(corners.map(({ u, v }): [number, number] => [toX(plan, u), toY(plan, v)]));
  });
  return d.join("");
}

/** slots and holes, where there is no surface */
function gaps(plan: MapPlan): string {
  const look = { fill: "#ffffff", stroke: softInk, "stroke-width": 0.8 };
  const perMm = plan.box.width / (plan.u.range[1] - plan.u.range[0]);
  return (plan.field?.gaps ?? [])
    .map((gap) => {
      if (gap.kind === "hole") {
        const [u, v] = gap.at;
        return element("circle", { cx: toX(plan, u), cy: toY(plan, v), r: gap.radius * perMm, ...look });
      }
      const [x, y] = [toX(plan, gap.u[0]), toY(plan, gap.v[1])];
      return element("rect", { x, y, width: toX(plan, gap.u[1]) - x, height: toY(plan, gap.v[0]) - y, ...look });
    })
    .join("");
}

function outlines(plan: MapPlan): string {
  return plan.outlines
    .map(({ dash, corners }) => {
      const d = closedPath(corners.map(([u, v]): [number, number] => [toX(plan, u), toY(plan, v)]));
      return element("path", { d, fill: "none", stroke: ink, "stroke-width": 1.2, "stroke-dasharray": dashes[dash]! });
    })
    .join("");
}

/** Dots, then the figures beside them: what they have in common is said once. */
function points(plan: MapPlan): string {
  const few = plan.sheet.places.length <= mostDots;
  const dots: string[] = [];
  const marks: string[] = [];
  plan.sheet.places.forEach(({ u, v }, i) => {
    const [x, y] = [toX(plan, u), toY(plan, v)];
    const mark = plan.marks[i]!;
    if (few || mark !== "") dots.push(element("circle", { cx: x, cy: y, r: 1.7 }));
    if (mark !== "") marks.push(element("text", { x, y: y - 5 }, escapeMarkup(mark)));
  });
  const words = { "font-size": plan.markSize, "text-anchor": "middle", fill: ink, ...halo };
  return element("g", { fill: ink }, dots.join("")) + element("g", words, marks.join(""));
}

function bar(plan: MapPlan): string {
  const { left, top, width, height } = plan.box;
  const place = { x: left + width + 34, y: top + 18, height: height - 18 };
  return colourBar(place, plan.scale, plan.span, plan.barTicks, plan.texts.axes[2]!);
}
