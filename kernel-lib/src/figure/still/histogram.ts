import { barColour } from "../bars-plan.js";
import { figureWidth, frameRoom, hairline, ink, softInk } from "../frame.js";
import { curveColour, type HistogramPlan, histogramRoom } from "../histogram-plan.js";
import { element, label, line, stillFrame } from "./svg.js";

/** The histogram as a still picture. */
export function stillHistogram(plan: HistogramPlan): string {
  const { left, right, top, row, gap, plot } = histogramRoom;
  const start = frameRoom(plan.texts).above + top;
  const floor = start + plan.intervals.length * row + gap + plot;
  const width = figureWidth - left - right;
  const [low, high] = plan.range;
  const place: Place = {
    x: (at) => left + ((at - low) / (high - low)) * width,
    y: (height) => floor - (height / plan.top) * plot,
    start,
    floor,
  };
  const picture = [axes(plan, place), barsOf(plan, place), curveOf(plan, place), ...intervalsOf(plan, place)];
  return stillFrame(plan.texts, plan.alt, plan.height, picture.join(""));
}

interface Place {
  readonly x: (at: number) => number;
  readonly y: (height: number) => number;
  readonly start: number;
  readonly floor: number;
}

function axes(plan: HistogramPlan, { x, y, floor }: Place): string {
  const { left, right, plot } = histogramRoom;
  const end = figureWidth - right;
  const small = { "font-size": 11 };
  const across = plan.ticks.map(
    ({ at, text }) =>
      line(x(at), floor, x(at), floor + 4, softInk) +
      label(text, x(at), floor + 16, { ...small, "text-anchor": "middle" }),
  );
  const away = plan.heightTicks.map(
    ({ at, text }) =>
      line(left, y(at), end, y(at), hairline) + label(text, left - 6, y(at) + 4, { ...small, "text-anchor": "end" }),
  );
  const [ax, ay] = [left - 44, floor - plot / 2];
  return [
    ...away,
    ...across,
    line(left, floor, end, floor, softInk),
    label(plan.texts.axes[0]!, (left + end) / 2, floor + 34, { "text-anchor": "middle" }),
    label(plan.texts.axes[1]!, ax, ay, {
      "text-anchor": "middle",
      transform: `rotate(-90 ${ax.toFixed(1)} ${ay.toFixed(1)})`,
    }),
  ].join("");
}

function barsOf({ content: { from, to, heights } }: HistogramPlan, { x, y, floor }: Place): string {
  const step = (to - from) / heights.length;
  return heights
    .map((height, i) => {
      const [a, b] = [x(from + (i + 0.03) * step), x(from + (i + 0.97) * step)];
      return element("rect", { x: a, y: y(height), width: b - a, height: floor - y(height), fill: barColour });
    })
    .join("");
}

function curveOf({ content: { curve } }: HistogramPlan, { x, y, floor }: Place): string {
  if (curve === undefined) return "";
  const d = curve.points.map(([at, height]) => `${x(at).toFixed(1)},${y(height).toFixed(1)}`).join("L");
  const { left, plot } = histogramRoom;
  return (
    element("path", { d: `M${d}`, fill: "none", stroke: "#ffffff", "stroke-width": 5, "stroke-opacity": 0.9 }) +
    element("path", { d: `M${d}`, fill: "none", stroke: curveColour, "stroke-width": 2 }) +
    label(curve.label, left + 8, floor - plot + 12, { "font-size": 11, fill: curveColour })
  );
}

function intervalsOf({ intervals }: HistogramPlan, { x, start }: Place): string[] {
  const { left, row } = histogramRoom;
  return intervals.map(({ from, to, lines, ofCurve }, i) => {
    const middle = start + (i + 0.5) * row;
    const colour = ofCurve === true ? curveColour : ink;
    const first = middle + 4 - (lines.length - 1) * 7;
    const name = lines.map((text, k) =>
      label(text, left - 8, first + k * 14, { "font-size": 11, "text-anchor": "end" }),
    );
    return [
      ...name,
      line(x(from), middle, x(to), middle, colour, 2),
      line(x(from), middle - 6, x(from), middle + 6, colour, 2),
      line(x(to), middle - 6, x(to), middle + 6, colour, 2),
    ].join("");
  });
}
