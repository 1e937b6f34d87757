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
