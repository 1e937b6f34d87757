import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Draws } from "../../kernel-lib/src/numerics/draws.js";
import { summariseSample, tCdf } from "../../kernel-lib/src/numerics/index.js";
import { ziggurat } from "../../kernel-lib/src/numerics/ziggurat.js";
import { evenly } from "../evenly.js";
import { refusal } from "../refusal.js";

/** by the definition, all values sorted */
function sorted(values: readonly number[], level: number) {
  const y = [...values].sort((a, b) => a - b);
  const q = Math.floor(level * y.length + 0.5);
  let r = 0;
  for (let i = 0; i + q < y.length; i++) if (y[i + q]! - y[i]! < y[r + q]! - y[r]!) r = i;
  const below = Math.floor((y.length - q + 1) / 2);
  return { shortest: [y[r], y[r + q]], symmetric: [y[below - 1], y[below - 1 + q]], range: [y[0], y.at(-1)] };
}

describe("summariseSample", () => {
  it("finds the intervals that sorting all values finds, ties and both tails included", () => {
    const sample = fc.array(fc.oneof(fc.integer({ min: -3, max: 3 }), evenly(-1e3, 1e3)), {
      minLength: 4,
      maxLength: 300,
    });
    fc.assert(
      fc.property(sample, fc.constantFrom(0.5, 0.6, 0.75), (values, level) => {
        const found = summariseSample(values, level);
        const wanted = sorted(values, level);
        expect(found.shortest.map(Math.fround)).toEqual(wanted.shortest.map((v) => Math.fround(v!)));
        expect(found.symmetric).toEqual(wanted.symmetric);
        expect(found.range).toEqual(wanted.range);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it("keeps its digits far from zero, and the order of the values alone", () => {
    const values = [1e9 + 4, 1e9 + 7, 1e9 + 13, 1e9 + 16];
    const { mean, standardDeviation } = summariseSample(values, 0.5);
    expect(mean).toBe(1e9 + 10);
    expect(standardDeviation).toBeCloseTo(Math.sqrt(30), 12);
    expect(values).toEqual([1e9 + 4, 1e9 + 7, 1e9 + 13, 1e9 + 16]);
  });

  it("refuses what has no interval, and values that are none", () => {
    expect(refusal(() => summariseSample([1, 2], 0.95)).message).toBe(
      "summariseSample: 2 values have no interval of 0.95; give a level between 0 and 1 and values enough to leave some outside",
    );
    expect(refusal(() => summariseSample([1], 0.5)).message).toBe(
      "summariseSample: 1 value has no interval of 0.5; give a level between 0 and 1 and values enough to leave some outside",
    );
    expect(refusal(() => summariseSample([1, Number.NaN, 2, 3], 0.5)).message).toBe(
      "summariseSample: a value is not a finite number; look for what made it",
    );
  });
});

describe("draws", () => {
  it("stacks the layers of Marsaglia and Tsang's published table", () => {
    // right end of the lowest of 256 layers (J. Stat. Softw. 5 (2000) 8, r for the normal law)
    expect(ziggurat().ends[1]!.toFixed(14)).toBe("3.65415288536101");
  });

  it.each([1, 2, 4.5, 18, 1e6, Number.POSITIVE_INFINITY])("draws the t law with ν = %s, tails included", (nu) => {
    const [draws, column, law] = [new Draws(), new Float64Array(10_000), ziggurat(nu)];
    const limits = [-12, -4, -2, -0.5, 0, 1, 3, 6];
    const counts = limits.map(() => 0);
    draws.start(5, 0);
    for (let block = 0; block < 20; block++) {
      draws.normal(column, 0, 1, law);
      for (const value of column) limits.forEach((limit, k) => void (value <= limit && counts[k]!++));
    }
    limits.forEach((limit, k) => {
      const p = tCdf(limit, nu);
      // 48 counts: 4.5 standard deviations and one count for the nearly impossible
      expect(Math.abs(counts[k]! - 200_000 * p)).toBeLessThan(1 + 4.5 * Math.sqrt(200_000 * p * (1 - p)));
    });
  });

  it("takes sines of quarter turns to 5 × 10⁻¹⁴", () => {
    const [draws, angles, sines] = [new Draws(), new Float64Array(5000), new Float64Array(5000)];
    draws.start(2, 0);
    draws.symmetric(angles);
    draws.start(2, 0);
    draws.arcsine(sines);
    angles.forEach((v, i) => {
      expect(Math.abs(sines[i]! - Math.sin((Math.PI / 2) * v))).toBeLessThan(5e-14);
    });
  });
});
