import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { conformanceProbability, smallestChange, verdict } from "../../kernel-lib/src/conformity/index.js";
import { normalCdf, simultaneousFactor } from "../../kernel-lib/src/numerics/index.js";
import { degC, kelvin, mm, plain, um } from "../../kernel-lib/src/quantity/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { evenly } from "../evenly.js";
import { refusal } from "../refusal.js";

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
      "not decided: 23.0 µm ± 3.9 µm (k = 2.0) against at most 20 µm (the job); guard 3.3 µm = 1.645 u on either side of the limit (ISO 14253-1:2017, its default of 95 %)",
    );
    expect(`${verdict(height(5, 2, 6), { lower: um(1), upper: um(20) })}`).toBe(
      "conforms: 5.0 µm ± 4.9 µm (k = 2.4) against between 1 µm and 20 µm (source not stated); guard 3.3 µm = 1.645 u on either side of the limit (ISO 14253-1:2017, its default of 95 %); u rests on few readings (6 degrees of freedom), with Student's t the factor would be 1.94",
    );
  });

  it("agrees with the conformance probability: conforms means at least 95 %, does not conform at most 5 %", () => {
    fc.assert(
      fc.property(evenly(0, 40), evenly(0.01, 9), (y, u) => {
        const { decision, probability } = verdict(height(y, u), { upper: um(20) });
        if (decision === "conforms") expect(probability).toBeGreaterThanOrEqual(0.95 - 1e-9);
        else if (decision === "does not conform") expect(probability).toBeLessThanOrEqual(0.05 + 1e-9);
        else expect(Math.abs(probability - 0.5)).toBeLessThanOrEqual(0.45 + 1e-9);
      }),
    );
  });

  it("takes the guard of the level agreed on: 2.3263 u at 99 % (normal table, upper 1 % point)", () => {
    const at = (value: number) => verdict(height(value, 2), { upper: um(20) }, { level: 0.99 });
    expect(at(20 - 4.66).decision).toBe("conforms");
    expect(at(20 - 4.65).decision).toBe("not decided");
    expect(at(12).rule()).toBe("guard 4.7 µm = 2.326 u on either side of the limit (ISO 14253-1:2017 at 99 %)");
    expect(verdict(height(12, 2), { upper: um(20) }, { level: 0.975 }).rule()).toContain(
      "(ISO 14253-1:2017 at 97.5 %)",
    );
    expect(refusal(() => verdict(height(1, 1), { upper: um(2) }, { level: 1 })).code).toBe("probability");
  });

  it("says the same of a value above a lower limit as of its mirror image below an upper one", () => {
    fc.assert(
      fc.property(evenly(-40, 40), evenly(0.01, 9), (y, u) => {
        const above = verdict(height(y, u), { lower: um(20) });
        const below = verdict(height(-y, u), { upper: um(-20) });
        expect(above.decision).toBe(below.decision);
        expect(above.probability).toBeCloseTo(below.probability, 12);
      }),
      { seed: 14253 },
    );
    expect(`${verdict(height(30, 2), { lower: um(20) })}`).toMatch(/^conforms: 30\.0 µm .* against at least 20 µm /);
  });

  it("names Student's factor below 15 degrees of freedom: 1.76 for 14 (table), never for fewer than 1", () => {
    const rule = (nu: number) => verdict(height(5, 2, nu), { upper: um(20) }).rule();
    expect(rule(14)).toMatch(/\(14 degrees of freedom\), with Student's t the factor would be 1\.76$/);
    expect(rule(14.9)).toContain("(14 degrees of freedom)");
    expect(rule(15)).not.toContain("Student");
    expect(rule(1)).toMatch(/would be 6\.31$/);
  });

  it("keeps a guard of a temperature in kelvin and prints in inch units when asked", () => {
    const warm = Measured.from(input.normal({ label: "t", estimate: degC(21), standardUncertainty: kelvin(0.5) }));
    const found = verdict(warm, { lower: degC(19), upper: degC(23) });
    expect(found.decision).toBe("conforms");
    expect(found.guard.kind).toBe("temperature difference");
    expect(verdict(height(254, 2.54), { lower: um(25.4), upper: um(508) }).sentence("inch")).toMatch(
      /^conforms: 10\.00 thou .* against between 1 thou and 20 thou \(source not stated\); guard 1\.6 tenth /,
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
    expect(refusal(() => verdict(height(1, 1), {})).code).toBe("tolerance");
    expect(refusal(() => verdict(height(1, 1), { upper: plain(20) as never })).code).toBe("tolerance");
    expect(refusal(() => verdict(height(1, 1), { upper: um(1), lower: um(1) }))).toEqual({
      code: "tolerance",
      message: "verdict: the lower limit 1 µm is not below the upper limit 1 µm; exchange them",
    });
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
    expect(conformanceProbability(exact, { lower: um(21) })).toBe(0);
    expect(conformanceProbability(exact, { lower: um(20), upper: um(21) })).toBe(1);
    expect(conformanceProbability(exact, { lower: um(21), upper: um(22) })).toBe(0);
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
    // 2.086: table of Student's t, 20 degrees of freedom
    expect(smallestChange(um(1), { degreesOfFreedom: 20 }).atNamedPlace.in("um").toFixed(3)).toBe("2.086");
    expect(`${smallestChange(um(1), { degreesOfFreedom: 20 })}`).toContain("(2.09 u of the difference)");
    const { foundEightInTen, atNamedPlace } = smallestChange(um(1));
    expect(normalCdf(foundEightInTen.in("um") - atNamedPlace.in("um"))).toBeCloseTo(0.8, 10);
    const each = 2 * (1 - normalCdf(simultaneousFactor(90)));
    expect(1 - (1 - each) ** 90).toBeCloseTo(0.05, 10);
  });

  it("refuses a difference without uncertainty", () => {
    expect(() => smallestChange(um(0))).toThrow(
      "smallestChange: the difference has an uncertainty of 0 µm; give one greater than zero",
    );
    expect(refusal(() => smallestChange(um(-1))).code).toBe("uncertainty");
    expect(refusal(() => smallestChange(1 as never)).message).toBe(
      "smallestChange: the difference has an uncertainty of 1; give one greater than zero",
    );
    expect(() => smallestChange(um(1), { places: 0 })).toThrow(
      "simultaneousFactor: 0 places; give a whole number from 1",
    );
  });

  it("takes Student's factor where u rests on few readings: 2.57 u for 5 degrees of freedom at one place (table)", () => {
    expect(smallestChange(um(1), { degreesOfFreedom: 5 }).anywhere.in("um").toFixed(2)).toBe("2.57");
    expect(`${smallestChange(um(1))}`).not.toContain("anywhere");
    expect(smallestChange(um(25.4), { places: 2 }).sentence("inch")).toContain("anywhere among 2 places 2.2 thou");
  });
});
