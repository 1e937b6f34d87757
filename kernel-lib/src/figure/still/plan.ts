import { hairline, ink, softInk } from "../frame.js";
import type { Box, PlanLayout } from "../plan-layout.js";
import { element, label, line, stillFrame } from "./svg.js";

const slotFill = "#d9d9d6";

/** The plan of a survey as a still picture. */
export function stillPlan(plan: PlanLayout): string {
  const picture = [onTheTable(plan), pathOf(plan), placesOf(plan), axes(plan), edges(plan)];
  return stillFrame(plan.texts, plan.alt, plan.height, picture.join(""));
}

function toX({ box, u }: PlanLayout, value: number): number {
  return box.left + ((value - u.range[0]) / (u.range[1] - u.range[0])) * box.width;
}

function toY({ box, v }: PlanLayout, value: number): number {
  return box.top + (1 - (value - v.range[0]) / (v.range[1] - v.range[0])) * box.height;
}

function rectangle(plan: PlanLayout, { u, v }: Box, look: { readonly [name: string]: string | number }): string {
  const [x, y] = [toX(plan, u[0]), toY(plan, v[1])];
  return element("rect", { x, y, width: toX(plan, u[1]) - x, height: toY(plan, v[0]) - y, ...look });
}

function onTheTable(plan: PlanLayout): string {
  const perMm = plan.box.width / (plan.u.range[1] - plan.u.range[0]);
  const holes = plan.holes.map(({ at: [u, v], radius }) =>
    element("circle", { cx: toX(plan, u), cy: toY(plan, v), r: radius * perMm, fill: "#ffffff", stroke: softInk }),
  );
  const obstacles = plan.obstacles.map(
    (box) =>
      rectangle(plan, box, { fill: slotFill, stroke: softInk }) +
      label(box.name, toX(plan, (box.u[0] + box.u[1]) / 2), toY(plan, (box.v[0] + box.v[1]) / 2) + 4, {
        "text-anchor": "middle",
        "font-size": 11,
      }),
  );
  return [
    ...plan.slots.map((slot) => rectangle(plan, slot, { fill: slotFill })),
    rectangle(plan, plan.table, { fill: "none", stroke: ink, "stroke-width": 1.5 }),
    plan.travel ? rectangle(plan, plan.travel, { fill: "none", stroke: softInk, "stroke-dasharray": "6 4" }) : "",
    ...holes,
    ...obstacles,
  ].join("");
}

function pathOf(plan: PlanLayout): string {
  const points = plan.path.map(([u, v]) => `${toX(plan, u).toFixed(1)},${toY(plan, v).toFixed(1)}`).join(" ");
  return element("polyline", { points, fill: "none", stroke: softInk, "stroke-width": 0.7 });
}

function placesOf(plan: PlanLayout): string {
  const small = { "font-size": 10, "text-anchor": "middle" };
  const places = plan.places.map(({ at: [u, v], mark }) => {
    const [x, y] = [toX(plan, u), toY(plan, v)];
    const dot = element("circle", { cx: x, cy: y, r: 1.9, fill: ink });
    return mark === "" ? dot : dot + label(mark, x, y - 5, small);
  });
  const datums = plan.datums.map(({ at: [u, v], mark }) => {
    const [x, y] = [toX(plan, u), toY(plan, v)];
    const square = element("rect", {
      x: x - 4.5,
      y: y - 4.5,
      width: 9,
      height: 9,
      fill: "none",
      stroke: ink,
      "stroke-width": 1.4,
    });
    return square + label(mark, x + 7, y + 12, { "font-size": 10, "font-weight": 600 });
  });
  return [...places, ...datums].join("");
}

function axes(plan: PlanLayout): string {
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
    upright(plan.v.title, left - 42, top + height / 2, -90, { "font-size": 12 }),
  ];
  return [rim, ...across, ...away, ...titles].join("");
}

function edges(plan: PlanLayout): string {
  const { left, top, width, height } = plan.box;
  const small = { "font-size": 11, fill: softInk, "text-anchor": "middle" };
  return [
    label("FRONT", left + width / 2, top + height + 51, { ...small, fill: ink, "font-size": 13, "font-weight": 700 }),
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
