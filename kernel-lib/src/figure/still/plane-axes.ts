import { hairline, ink, softInk } from "../frame.js";
import type { MapAxis, Box as Picture } from "../map-plan.js";
import { element, label, line } from "./svg.js";

type Look = { readonly [name: string]: string | number };

/** A picture seen from above, in the plane of the table: two axes and the box they span. */
export interface PlanePicture {
  readonly u: MapAxis;
  readonly v: MapAxis;
  readonly box: Picture;
}

/** Where a value along the first axis stands in the picture. */
export function toX({ box, u }: PlanePicture, value: number): number {
  return box.left + ((value - u.range[0]) / (u.range[1] - u.range[0])) * box.width;
}

/** Where a value along the second axis stands in the picture. */
export function toY({ box, v }: PlanePicture, value: number): number {
  return box.top + (1 - (value - v.range[0]) / (v.range[1] - v.range[0])) * box.height;
}

/** Rim, ticks with their figures, titles of both axes. */
export function planeAxes(picture: PlanePicture): string {
  const { left, top, width, height } = picture.box;
  const bottom = top + height;
  const rim = element("rect", { x: left, y: top, width, height, fill: "none", stroke: hairline });
  const across = picture.u.ticks.map(({ at, text }) => {
    const x = toX(picture, at);
    return (
      line(x, bottom, x, bottom + 4, softInk) +
      label(text, x, bottom + 16, { "font-size": 11, "text-anchor": "middle" })
    );
  });
  const away = picture.v.ticks.map(({ at, text }) => {
    const y = toY(picture, at);
    return (
      line(left - 4, y, left, y, softInk) + label(text, left - 7, y + 4, { "font-size": 11, "text-anchor": "end" })
    );
  });
  const titles = [
    label(picture.u.title, left + width / 2, bottom + 33, { "text-anchor": "middle" }),
    upright(picture.v.title, left - 42, top + height / 2, -90, { fill: ink, "font-size": 12 }),
  ];
  return [rim, ...across, ...away, ...titles].join("");
}

/** FRONT, BACK, LEFT, RIGHT; FRONT looks as asked for. */
export function planeEdges({ box: { left, top, width, height } }: PlanePicture, front: Look = {}): string {
  const small = { "font-size": 11, fill: softInk, "text-anchor": "middle" };
  return [
    label("FRONT", left + width / 2, top + height + 51, { ...small, ...front }),
    label("BACK", left + width / 2, top - 6, small),
    upright("LEFT", left - 62, top + height / 2, -90, small),
    upright("RIGHT", left + width + 8, top + height / 2, 90, small),
  ].join("");
}

function upright(text: string, x: number, y: number, angle: number, more: Look): string {
  return label(text, x, y, {
    ...more,
    "text-anchor": "middle",
    transform: `rotate(${angle} ${x.toFixed(1)} ${y.toFixed(1)})`,
  });
}
