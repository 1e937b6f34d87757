import { hairline, ink, softInk } from "../frame.js";
import type { StudyReadingsPlan } from "../study-readings-plan.js";
import { closedPath, element, label, line, stillFrame } from "./svg.js";

/** The readings of a gauge study as a still picture. */
export function stillStudyReadings(plan: StudyReadingsPlan): string {
  const { left, top, width, height } = plan.box;
  const bottom = top + height;
  const count = plan.operators[0]!.means.length;
  const toX = (at: number) => left + ((at - 0.5) / count) * width;
  const toY = (read: number) => top + (1 - (read - plan.range[0]) / (plan.range[1] - plan.range[0])) * height;
  const grid = plan.heights.map(({ at, text }) => {
    const y = toY(at);
    return (
      line(left, y, left + width, y, hairline) + label(text, left - 6, y + 4, { "font-size": 11, "text-anchor": "end" })
    );
  });
  const names = plan.parts.map(({ at, text }) =>
    label(text, toX(at), bottom + 15, { "font-size": 11, "text-anchor": "middle" }),
  );
  const series = plan.operators.map(({ means, points, sign }) => {
    const path = means.map(({ at, height: read }) => `${toX(at).toFixed(1)},${toY(read).toFixed(1)}`).join(" ");
    return (
      element("polyline", { points: path, fill: "none", stroke: softInk }) +
      points.map(({ at, height: read }) => signAt(sign, toX(at), toY(read))).join("")
    );
  });
  const middle = { x: left - 46, y: top + height / 2 };
  const axes = [
    line(left, top, left, bottom, softInk),
    line(left, bottom, left + width, bottom, softInk),
    label(plan.texts.axes[0]!, left + width / 2, bottom + 34, { "text-anchor": "middle" }),
    label(plan.texts.axes[1]!, middle.x, middle.y, {
      "text-anchor": "middle",
      transform: `rotate(-90 ${middle.x.toFixed(1)} ${middle.y.toFixed(1)})`,
    }),
  ];
  return stillFrame(plan.texts, plan.alt, plan.height, [...grid, ...names, ...series, ...axes].join(""));
}

function signAt(sign: number, x: number, y: number): string {
  const look = sign < 3 ? { fill: ink, "fill-opacity": 0.75 } : { fill: "none", stroke: ink };
  if (sign % 3 === 0) return element("circle", { cx: x, cy: y, r: 3, ...look });
  if (sign % 3 === 1) return element("rect", { x: x - 2.7, y: y - 2.7, width: 5.4, height: 5.4, ...look });
  const corners = [
    [x, y - 3.4],
    [x + 3.2, y + 2.4],
    [x - 3.2, y + 2.4],
  ] as const;
  return element("path", { d: closedPath(corners), ...look });
}
