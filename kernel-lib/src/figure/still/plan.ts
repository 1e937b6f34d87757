import { ink, softInk } from "../frame.js";
import type { Box, PlanLayout } from "../plan-layout.js";
import { planeAxes, planeEdges, toX, toY } from "./plane-axes.js";
import { element, label, stillFrame } from "./svg.js";

const boldFront = { fill: ink, "font-size": 13, "font-weight": 700 };
const slotFill = "#d9d9d6";
const slotRim = "#8a8a88";
/** a rim of paper about letters, without them */
const paper = {
  fill: "none",
  stroke: "#ffffff",
  "stroke-width": 4.5,
  "stroke-linejoin": "round",
  "aria-hidden": "true",
};

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
    ...plan.slots.map((slot) => rectangle(plan, slot, { fill: slotFill, stroke: slotRim, "stroke-width": 0.6 })),
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

/** Rims of paper, then dots, then names: no rim hides the dot or the name of a neighbour. */
function placesOf(plan: PlanLayout): string {
  const names = [...plan.places.filter(({ mark }) => mark !== "").map(placeName), ...plan.datums.map(datumName)];
  const spots = plan.places.map(({ at: [u, v] }) =>
    element("circle", { cx: toX(plan, u), cy: toY(plan, v), r: 1.9, fill: ink }),
  );
  const size = { width: 9, height: 9, fill: "none", stroke: ink, "stroke-width": 1.4 };
  const squares = plan.datums.map(({ at: [u, v] }) =>
    element("rect", { x: toX(plan, u) - 4.5, y: toY(plan, v) - 4.5, ...size }),
  );
  return [...names.map((name) => name(plan, paper)), ...spots, ...squares, ...names.map((name) => name(plan, {}))].join(
    "",
  );
}

type Name = (plan: PlanLayout, look: { readonly [name: string]: string | number }) => string;

function placeName({ at: [u, v], mark, out = [0, 1] }: PlanLayout["places"][number]): Name {
  const anchor = Math.abs(out[0]) < 0.38 ? "middle" : out[0] > 0 ? "start" : "end";
  return (plan, look) => {
    const y = toY(plan, v);
    // as far from the dot on every side: letters stand on their line, so below is further than above
    const down = out[1] > 0 ? 5 * out[1] : -12 * out[1];
    const side = out[1] > 0 ? y - down + 3.5 * (1 - out[1]) : y + down + 3.5 * (1 + out[1]);
    return label(mark, toX(plan, u) + 6 * out[0], side, { "font-size": 10, "text-anchor": anchor, ...look });
  };
}

function datumName({ at: [u, v], mark, out: [right, up] }: PlanLayout["datums"][number]): Name {
  return (plan, look) => {
    const letters = { "font-size": 10, "font-weight": 600, "text-anchor": right > 0 ? "start" : "end", ...look };
    return label(mark, toX(plan, u) + 7 * right, toY(plan, v) + (up > 0 ? -5 : 12), letters);
  };
}
