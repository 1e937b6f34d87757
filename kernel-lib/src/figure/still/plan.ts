import { ink, softInk } from "../frame.js";
import type { Box, PlanLayout } from "../plan-layout.js";
import { planeAxes, planeEdges, toX, toY } from "./plane-axes.js";
import { element, label, stillFrame } from "./svg.js";

const boldFront = { fill: ink, "font-size": 13, "font-weight": 700 };
const slotFill = "#d9d9d6";
/** a rim of paper about letters */
const paper = { "paint-order": "stroke", stroke: "#ffffff", "stroke-width": 3, "stroke-linejoin": "round" };

/** The plan of a survey as a still picture. */
export function stillPlan(plan: PlanLayout): string {
  const picture = [onTheTable(plan), pathOf(plan), placesOf(plan), planeAxes(plan), planeEdges(plan, boldFront)];
  return stillFrame(plan.texts, plan.alt, plan.height, picture.join(""));
}

function rectangle(plan: PlanLayout, { u, v }: Box, look: { readonly [name: string]: string | number }): string {
  const [x, y] = [toX(plan, u[0]), toY(plan, v[1])];
  return element("rect", { x, y, width: toX(plan, u[1]) - x, height: toY(plan, v[0]) - y, ...look });
}

function onTheTable(plan: PlanLayout): string {
  const perUnit = plan.box.width / (plan.u.range[1] - plan.u.range[0]);
  const holes = plan.holes.map(({ at: [u, v], radius }) =>
    element("circle", { cx: toX(plan, u), cy: toY(plan, v), r: radius * perUnit, fill: "#ffffff", stroke: softInk }),
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
    plan.rim ? rectangle(plan, plan.table, { fill: "none", stroke: ink, "stroke-width": 1.5 }) : "",
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
  const places = plan.places.map(({ at: [u, v], mark, out = [0, 1] }) => {
    const [x, y] = [toX(plan, u), toY(plan, v)];
    const dot = element("circle", { cx: x, cy: y, r: 1.9, fill: ink });
    if (mark === "") return dot;
    const anchor = Math.abs(out[0]) < 0.38 ? "middle" : out[0] > 0 ? "start" : "end";
    // as far from the dot on every side: letters stand on their line, so below is further than above
    const down = out[1] > 0 ? 5 * out[1] : -12 * out[1];
    const side = out[1] > 0 ? y - down + 3.5 * (1 - out[1]) : y + down + 3.5 * (1 + out[1]);
    const name = { "font-size": 10, "text-anchor": anchor, ...paper };
    return dot + label(mark, x + 6 * out[0], side, name);
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
    return square + label(mark, x + 7, y + 12, { "font-size": 10, "font-weight": 600, ...paper });
  });
  return [...places, ...datums].join("");
}
