import { barColour } from "../bars-plan.js";
import { figureWidth, frameRoom, hairline, ink, softInk } from "../frame.js";
import { type StripPlan, stripRoom } from "../strip-plan.js";
import { element, label, line, stillFrame } from "./svg.js";

/** The straightness strip as a still picture. */
export function stillStrip(plan: StripPlan): string {
  const { left, right, top, plot } = stripRoom;
  const start = frameRoom(plan.texts).above + top;
  const floor = start + plot;
  const end = figureWidth - right;
  const [low, high] = plan.range;
  const toX = (at: number) => left + ((at - low) / (high - low)) * (end - left);
  const toY = (height: number) => start + (1 - (height + plan.limit) / (2 * plan.limit)) * plot;
  const across = plan.atTicks.map(
    ({ at, text }) =>
      line(toX(at), floor, toX(at), floor + 4, softInk) +
      label(text, toX(at), floor + 16, { "font-size": 11, "text-anchor": "middle" }),
  );
  const away = plan.heightTicks.map(
    ({ at, text }) =>
      line(left, toY(at), end, toY(at), hairline) +
      label(text, left - 6, toY(at) + 4, { "font-size": 11, "text-anchor": "end" }),
  );
  const zone = [...plan.zone]
    .reverse()
    .map((y) =>
      element("line", { x1: left, x2: end, y1: toY(y), y2: toY(y), stroke: softInk, "stroke-dasharray": "6 4" }),
    );
  const [ax, ay] = [left - 44, start + plot / 2];
  const titles = [
    line(left, floor, end, floor, softInk),
    label(plan.texts.axes[0]!, (left + end) / 2, floor + 34, { "text-anchor": "middle" }),
    label(plan.texts.axes[1]!, ax, ay, { "text-anchor": "middle", transform: `rotate(-90 ${ax} ${ay.toFixed(1)})` }),
  ];
  const clamp = (y: number) => Math.min(Math.max(y, start), floor);
  const stems = plan.points.map(({ at, height, stem }) => {
    const [x, upper, lower] = [toX(at), clamp(toY(height + stem)), clamp(toY(height - stem))];
    return (
      line(x, upper, x, lower, barColour) +
      line(x - 3, upper, x + 3, upper, barColour) +
      line(x - 3, lower, x + 3, lower, barColour)
    );
  });
  const path = plan.points.map(({ at, height }) => `${toX(at).toFixed(1)},${clamp(toY(height)).toFixed(1)}`).join("L");
  const profile = element("path", { d: `M${path}`, fill: "none", stroke: barColour, "stroke-width": 1.6 });
  const dots = plan.points.map(({ at, height }) =>
    element("circle", { cx: toX(at), cy: clamp(toY(height)), r: 2.6, fill: ink }),
  );
  const picture = [...away, ...across, ...titles, ...zone, ...stems, profile, ...dots];
  return stillFrame(plan.texts, plan.alt, plan.height, picture.join(""));
}
