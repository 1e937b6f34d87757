import { ink, softInk } from "../frame.js";
import { type NetworkPlan, stepLooks } from "../network-plan.js";
import { planeAxes, planeEdges, toX, toY } from "./plane-axes.js";
import { element, label, stillFrame } from "./svg.js";

/** keeps figures readable where a line runs through them */
const halo = { "paint-order": "stroke", stroke: "#ffffff", "stroke-width": 4, "stroke-linejoin": "round" };

/** A level network as a still picture. */
export function stillNetwork(plan: NetworkPlan): string {
  const { base } = plan;
  const picture = [stepsOf(plan), closuresOf(plan), placesOf(plan), planeAxes(base), planeEdges(base)];
  return stillFrame(base.texts, base.alt, base.height, picture.join(""));
}

function stepsOf({ base, steps }: NetworkPlan): string {
  const drawn = steps.map(({ from, to, look }) => {
    const { colour, width, dashes } = stepLooks[look];
    const [x1, y1, x2, y2] = [toX(base, from[0]), toY(base, from[1]), toX(base, to[0]), toY(base, to[1])];
    return element("line", {
      ...{ x1, y1, x2, y2, stroke: colour, "stroke-width": width },
      ...(dashes === "" ? {} : { "stroke-dasharray": dashes }),
    });
  });
  // words after all lines, or the next line would run through them
  const words = steps
    .filter(({ mark }) => mark !== "")
    .map(({ from, to, look, mark }) => {
      const [x, y] = [toX(base, (from[0] + to[0]) / 2), toY(base, (from[1] + to[1]) / 2)];
      const small = { "font-size": 10, "text-anchor": "middle", fill: stepLooks[look].colour, ...halo };
      return label(mark, x, y + 14, small);
    });
  return [...drawn, ...words].join("");
}

function closuresOf({ base, closures }: NetworkPlan): string {
  const small = { "font-size": 10, "text-anchor": "middle", fill: softInk, ...halo };
  return closures.map(({ at: [u, v], mark }) => label(mark, toX(base, u), toY(base, v) + 3.5, small)).join("");
}

function placesOf({ base, colours, sides }: NetworkPlan): string {
  return base.places
    .map(({ at: [u, v], mark }, i) => {
      const [cx, cy] = [toX(base, u), toY(base, v)];
      const dot = element("circle", { cx, cy, r: 5, fill: colours[i]!, stroke: ink, "stroke-width": 0.8 });
      const [right, up] = sides[i]!;
      const place = { "font-size": 10, "text-anchor": right > 0 ? "start" : "end", ...halo };
      return mark === "" ? dot : dot + label(mark, cx + 5 * right, up > 0 ? cy - 6 : cy + 14, place);
    })
    .join("");
}
