import { contours } from "d3-contour";
import { colourAt } from "../colour.js";
import { hairline, ink, softInk } from "../frame.js";
import type { MapPlan } from "../map-plan.js";
import { carriedOut, raster } from "../raster.js";
import { colourBar } from "./colour-bar.js";
import { closedPath, element, label, line, stillFrame } from "./svg.js";

const halo = { "paint-order": "stroke", stroke: "#ffffff", "stroke-opacity": 0.55, "stroke-width": 2.5 };
const dashes = ["6 4", "1.5 3", "7 3 1.5 3"];

/** The map as a still picture. */
export function stillMap(plan: MapPlan): string {
  const picture = [probed(plan), bands(plan), outlines(plan), points(plan), axes(plan), edges(plan), bar(plan)];
  return stillFrame(plan.texts, plan.alt, plan.height, picture.join(""));
}

function toX({ box, u }: MapPlan, value: number): number {
  return box.left + ((value - u.range[0]) / (u.range[1] - u.range[0])) * box.width;
}

function toY({ box, v }: MapPlan, value: number): number {
  return box.top + (1 - (value - v.range[0]) / (v.range[1] - v.range[0])) * box.height;
}

/** Filled bands. d3-contour puts a value half a cell inside its square and closes areas at the rim of its grid: hence the
 * shift by a half, the ring of repeated values round the raster, the rim carried outwards and the cut at the probed pieces. */
function bands(plan: MapPlan): string {
  const { us, vs, at: known } = raster(plan.sheet, 100);
  const at = carriedOut(known, 3);
  const [nu, nv] = [us.length + 2, vs.length + 2];
  const clamp = (i: number, n: number): number => Math.min(Math.max(i - 1, 0), n - 1);
  const values = Array.from(
    { length: nu * nv },
    (_, k) => at[clamp(Math.floor(k / nu), vs.length)]![clamp(k % nu, us.length)] ?? Number.NaN,
  );
  const place = (lines: readonly number[], c: number): number =>
    lines[0]! + ((c - 1.5) / (lines.length - 1)) * (lines[lines.length - 1]! - lines[0]!);
  const [low, high] = plan.span;
  const count = Math.round((high - low) / plan.step);
  const contour = contours().size([nu, nv]);
  const areas = Array.from({ length: count }, (_, i) => {
    // the first band takes all that lies below the scale too
    const { coordinates } = contour.contour(values, i === 0 ? -Number.MAX_VALUE : low + i * plan.step);
    const rings = coordinates
      .flat()
      .map((ring) =>
        closedPath(ring.map(([a, b]): [number, number] => [toX(plan, place(us, a!)), toY(plan, place(vs, b!))])),
      );
    const fill = colourAt(plan.scale, (i + 0.5) / count);
    const rim = i === 0 ? {} : { stroke: "#3c3c3c", "stroke-width": 0.4, "stroke-opacity": 0.55 };
    return rings.length === 0 ? "" : element("path", { d: rings.join(""), fill, ...rim, "fill-rule": "evenodd" });
  });
  return element("g", { "clip-path": "url(#probed)" }, areas.join(""));
}

/** The pieces between probed places: nothing is painted outside of them. */
function probed(plan: MapPlan): string {
  const d = plan.sheet.facets.map((facet) => {
    const corners = facet.map((i) => plan.sheet.places[i]!);
    return closedPath(corners.map(({ u, v }): [number, number] => [toX(plan, u), toY(plan, v)]));
  });
  return element("clipPath", { id: "probed" }, element("path", { d: d.join("") }));
}

function outlines(plan: MapPlan): string {
  return plan.outlines
    .map(({ dash, corners }) => {
      const d = closedPath(corners.map(([u, v]): [number, number] => [toX(plan, u), toY(plan, v)]));
      return element("path", { d, fill: "none", stroke: ink, "stroke-width": 1.2, "stroke-dasharray": dashes[dash]! });
    })
    .join("");
}

function points(plan: MapPlan): string {
  return plan.sheet.places
    .map(({ u, v }, i) => {
      const [x, y] = [toX(plan, u), toY(plan, v)];
      const dot = element("circle", { cx: x, cy: y, r: 1.7, fill: ink });
      const mark = plan.marks[i]!;
      return mark === "" ? dot : dot + label(mark, x, y - 5, { "font-size": 10, "text-anchor": "middle", ...halo });
    })
    .join("");
}

function axes(plan: MapPlan): string {
  const { left, top, width, height } = plan.box;
  const bottom = top + height;
  const rim = element("rect", { x: left, y: top, width, height, fill: "none", stroke: hairline });
  const across = plan.u.ticks.map(({ at, text }) => {
    const x = toX(plan, at);
    return (
      line(x, bottom, x, bottom + 4, softInk) +
      label(text, x, bottom + 16, { "font-size": 11, "text-anchor": "middle" })
    );
  });
  const away = plan.v.ticks.map(({ at, text }) => {
    const y = toY(plan, at);
    return (
      line(left - 4, y, left, y, softInk) + label(text, left - 7, y + 4, { "font-size": 11, "text-anchor": "end" })
    );
  });
  const titles = [
    label(plan.u.title, left + width / 2, bottom + 33, { "text-anchor": "middle" }),
    upright(plan.v.title, left - 42, top + height / 2, -90, { fill: ink, "font-size": 12 }),
  ];
  return [rim, ...across, ...away, ...titles].join("");
}

function edges(plan: MapPlan): string {
  const { left, top, width, height } = plan.box;
  const small = { "font-size": 11, fill: softInk, "text-anchor": "middle" };
  return [
    label("FRONT", left + width / 2, top + height + 51, small),
    label("BACK", left + width / 2, top - 6, small),
    upright("LEFT", left - 62, top + height / 2, -90, small),
    upright("RIGHT", left + width + 8, top + height / 2, 90, small),
  ].join("");
}

function upright(
  text: string,
  x: number,
  y: number,
  angle: number,
  more: { readonly [name: string]: string | number },
): string {
  return label(text, x, y, {
    ...more,
    "text-anchor": "middle",
    transform: `rotate(${angle} ${x.toFixed(1)} ${y.toFixed(1)})`,
  });
}

function bar(plan: MapPlan): string {
  const { left, top, width, height } = plan.box;
  const place = { x: left + width + 34, y: top + 18, height: height - 18 };
  return colourBar(place, plan.scale, plan.span, plan.barTicks, plan.texts.axes[2]!);
}
