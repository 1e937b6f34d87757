import { hairline, ink, softInk } from "../frame.js";
import type { Projection, Screen } from "../projection.js";
import type { SurfacePlan } from "../surface-plan.js";
import { closedPath, element, label, line } from "./svg.js";

/** Floor, the two far walls with a line at each height tick, and the outline of zero. */
export function box({ u, v, z }: SurfacePlan, { to }: Projection): string {
  const [[u0, u1], [v0, v1], [low, high]] = [u.range, v.range, z.range];
  const outline = (at: number): Screen[] => [to(u0, v0, at), to(u1, v0, at), to(u1, v1, at), to(u0, v1, at)];
  const plain = { fill: "none", stroke: hairline };
  const walls = [low, ...z.ticks.map(({ at }) => at), high].flatMap((at) => [
    line(...to(u0, v0, at), ...to(u0, v1, at), hairline),
    line(...to(u0, v1, at), ...to(u1, v1, at), hairline),
  ]);
  const uprights = [to(u0, v0, low), to(u0, v1, low), to(u1, v1, low)].map(([x, y], i) => {
    const foot = [to(u0, v0, high), to(u0, v1, high), to(u1, v1, high)][i]!;
    return line(x, y, ...foot, hairline);
  });
  const zero = element("path", {
    d: closedPath(outline(0)),
    fill: "none",
    stroke: softInk,
    "stroke-dasharray": "3 3",
    "stroke-width": 0.8,
  });
  return [element("path", { d: closedPath(outline(low)), ...plain }), ...walls, ...uprights, zero].join("");
}

/** Ticks, titles and the edges by name. */
export function boxWords(plan: SurfacePlan, projection: Projection): string {
  return [acrossWords(plan, projection), awayWords(plan, projection), heightWords(plan, projection)].join("");
}

function acrossWords({ u, v, z }: SurfacePlan, { to }: Projection): string {
  const [v0, low] = [v.range[0], z.range[0]];
  const marks = u.ticks.map(({ at, text }) => {
    const [x, y] = to(at, v0, low);
    return line(x, y, x - 1.5, y + 4, softInk) + small(text, x - 5, y + 16, "middle");
  });
  const [x, y] = to((u.range[0] + u.range[1]) / 2, v0, low);
  const title = label(u.title, x - 14, y + 36, { "text-anchor": "middle" });
  const [bx, by] = to((u.range[0] + u.range[1]) / 2, v.range[1], z.range[1]);
  return [
    ...marks,
    title,
    small("FRONT", x - 14, y + 52, "middle", softInk),
    small("BACK", bx, by - 7, "middle", softInk),
  ].join("");
}

function awayWords({ u, v, z }: SurfacePlan, { to }: Projection): string {
  const [u1, low] = [u.range[1], z.range[0]];
  const marks = v.ticks.map(({ at, text }) => {
    const [x, y] = to(u1, at, low);
    return line(x, y, x + 4, y + 1.5, softInk) + small(text, x + 7, y + 9, "start");
  });
  const [x, y] = to(u1, (v.range[0] + v.range[1]) / 2, low);
  const [lx, ly] = to(u.range[0], (v.range[0] + v.range[1]) / 2, z.range[1]);
  const title = label(v.title, x + 42, y + 24, { "text-anchor": "middle" });
  return [
    ...marks,
    title,
    small("RIGHT", x + 42, y + 40, "middle", softInk),
    small("LEFT", lx - 6, ly - 22, "end", softInk),
  ].join("");
}

function heightWords({ u, v, z }: SurfacePlan, { to }: Projection): string {
  const [u0, v0] = [u.range[0], v.range[0]];
  const marks = z.ticks.map(({ at, text }) => {
    const [x, y] = to(u0, v0, at);
    return line(x - 4, y, x, y, softInk) + small(text, x - 7, y + 4, "end");
  });
  const [x, y] = to(u0, v0, (z.range[0] + z.range[1]) / 2);
  const turn = `rotate(-90 ${(x - 40).toFixed(1)} ${y.toFixed(1)})`;
  return [...marks, label(z.title, x - 40, y, { "text-anchor": "middle", transform: turn })].join("");
}

function small(text: string, x: number, y: number, anchor: "start" | "middle" | "end", fill = ink): string {
  return label(text, x, y, { "font-size": 11, "text-anchor": anchor, fill });
}
