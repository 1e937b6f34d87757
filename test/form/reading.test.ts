import { describe, expect, it } from "vitest";
import { makeUp, reading } from "../../kernel-lib/src/form/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { binomialBand } from "./coverage.js";
import { type Form, grid, mapOf, planted } from "./planted.js";

const hollow: Form = (x) => -24 * (1 - ((x - 225) / 225) ** 2);
const patch: Form = (x, y) => (x <= 50 && y <= 40 ? 90 : 0);

describe("reading", () => {
  it("says bow and patch with their size, place and U, and that the rest is noise", () => {
    const form: Form = (x, y) => 0.05 * x + hollow(x, y) + patch(x, y);
    const found = reading(planted({ form, noiseUm: 2, passes: 2, seed: 3 }).surface);
    expect(found.sentence).toMatch(
      /^hollow by \d\d\.\d\d? µm ± 0\.\d+ µm along x, and a raised patch of (8|9)\d\.\d+ µm ± \d\.\d+ µm at the left front; what is left is the noise of the readings$/,
    );
    expect(Math.abs(found.makeUp.bowX.amplitude.in("um") + 24)).toBeLessThan(2);
  });

  it("names the high corners of a twist and a sunk patch, as the operator at FRONT sees them", () => {
    const twist: Form = (x, y) => -9 * ((x - 225) / 225) * ((y - 160) / 160) - (x >= 400 && y <= 40 ? 40 : 0);
    const { surface } = planted({ form: twist, noiseUm: 1, passes: 2, seed: 5 });
    expect(reading(surface).sentence).toMatch(
      /^twisted by 3\d\.\d+ µm ± \d\.\d+ µm \(right front and left back high\), and a sunk patch of [34]\d\.\d+ µm ± \d\.\d+ µm at the right front; /,
    );
    const turned = { ...surface, frame: { ...surface.frame, front: "y+", plusX: "left", plusY: "front" } as const };
    expect(reading(turned).sentence).toContain("left back and right front high");
  });

  it("says nothing of flat plates but the noise, in as many of 200 as its rate allows", () => {
    let silent = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const { parts } = reading(planted({ form: () => 0, noiseUm: 2, passes: 2, seed }).surface);
      silent += parts.length === 1 ? 1 : 0;
    }
    // five terms at 5 %, highs at 5 %, lows at 5 %, nine higher terms at 1 % each in both tests
    const [low] = binomialBand(200, 0.78);
    console.log(`nothing said of ${silent} of 200 flat plates, at least ${low}`);
    expect(silent).toBeGreaterThanOrEqual(low);
  });

  it("tells an uneven surface from the noise of the gauge", () => {
    const stream = randomStream(8);
    const rough = grid.map((p) => ({ ...p, zUm: 6 * stream.normal(), count: 2 }));
    expect(reading(mapOf(rough)).parts.at(-1)).toMatch(
      /^what is left, [56]\.\d µm \(standard deviation of a place\), is more than the 1\.0 µm of the readings explain/,
    );
  });
});

describe("the terms of makeUp beyond the five", () => {
  it("find planted third and fourth order, which the five do not change with", () => {
    const [P3, P4] = [(u: number) => (5 * u ** 3 - 3 * u) / 2, (u: number) => (35 * u ** 4 - 30 * u * u + 3) / 8];
    const form: Form = (x, y) => 7 * P3((x - 225) / 225) - 5 * P4((y - 160) / 160) + 10 * ((x - 225) / 225) ** 2;
    const found = makeUp(planted({ form, noiseUm: 1e-6, passes: 2, seed: 1 }).surface);
    const of = (name: string) => found.higher.find((term) => term.name === name)!;
    expect(of("x³").amplitude.in("um")).toBeCloseTo(7, 3);
    expect(of("y⁴").amplitude.in("um")).toBeCloseTo(-5, 3);
    expect(found.higher.map((term) => term.name)).toEqual(["x³", "x²y", "xy²", "y³", "x⁴", "x³y", "x²y²", "xy³", "y⁴"]);
    expect(found.restOfAll.share).toBeLessThan(1e-9);
    const sum = [...found.terms, ...found.higher].reduce((s, t) => s + t.share, found.restOfAll.share);
    expect(sum).toBeCloseTo(1, 12);
  });

  it("are left out where three columns cannot tell a third order", () => {
    const few = grid.filter((p) => p.xMm <= 100).map((p) => ({ ...p, zUm: p.yMm % 7, count: 2 }));
    expect(makeUp(mapOf(few)).higher).toEqual([]);
  });

  it("are not feigned by unevenness that neighbours share: p below 0.05 in not many more than 5 of 100 maps", () => {
    const count = { plain: 0, terms: 0 };
    for (let seed = 1; seed <= 60; seed++) {
      const stream = randomStream(seed);
      // each place half its left neighbour, half its own
      const heights: number[] = [];
      for (const p of grid) heights.push(5 * stream.normal() + (p.xMm > 0 ? 0.5 * heights.at(-1)! : 0));
      const found = makeUp(mapOf(grid.map((p, i) => ({ ...p, zUm: heights[i]!, count: 2 }))));
      for (const term of [found.bowX, found.bowY, found.twist]) {
        count.terms++;
        count.plain += term.beyondUnevenness.p < 0.05 ? 1 : 0;
      }
    }
    console.log(`terms held for real on correlated unevenness: ${count.plain} of ${count.terms}`);
    expect(count.plain / count.terms).toBeLessThan(0.12);
  });
});
