import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { heightsAlong, levelLine, straightness, straightnessOf } from "../../kernel-lib/src/form/index.js";
import { minimumZoneLine, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { arcsec, mm, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { decimalsOf, fixture } from "../reference/digits.js";
import { binomialBand } from "./coverage.js";
import { type Form, forms, grid, planted } from "./planted.js";

const published = fixture<{
  baseMm: string;
  forwardArcsec: string[];
  backwardArcsec: string[];
  cumulativeUm: string[];
  endPoints: string;
  leastSquares: string;
  minimumZone: string;
  minimumZoneTrueSecond: string;
}>("form/autocollimator-line.json");

/** the first reading is the zero of the others: the six after it are six steps between seven places */
const steps = published.forwardArcsec.map((v, i) => (Number(v) + Number(published.backwardArcsec[i])) / 2);
const line = (secondTakenAs?: ReturnType<typeof umPerM>) =>
  levelLine({
    name: "guide",
    base: mm(Number(published.baseMm)),
    passes: [steps.slice(1).map((v) => arcsec(v - steps[0]!))],
    maximumPermissibleError: arcsec(0.1),
    resolution: arcsec(0.1),
    ...(secondTakenAs ? { secondTakenAs } : {}),
  });

describe("straightness of a line of levels", () => {
  it("gives the published heights and widths, 1″ taken as 0.5 µm over the base", () => {
    const found = straightnessOf(line(umPerM(5)));
    expect(heightsAlong(found.line).map((z) => Number(z.toFixed(6)))).toEqual(published.cumulativeUm.map(Number));
    const raw = (figure: typeof found.minimumZone, text: string) => figure.width.raw.in("um").toFixed(decimalsOf(text));
    expect(raw(found.endPoints, published.endPoints)).toBe(published.endPoints);
    expect(raw(found.leastSquares, published.leastSquares)).toBe(published.leastSquares);
    expect(raw(found.minimumZone, published.minimumZone)).toBe(published.minimumZone);
  });

  it("gives the computed width with the true second", () => {
    const text = published.minimumZoneTrueSecond;
    expect(straightnessOf(line()).minimumZone.width.raw.in("um").toFixed(decimalsOf(text))).toBe(text);
  });

  it("holds a planted bow within U as often as claimed, the noise of each step carried on, 100 lines", () => {
    const noise = 0.5;
    const bow = Array.from({ length: 11 }, (_, i) => 8 * (1 - ((i - 5) / 5) ** 2));
    const truth = minimumZoneLine([...bow.keys()], bow).zone;
    let held = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const stream = randomStream(seed);
      const pass = () => bow.slice(1).map((z, i) => umPerM((z - bow[i]! + noise * stream.normal()) * 10));
      const read = levelLine({
        name: "guide",
        base: mm(100),
        passes: [pass(), pass()],
        maximumPermissibleError: umPerM(0.001),
        resolution: umPerM(0.001),
      });
      const { overall } = straightnessOf(read);
      held += Math.abs(overall.in("um") - truth) <= overall.expandedUncertainty().in("um") ? 1 : 0;
    }
    const [low] = binomialBand(100, 0.95);
    console.log(`straightness from levels held ${held} of 100, at least ${low}`);
    expect(held).toBeGreaterThanOrEqual(low);
  });

  it("refuses uneven passes, two places and a reading that is none", () => {
    const more = { name: "guide", base: mm(100), maximumPermissibleError: arcsec(1), resolution: arcsec(1) };
    const run = (...passes: number[][]) => levelLine({ ...more, passes: passes.map((pass) => pass.map(arcsec)) });
    expect(() => run([1])).toThrow(
      "straightness: guide has 2 places in line; three are needed at least, measure between",
    );
    expect(() => run([1, 2, 3], [1, 2])).toThrow(
      "straightness: guide has passes of 3, 2 readings; give each step in every pass",
    );
  });
});

describe("straightness of a row or column of a map", () => {
  const { surface } = planted({ form: forms.bow!, noiseUm: 1, passes: 2, seed: 4 });

  it("finds the bow of a row and the straightness of a column", () => {
    const row = straightness(surface, { along: "x", at: mm(80) });
    expect(Math.abs(row.overall.in("um") - 20)).toBeLessThan(row.overall.expandedUncertainty().in("um"));
    expect(row.line.labels).toEqual(grid.filter((p) => p.yMm === 80).map((p) => p.label));
    const column = straightness(surface, { along: "y", at: mm(150) });
    expect(column.overall.in("um")).toBeLessThan(3);
    expect(`${row}`).toMatch(
      /^straightness of planted map, y 80 mm along x, relative to gravity: \d\d\.\d+ µm ± \d\.\d+ µm \(k = 2\.\d\) \(minimum zone /,
    );
  });

  it("names the lines there are where none is at the place asked for", () => {
    expect(() => straightness(surface, { along: "x", at: mm(61) })).toThrow(
      "straightness: no places of planted map at y 61 mm; there are some at 0, 40, 80, 120, 160, 200, 240, 280, 320 mm",
    );
  });

  it("holds the truth of a row as often as claimed for a bow and for a straight line, 100 maps each", () => {
    for (const [name, form] of [
      ["bow", forms.bow!],
      ["flat", forms.flat!],
    ] as readonly [string, Form][]) {
      const truth = minimumZoneLine(
        grid.slice(0, 10).map((p) => p.xMm),
        grid.slice(0, 10).map((p) => form(p.xMm, 0)),
      ).zone;
      let held = 0;
      for (let seed = 1; seed <= 100; seed++) {
        const map = planted({ form, noiseUm: 2, passes: 2, seed }).surface;
        const { overall } = straightness(map, { along: "x", at: mm(0) });
        held += Math.abs(overall.in("um") - truth) <= overall.expandedUncertainty().in("um") ? 1 : 0;
      }
      const [low] = binomialBand(100, 0.95);
      console.log(`straightness of a ${name} row held ${held} of 100, at least ${low}`);
      expect(held, name).toBeGreaterThanOrEqual(low);
    }
  });
});

describe("minimumZoneLine", () => {
  it("is as thick as the thickest strip that any three points need, never more than the least-squares range", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 3, max: 14 }), (seed, count) => {
        const stream = randomStream(seed);
        const t = Array.from({ length: count }, (_, i) => (seed % 2 ? i : Math.floor(6 * stream.uniform())));
        [t[0], t[1]] = [0, 9];
        const z = t.map(() => (seed % 3 ? stream.normal() : Math.floor(3 * stream.uniform())));
        let thickest = 0;
        for (let i = 0; i < count; i++)
          for (let j = 0; j < count; j++)
            for (let k = 0; k < count; k++) {
              if (!(t[i]! <= t[k]! && t[k]! <= t[j]!) || new Set([i, j, k]).size < 3) continue;
              const part = t[i] === t[j] ? 0 : (t[k]! - t[i]!) / (t[j]! - t[i]!);
              const chord = (1 - part) * z[i]! + part * z[j]!;
              // two at one place need their own distance
              thickest = Math.max(thickest, Math.abs(chord - z[k]!), t[k] === t[j] ? Math.abs(z[j]! - z[k]!) : 0);
            }
        const found = minimumZoneLine(t, z);
        expect(found.zone).toBeCloseTo(thickest, 10);
        const off = z.map((v, i) => v - found.slope * t[i]! - found.offset);
        expect(Math.max(...off.map(Math.abs))).toBeLessThanOrEqual(found.zone / 2 + 1e-10);
      }),
      { numRuns: 300 },
    );
  });
});
