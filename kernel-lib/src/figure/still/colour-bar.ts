import { type ColourScale, colourAt } from "../colour.js";
import { hairline, softInk } from "../frame.js";
import type { Tick } from "../ticks.js";
import { element, label, line } from "./svg.js";

export interface BarPlace {
  readonly x: number;
  readonly y: number;
  readonly height: number;
}

/** A colour bar with its ticks and the quantity above it. */
export function colourBar(
  { x, y, height }: BarPlace,
  scale: ColourScale,
  [low, high]: readonly [number, number],
  ticks: readonly Tick[],
  title: string,
): string {
  const steps = 32;
  const step = height / steps;
  const blocks = Array.from({ length: steps }, (_, i) =>
    element("rect", {
      x,
      y: y + i * step,
      width: 12,
      height: step + 0.3,
      fill: colourAt(scale, 1 - (i + 0.5) / steps),
    }),
  );
  const marks = ticks.map(({ at, text }) => {
    const place = y + height * (1 - (at - low) / (high - low));
    return line(x + 12, place, x + 16, place, softInk) + label(text, x + 19, place + 4, { "font-size": 11 });
  });
  const rim = element("rect", { x, y, width: 12, height, fill: "none", stroke: hairline });
  return [label(title, x, y - 10, { "font-size": 11 }), ...blocks, rim, ...marks].join("");
}
