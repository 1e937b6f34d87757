import { expect, it } from "vitest";
import { bedding } from "../../kernel-lib/src/facing/index.js";
import { gapMap, springBackMap } from "../../kernel-lib/src/figure/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { aMap } from "../facing/a-map.js";
import { aHoldDown } from "../facing/a-plate.js";
import { liveWords, stillWords } from "./words.js";

const hollow = aMap((x) => 30 * ((x - 260) / 240) ** 2, { noiseUm: 0.5, gaugeUm: 1 });
const bed = bedding(hollow, aHoldDown(), { underside: { flatWithin: um(4) }, draws: 20 });

it.each(Object.entries({ loose: gapMap(bed, "loose"), tight: gapMap(bed, "tight", 20), released: springBackMap(bed) }))(
  "says the same words live and still: %s",
  (_, figure) => {
    const { title, subtitle, axes, edges, lines, marked } = figure.texts;
    expect(marked.length).toBeGreaterThan(20);
    for (const words of [liveWords(figure), stillWords(figure)]) {
      for (const text of [title, subtitle, ...axes, ...edges, ...lines, ...marked]) expect(words).toContain(text);
    }
    expect(figure.still).not.toMatch(/NaN|undefined/);
  },
);

it("draws two gaps on one scale where the limit is given", () => {
  const [a, b] = [gapMap(bed, "loose", 40), gapMap(bed, "tight", 40)].map(({ data }) => data[0]!.zmax);
  expect([a, b]).toEqual([40, 40]);
});
