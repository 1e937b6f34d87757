import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { leastSquares } from "../../kernel-lib/src/numerics/least-squares.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { agreeingDigits, fixture } from "../reference/digits.js";

interface Certified {
  design: string;
  coefficients: string[];
  standardDeviations: string[];
  residualStandardDeviation: string;
  rows: string[];
}
const { sets } = fixture<{ sets: Record<string, Certified> }>("nist/linear.json");

function design(set: Certified): { columns: number[][]; y: number[] } {
  const rows = set.rows.map((row) => row.split(" ").map(Number));
  const y = rows.map((row) => row[0]!);
  const x = rows.map((row) => row[1]!);
  if (set.design === "one column") return { y, columns: [x] };
  if (set.design === "columns") {
    return { y, columns: [y.map(() => 1), ...rows[0]!.slice(1).map((_, j) => rows.map((row) => row[j + 1]!))] };
  }
  const degree = Number(set.design.split(" ")[1]);
  return { y, columns: Array.from({ length: degree + 1 }, (_, k) => x.map((v) => v ** k)) };
}

/** digits that the coefficients must have in common with NIST's certified ones */
const required: Record<string, number> = {
  Norris: 12.5,
  Pontius: 12.9,
  NoInt1: 14.6,
  NoInt2: 14.6,
  Longley: 13,
  Filip: 7.1,
  Wampler1: 13,
  Wampler2: 13,
  Wampler3: 13,
  Wampler4: 13,
  Wampler5: 13,
};

describe("leastSquares", () => {
  for (const [name, set] of Object.entries(sets)) {
    it(`agrees with NIST's certified ${name} to ${required[name]} digits of the coefficients`, () => {
      const { columns, y } = design(set);
      const fit = leastSquares(columns, y);
      const digits = fit.coefficients.map((c, j) => agreeingDigits(c, set.coefficients[j]!));
      expect(Math.min(...digits), digits.map((d) => d.toFixed(1)).join(" ")).toBeGreaterThan(required[name]!);
      if (Number(set.residualStandardDeviation) === 0) {
        expect(fit.residualStandardDeviation).toBeLessThan(1e-8 * Math.max(...y));
        return;
      }
      const enough = name === "Filip" ? 7 : 12;
      expect(agreeingDigits(fit.residualStandardDeviation, set.residualStandardDeviation)).toBeGreaterThan(enough);
      set.standardDeviations.forEach((printed, j) => {
        const computed = fit.residualStandardDeviation * Math.sqrt(fit.covarianceFactor[j]![j]!);
        expect(agreeingDigits(computed, printed)).toBeGreaterThan(name === "Filip" ? 6 : 9);
      });
    });
  }

  it("agrees with NIST's certified standard deviation of Filip to 13 digits in an orthogonal basis", () => {
    const { rows, residualStandardDeviation } = sets.Filip!;
    const [y, x] = [0, 1].map((k) => rows.map((row) => Number(row.split(" ")[k]))) as [number[], number[]];
    const [low, high] = [Math.min(...x), Math.max(...x)];
    const u = x.map((v) => (2 * (v - low)) / (high - low) - 1);
    const columns = [x.map(() => 1), u];
    for (let k = 2; k <= 10; k++) {
      const [before, last] = [columns[k - 2]!, columns[k - 1]!];
      columns.push(u.map((v, i) => ((2 * k - 1) * v * last[i]! - (k - 1) * before[i]!) / k));
    }
    const digits = agreeingDigits(leastSquares(columns, y).residualStandardDeviation, residualStandardDeviation);
    expect(digits).toBeGreaterThan(13);
  });

  it("leaves residuals square to every column, and leverages that sum to the number of coefficients", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e6 }), fc.integer({ min: 1, max: 4 }), (seed, count) => {
        const stream = randomStream(seed);
        const columns = Array.from({ length: count }, () => Array.from({ length: 12 }, () => stream.normal()));
        const y = Array.from({ length: 12 }, () => stream.normal());
        const fit = leastSquares(columns, y);
        for (const column of columns) {
          expect(Math.abs(column.reduce((s, v, i) => s + v * fit.residuals[i]!, 0))).toBeLessThan(1e-13);
        }
        expect(fit.leverages.reduce((s, h) => s + h, 0)).toBeCloseTo(count, 12);
        expect(fit.degreesOfFreedom).toBe(12 - count);
      }),
      { numRuns: 50 },
    );
  });

  it("gives the textbook covariance factor of a line: 1/Sxx for the slope", () => {
    const { covarianceFactor } = leastSquares(
      [
        [1, 1, 1, 1],
        [-3, -1, 1, 3],
      ],
      [0, 1, 0, 2],
    );
    expect(covarianceFactor[0]![0]).toBeCloseTo(1 / 4, 14);
    expect(covarianceFactor[1]![1]).toBeCloseTo(1 / 20, 14);
    expect(covarianceFactor[0]![1]).toBeCloseTo(0, 14);
  });

  it("refuses a design that cannot be solved, naming the place", () => {
    const ones = [1, 1, 1];
    expect(() => leastSquares([ones, [2, 2, 2]], [1, 2, 3])).toThrow(
      "leastSquares: column 2 of 2 is a sum of the columns before it; leave it out, or add readings that tell them apart",
    );
    expect(() => leastSquares([ones], [1, Number.NaN, 3])).toThrow(
      "leastSquares: y holds NaN in row 2; leave the row out if it was not measured",
    );
    expect(() => leastSquares([[1, 2]], [1, 2, 3])).toThrow(
      "leastSquares: column 1 has 2 values where y has 3; give one a row",
    );
    expect(() => leastSquares([ones, ones, ones, ones], [1, 2, 3])).toThrow(
      "leastSquares: 3 observations for 4 coefficients; give at least one column and as many observations as columns",
    );
  });
});
