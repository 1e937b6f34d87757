import { describe, expect, it } from "vitest";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { input, Measured, measuredCoverage } from "../../kernel-lib/src/uncertainty/index.js";
import { refusal } from "../refusal.js";
import { coverageCases, coverageOf } from "./coverage-cases.js";

const read = (label: string, u: number, degreesOfFreedom: number) =>
  Measured.from(input.t({ label, estimate: um(0), standardUncertainty: um(u), degreesOfFreedom }));
const band = (rate: number, repeats: number) => 3.29 * Math.sqrt((rate * (1 - rate)) / repeats);

describe("measuredCoverage", () => {
  it("is 95 % for one mean of any number of readings, however few: Student's t is exact", () => {
    for (const nu of [1, 2, 4, 30]) {
      const { rate, repeats } = measuredCoverage(read("mean", 1, nu), { seed: 11 });
      expect(Math.abs(rate - 0.95), `ν = ${nu}`).toBeLessThan(band(0.95, repeats));
    }
  });

  it("is 100 % for one rectangular input, and 91 % for two readings beside ten that scatter alike", () => {
    const flat = Measured.from(input.rectangular({ label: "scale", estimate: um(0), halfWidth: um(3) }));
    expect(measuredCoverage(flat, { seed: 1 }).rate).toBe(1);
    const twoAndTen = read("two", 1 / Math.sqrt(2), 1).plus(read("ten", 1 / Math.sqrt(10), 9));
    const { rate, repeats } = measuredCoverage(twoAndTen, { seed: 2 });
    // 0.9055 of 200,000 counted apart from the package, with numpy
    expect(Math.abs(rate - 0.9055)).toBeLessThan(1.05 * band(0.9055, repeats));
  });

  it("is the same for the same seed, and needs one", () => {
    const mean = read("mean", 1, 3);
    expect(measuredCoverage(mean, { seed: 4 })).toEqual(measuredCoverage(mean, { seed: 4 }));
    expect(refusal(() => measuredCoverage(mean, {} as never)).code).toBe("seed");
  });
});

describe("intervals of budgets", () => {
  it("hold the truth in 94 to 96 of 100 measurements where that is claimed, within the band of 1,000", () => {
    for (const one of coverageCases.filter(({ claimed }) => claimed)) {
      const rate = coverageOf(one, 1000, 29);
      expect(rate, one.name).toBeGreaterThan(0.94 - band(0.94, 1000));
      expect(rate, one.name).toBeLessThan(0.96 + band(0.96, 1000));
    }
  });
});
