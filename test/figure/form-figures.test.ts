import { describe, expect, it } from "vitest";
import { formBars, residualMap, straightnessStrip } from "../../kernel-lib/src/figure/index.js";
import { makeUp, plane, straightness } from "../../kernel-lib/src/form/index.js";
import { mm } from "../../kernel-lib/src/quantity/index.js";
import { clubTable } from "./club-table.js";
import { liveWords, stillWords } from "./words.js";

const table = clubTable();
const strip = straightnessStrip(straightness(table, { along: "x", at: mm(100) }), { notes: ["open sheet"] });
const figures = {
  "straightness strip": strip,
  "bars of a form": formBars(makeUp(table), { notes: ["open sheet"] }),
  "map above a robust plane": residualMap(plane(table, { by: "bisquare" }), { notes: ["open sheet"] }),
};

describe.each(Object.entries(figures))("%s", (_, figure) => {
  it("says the same words live and still, with unit and what it is against", () => {
    const { texts } = figure;
    for (const words of [liveWords(figure), stillWords(figure)]) {
      for (const text of [texts.title, texts.subtitle, ...texts.axes, ...texts.lines, ...texts.marked]) {
        expect(words).toContain(text.replace(/\s+/g, " "));
      }
    }
    expect(texts.subtitle).toMatch(/travel/);
    expect(figure.still).not.toMatch(/NaN|Infinity|undefined/);
  });
});

describe("a straightness strip", () => {
  it("draws the zone as wide as it states and keeps a limit that is given", () => {
    const found = straightness(table, { along: "x", at: mm(100) });
    const half = found.minimumZone.width.raw.in("um") / 2;
    expect(strip.data[0]!.y).toEqual([half, half]);
    const { yaxis } = straightnessStrip(found, { limitUm: 40 }).layout as { yaxis: { range: number[] } };
    expect(yaxis.range).toEqual([-40, 40]);
    expect(strip.texts.lines[0]).toMatch(/^zone \d+\.\d µm as read, \d+\.\d+ µm ± \d\.\d+ µm \(k = 2\.\d\)$/);
  });
});

describe("the bars of a form", () => {
  it("share out the whole form without its tilt", () => {
    const shares = figures["bars of a form"].data[0]!.x as number[];
    // the tilt's own share is out of the reckoning; what order of terms takes is within a few percent
    expect(Math.abs(shares.reduce((s, v) => s + v, 0) - 100)).toBeLessThan(1);
  });
});
