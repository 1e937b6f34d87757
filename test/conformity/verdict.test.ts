import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { conformanceProbability, smallestChange, verdict } from "../../kernel-lib/src/conformity/index.js";
import { normalCdf, simultaneousFactor } from "../../kernel-lib/src/numerics/index.js";
import { mm, plain, um } from "../../kernel-lib/src/quantity/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";

const height = (value: number, u: number, degreesOfFreedom = Number.POSITIVE_INFINITY) =>
  Measured.from(input.normal({ label: "h", estimate: um(value), standardUncertainty: um(u), degreesOfFreedom }));

describe("verdict", () => {
  it("decides with a guard of 1.6449 u on either side of an upper limit (ISO 14253-1:2017, from memory)", () => {
    const at = (value: number) => verdict(height(value, 2), { upper: um(20) }).decision;
    expect(at(20 - 3.29)).toBe("conforms");
    expect(at(20 - 3.28)).toBe("not decided");
    expect(at(20)).toBe("not decided");
    expect(at(20 + 3.28)).toBe("not decided");
    expect(at(20 + 3.3)).toBe("does not conform");
    expect(verdict(height(20, 2), { upper: um(20) }).guardFactor.toFixed(4)).toBe("1.6449");
  });

  it("says the word first, then value, limit, source and guard", () => {
    expect(`${verdict(height(23, 2), { upper: um(20), source: "the job" })}`).toBe(
      "not decided: 23.0 µm ± 3.9 µm (k = 2.0) against at most 20 µm (the job); guard 3.3 µm = 1.6449 u on either side of the limit (ISO 14253-1:2017, its default of 95 %)",
    );
    expect(`${verdict(height(5, 2, 6), { lower: um(1), upper: um(20) })}`).toBe(
      "conforms: 5.0 µm ± 4.9 µm (k = 2.4) against between 1 µm and 20 µm (source not stated); guard 3.3 µm = 1.6449 u on either side of the limit (ISO 14253-1:2017, its default of 95 %); u rests on few readings (6 degrees of freedom), with Student's t the factor would be 1.94",
    );
  });

  it("agrees with the conformance probability: conforms means at least 95 %, does not conform at most 5 %", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 40, noNaN: true }),
        fc.double({ min: 0.01, max: 9, noNaN: true }),
        (y, u) => {
          const { decision, probability } = verdict(height(y, u), { upper: um(20) });
          if (decision === "conforms") expect(probability).toBeGreaterThanOrEqual(0.95 - 1e-9);
          else if (decision === "does not conform") expect(probability).toBeLessThanOrEqual(0.05 + 1e-9);
          else expect(Math.abs(probability - 0.5)).toBeLessThanOrEqual(0.45 + 1e-9);
        },
      ),
    );
  });

  it("is never won by a value that is no number", () => {
    const lost = Object.create(Measured.prototype, {
      value: { value: { kind: "length", si: Number.NaN } },
      kind: { value: "length" },
      terms: { value: [] },
    }) as Measured<"length">;
    expect(verdict(lost, { upper: um(20) }).decision).toBe("not decided");
  });

  it("refuses a tolerance that is none", () => {
    expect(() => verdict(height(1, 1), {})).toThrow("verdict: no limit is given; give upper, lower or both");
    expect(() => verdict(height(1, 1), { upper: um(1), lower: um(2) })).toThrow(
      "verdict: the lower limit 2 µm is not below the upper limit 1 µm; exchange them",
    );
    expect(() => verdict(height(1, 1), { upper: plain(20) as never })).toThrow(
      "verdict: the limit 20 is no length; give it as the measured value is given",
    );
  });
});

describe("conformanceProbability", () => {
  it("agrees with the worked values of JCGM 106: 0.9192 and 0.6626 (from memory, recomputed)", () => {
    const of = (y: number, u: number) =>
      Measured.from(input.normal({ label: "y", estimate: plain(y), standardUncertainty: plain(u) }));
    expect(conformanceProbability(of(-5.47, 0.05), { upper: plain(-5.4) }).toFixed(4)).toBe("0.9192");
    expect(conformanceProbability(of(13.6, 1.8), { lower: plain(12.5), upper: plain(16.3) }).toFixed(4)).toBe("0.6626");
  });

  it("is 0 or 1 where nothing is in doubt, the limit itself conforming", () => {
    const exact = Measured.of(um(20), []);
    expect(conformanceProbability(exact, { upper: um(20) })).toBe(1);
    expect(conformanceProbability(exact, { lower: um(20) })).toBe(1);
    expect(conformanceProbability(exact, { upper: um(19) })).toBe(0);
  });
});

describe("smallestChange", () => {
  it("is 1.96 u at a named place, 2.80 u to be found 8 times in 10, 3.18, 3.45 and 3.58 u among 35, 90 and 150", () => {
    const change = smallestChange(mm(1), { places: 90 });
    expect(change.atNamedPlace.in("mm").toFixed(2)).toBe("1.96");
    expect(change.foundEightInTen.in("mm").toFixed(2)).toBe("2.80");
    expect([35, 90, 150].map((n) => simultaneousFactor(n).toFixed(2))).toEqual(["3.18", "3.45", "3.58"]);
    expect(`${smallestChange(um(1.2), { places: 90 })}`).toBe(
      "smallest change: 2.4 µm at one place named beforehand (1.96 u of the difference), 3.4 µm to be found 8 times in 10 (2.80 u); anywhere among 90 places 4.1 µm (3.45 u, 5 false alarms in 100 whole surveys)",
    );
  });

  it("keeps its promises: power 0.8 at 2.80 u, five alarms in 100 for all places together", () => {
    const { foundEightInTen, atNamedPlace } = smallestChange(um(1));
    expect(normalCdf(foundEightInTen.in("um") - atNamedPlace.in("um"))).toBeCloseTo(0.8, 10);
    const each = 2 * (1 - normalCdf(simultaneousFactor(90)));
    expect(1 - (1 - each) ** 90).toBeCloseTo(0.05, 10);
  });

  it("refuses a difference without uncertainty", () => {
    expect(() => smallestChange(um(0))).toThrow(
      "smallestChange: the difference has an uncertainty of 0 µm; give one greater than zero",
    );
    expect(() => smallestChange(um(1), { places: 0 })).toThrow(
      "simultaneousFactor: 0 places; give a whole number from 1",
    );
  });
});
