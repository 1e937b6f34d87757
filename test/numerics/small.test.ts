import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { huberFit } from "../../kernel-lib/src/numerics/huber.js";
import { median } from "../../kernel-lib/src/numerics/median.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { cholesky, semidefiniteFactor, solveSymmetric } from "../../kernel-lib/src/numerics/symmetric.js";

describe("median", () => {
  it("is the middle of the sorted values, the input left alone", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 1, maxLength: 60 }), (values) => {
        const kept = [...values];
        const sorted = [...values].sort((a, b) => a - b);
        const n = sorted.length;
        expect(median(values)).toBe((sorted[(n - 1) >> 1]! + sorted[n >> 1]!) / 2);
        expect(values).toEqual(kept);
      }),
    );
  });
});

describe("cholesky and solveSymmetric", () => {
  it("factor and solve a matrix made from a known factor", () => {
    const a = [
      [4, 2, -2],
      [2, 10, 5],
      [-2, 5, 21],
    ];
    const l = cholesky(a);
    a.forEach((row, i) => {
      row.forEach((v, j) => {
        expect(l[i]!.reduce((s, w, k) => s + w * l[j]![k]!, 0)).toBeCloseTo(v, 13);
      });
    });
    // the matrix times 2, −3, 5
    const x = solveSymmetric(a, [-8, -1, 86]);
    expect(x.map((v) => v.toFixed(12))).toEqual(["2.000000000000", "-3.000000000000", "5.000000000000"]);
  });

  it("factor a matrix in which a row follows from another, and find the row that contradicts", () => {
    const like = (third: number) => [
      [1, 1, 0.5],
      [1, 1, third],
      [0.5, third, 1],
    ];
    expect(semidefiniteFactor(like(0.5))).toEqual([
      [1, 0, 0],
      [1, 0, 0],
      [0.5, 0, Math.sqrt(0.75)],
    ]);
    expect(semidefiniteFactor(like(0.2))).toBe(2);
  });

  it("refuse a matrix that is not positive definite", () => {
    expect(() =>
      cholesky([
        [1, 2],
        [2, 4],
      ]),
    ).toThrow(
      "cholesky: row 2 of 2 follows from the rows before it or contradicts them; check the entries for a sign or a copied line",
    );
    expect(() => cholesky([[Number.NaN]])).toThrow("row 1 of 1");
  });
});

describe("huberFit", () => {
  it("keeps to the line of the many when one reading in ten is far off, where least squares would not", () => {
    const stream = randomStream(8);
    const x = Array.from({ length: 50 }, (_, i) => i);
    const y = x.map((v) => 2 + 0.5 * v + 0.1 * stream.normal() + (v % 10 === 3 ? 20 : 0));
    const fit = huberFit([x.map(() => 1), x], y);
    expect(fit.coefficients[1]!).toBeCloseTo(0.5, 2);
    expect(fit.weights.filter((w) => w < 0.1)).toHaveLength(5);
  });

  it("satisfies its own equation: the clipped residuals are square to every column", () => {
    const stream = randomStream(9);
    const x = Array.from({ length: 40 }, () => stream.uniform());
    const y = x.map((v) => v + stream.normal() ** 3);
    const columns = [x.map(() => 1), x];
    const { residuals, scale } = huberFit(columns, y);
    const clipped = residuals.map((r) => Math.max(-1.345 * scale, Math.min(1.345 * scale, r)));
    for (const column of columns) {
      expect(Math.abs(column.reduce((s, v, i) => s + v * clipped[i]!, 0))).toBeLessThan(1e-7);
    }
  });
});
