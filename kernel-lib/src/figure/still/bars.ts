import { type BarRow, type BarsPlan, barColour, barsRoom, limitWordsEnd, reachOf, topOf } from "../bars-plan.js";
import { figureWidth, frameRoom, hairline, ink, softInk } from "../frame.js";
import { element, label, line, stillFrame } from "./svg.js";

/** The bars as a still picture. */
export function stillBars(plan: BarsPlan): string {
  const { left } = barsRoom;
  const { right, row } = plan;
  const top = frameRoom(plan.texts).above + topOf(plan.limit);
  const width = figureWidth - left - right;
  const bottom = top + plan.rows.length * row;
  const toX = (value: number): number => left + (value / plan.end) * width;
  const grid = plan.ticks.map(({ at, text }) => {
    const x = toX(at);
    return (
      line(x, top, x, bottom, hairline) + label(text, x, bottom + 15, { "font-size": 11, "text-anchor": "middle" })
    );
  });
  const drawn = plan.rows.map((one, i) => {
    const { value, text, lines } = one;
    const middle = top + (i + 0.5) * row;
    const size = { width: toX(value) - left, height: 21 };
    const bar = element("rect", { x: left, y: middle - 10.5, ...size, fill: barColour });
    const first = middle + 4 - (lines.length - 1) * 7;
    const name = lines.map((part, k) => label(part, left - 8, first + k * 14, { "text-anchor": "end" }));
    const beside = plan.wordsUnderName ? "" : label(text, toX(reachOf(one)) + 5, middle + 4);
    return [bar, ...name, whisker(one, middle, toX), beside].join("");
  });
  const words = { text: plan.limit?.text ?? "", anchor: limitWordsEnd(plan) ? "end" : "middle" };
  const limit = plan.limit ? limitLine(toX(plan.limit.at), top, bottom, words) : "";
  const axis = [
    line(left, top, left, bottom, softInk),
    label(plan.texts.axes[0]!, left + width / 2, bottom + 33, { "text-anchor": "middle" }),
  ];
  return stillFrame(plan.texts, plan.alt, plan.height, [...grid, ...drawn, limit, ...axis].join(""));
}

function whisker({ value, low = value, high = value }: BarRow, middle: number, toX: (value: number) => number): string {
  if (low === high) return "";
  const end = (x: number) => line(x, middle - 5, x, middle + 5, ink, 1.5);
  return line(toX(low), middle, toX(high), middle, ink, 1.5) + end(toX(low)) + end(toX(high));
}

function limitLine(x: number, top: number, bottom: number, { text, anchor }: { text: string; anchor: string }): string {
  const drawn = element("line", {
    x1: x,
    y1: top - 2,
    x2: x,
    y2: bottom,
    stroke: ink,
    "stroke-width": 1.2,
    "stroke-dasharray": "5 3",
  });
  return drawn + label(text, x, top - 6, { "font-size": 11, "text-anchor": anchor });
}
