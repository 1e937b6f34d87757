import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { compensation } from "../../kernel-lib/src/axis/compensation.js";
import { liftUnderPull } from "../../kernel-lib/src/axis/lift-under-pull.js";
import { positioning } from "../../kernel-lib/src/axis/positioning.js";
import { readPositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { readSmallMoves } from "../../kernel-lib/src/axis/small-moves-sheet.js";
import { deviationLimit, deviationPlot } from "../../kernel-lib/src/figure/deviation-plot.js";
import { ladderPlot } from "../../kernel-lib/src/figure/ladder-plot.js";
import { liftPlot } from "../../kernel-lib/src/figure/lift-plot.js";
import { newton } from "../../kernel-lib/src/index.js";
import { liveWords, stillWords } from "./words.js";

const data = resolve(import.meta.dirname, "../../data");
const found = positioning(readPositioning(resolve(data, "positioning-x.csv")));
const table = compensation(found);
const lift = liftUnderPull({
  free: readSmallMoves(resolve(data, "ladder-z-free.csv")),
  pulled: readSmallMoves(resolve(data, "ladder-z-pulled.csv")),
  weight: newton(690),
});
const limitUm = deviationLimit(table.before, table.after);

describe("figures of an axis", () => {
  it("before and after stand on one scale that holds the bands of both", () => {
    const [before, after] = [table.before, table.after].map(
      (one) => (deviationPlot(one, { limitUm }).layout as { yaxis: { range: readonly number[] } }).yaxis.range,
    );
    expect(before![1]).toBeGreaterThanOrEqual(limitUm);
    expect(after).toEqual(before);
    const reach = table.before.positions.map((p) => p.meanDown.in("um") + 2 * p.deviationDown.in("um"));
    expect(limitUm).toBeGreaterThanOrEqual(Math.max(...reach));
  });

  it.each([
    ["deviations", deviationPlot(found)],
    ["ladder", ladderPlot(readSmallMoves(resolve(data, "ladder-x.csv")))],
    ["lift", liftPlot(lift)],
  ])("%s: the live figure says what the still one says", (_, figure) => {
    for (const word of [figure.texts.title, ...figure.texts.axes, ...figure.texts.marked]) {
      expect(stillWords(figure)).toContain(word);
      expect(liveWords(figure)).toContain(word);
    }
  });
});

describe("words of a bracket", () => {
  const [width, height, letter] = [500, 280, 6.4];
  const free = readSmallMoves(resolve(data, "ladder-z-free.csv"));

  // "play 3.3 µm" stood upright across the two lines it measures
  it.each([
    ["play below the reading of the gauge", ladderPlot(free)],
    ["play", ladderPlot(readSmallMoves(resolve(data, "ladder-x.csv")))],
    ["R and B, as found", deviationPlot(table.before, { limitUm })],
    ["R and B, once corrected", deviationPlot(table.after, { limitUm })],
  ])("stand level, clear of every line and inside the plot: %s", (_, figure) => {
    const layout = figure.layout as unknown as Layout;
    const [x, y] = [layout.xaxis.range, layout.yaxis.range];
    const right = (at: number) => (width * (at - x[0])) / (x[1] - x[0]);
    const up = (at: number) => (height * (at - y[0])) / (y[1] - y[0]);
    const level = layout.annotations.filter((words) => words.xref === "x" && figure.texts.marked.includes(words.text));
    expect(level.length).toBeGreaterThan(0);
    for (const words of level) {
      const long = letter * words.text.length;
      const from = right(words.x) - { left: 0, center: long / 2, right: long }[words.xanchor];
      const foot = up(words.y) + words.yshift - (words.yanchor === "top" ? 11 : 0);
      expect(from).toBeGreaterThanOrEqual(0);
      expect(from + long).toBeLessThanOrEqual(width);
      expect(words.textangle).toBeUndefined();
      for (const line of figure.data as unknown as readonly Line[]) {
        for (const [across, at] of along(line, right, up)) {
          if (across >= from && across <= from + long) expect(at <= foot || at >= foot + 11).toBe(true);
        }
      }
    }
  });
});

interface Layout {
  readonly xaxis: { readonly range: readonly [number, number] };
  readonly yaxis: { readonly range: readonly [number, number] };
  readonly annotations: readonly {
    readonly text: string;
    readonly xref: string;
    readonly x: number;
    readonly y: number;
    readonly xanchor: "left" | "center" | "right";
    readonly yanchor: "top" | "bottom";
    readonly yshift: number;
    readonly textangle?: number;
  }[];
}

interface Line {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** places on a line, close together, in pixels from the foot of the plot */
function along(
  line: Line,
  right: (x: number) => number,
  up: (y: number) => number,
): readonly (readonly [number, number])[] {
  return line.x.slice(1).flatMap((x, i) =>
    Array.from({ length: 21 }, (_, k) => {
      const mix = (from: number, to: number) => from + (k / 20) * (to - from);
      return [right(mix(line.x[i]!, x)), up(mix(line.y[i]!, line.y[i + 1]!))] as const;
    }),
  );
}
