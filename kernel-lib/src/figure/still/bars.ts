import { type BarsPlan, barColour, barsRoom } from "../bars-plan.js";
import { figureWidth, frameRoom, hairline, softInk } from "../frame.js";
import { element, label, line, stillFrame } from "./svg.js";

/** The bars as a still picture. */
export function stillBars(plan: BarsPlan): string {
  const { left, right, row } = barsRoom;
  const top = frameRoom(plan.texts).above + barsRoom.top;
  const width = figureWidth - left - right;
  const bottom = top + plan.rows.length * row;
  const toX = (value: number): number => left + (value / plan.end) * width;
  const grid = plan.ticks.map(({ at, text }) => {
    const x = toX(at);
    return (
      line(x, top, x, bottom, hairline) + label(text, x, bottom + 15, { "font-size": 11, "text-anchor": "middle" })
    );
  });
  const drawn = plan.rows.map(({ value, text, lines }, i) => {
    const middle = top + (i + 0.5) * row;
    const size = { width: toX(value) - left, height: 0.62 * row };
    const bar = element("rect", { x: left, y: middle - 0.31 * row, ...size, fill: barColour });
    const first = middle + 4 - (lines.length - 1) * 7;
    const name = lines.map((part, k) => label(part, left - 8, first + k * 14, { "text-anchor": "end" }));
    return [bar, ...name, label(text, toX(value) + 5, middle + 4)].join("");
  });
  const axis = [
    line(left, top, left, bottom, softInk),
    label(plan.texts.axes[0]!, left + width / 2, bottom + 33, { "text-anchor": "middle" }),
  ];
  return stillFrame(plan.texts, plan.alt, plan.height, [...grid, ...drawn, ...axis].join(""));
}
