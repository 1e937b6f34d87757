import { describe, expect, it } from "vitest";
import {
  chiSquaredCdf,
  chiSquaredQuantile,
  fCdf,
  fQuantile,
  fUpperTail,
  normalCdf,
  normalQuantile,
  tCdf,
  tQuantile,
} from "../../kernel-lib/src/numerics/distributions.js";
import { decimalsOf, fixture } from "../reference/digits.js";

interface Quantiles {
  t: { twoSidedPercent: string[]; rows: Record<string, string[]> };
  chiSquared: { probability: string[]; rows: Record<string, string[]> };
  f: { probability: string[]; rows: Record<string, string[]> };
  extremes: [string, string, number[], string][];
}
const tables = fixture<Quantiles>("tables/quantiles.json");
const byName: Record<string, (p: number, a: number, b: number) => number> = {
  t: tQuantile,
  chiSquared: chiSquaredQuantile,
  f: fQuantile,
};

/** two-sided percent as printed; the sigma levels are the exact normal probabilities behind the print */
function twoSided(percent: string): number {
  const sigmas: Record<string, number> = { "68.27": 1, "95.45": 2, "99.73": 3 };
  const sigma = sigmas[percent];
  return sigma === undefined ? Number(percent) / 100 : 2 * normalCdf(sigma) - 1;
}

describe("quantiles", () => {
  it("agree with table B.1 of NIST TN 1297 in every printed digit", () => {
    const table = fixture<{ percent: string[]; rows: Record<string, string[]> }>("tables/student-t-tn1297.json");
    for (const [nu, row] of Object.entries(table.rows)) {
      row.forEach((printed, j) => {
        if (nu === "35" && j === 1) return;
        const p = 0.5 + twoSided(table.percent[j]!.slice(1)) / 2;
        expect(tQuantile(p, Number(nu)).toFixed(decimalsOf(printed)), `ν ${nu}, ${table.percent[j]}`).toBe(printed);
      });
    }
  });

  it("agree with the reference tables of t, chi-squared and F in all six decimals", () => {
    for (const [nu, row] of Object.entries(tables.t.rows)) {
      row.forEach((printed, j) => {
        const p = 0.5 + twoSided(tables.t.twoSidedPercent[j]!) / 2;
        expect(tQuantile(p, Number(nu)).toFixed(6), `t ν ${nu} ${p}`).toBe(printed);
      });
    }
    for (const [nu, row] of Object.entries(tables.chiSquared.rows)) {
      row.forEach((printed, j) => {
        expect(chiSquaredQuantile(Number(tables.chiSquared.probability[j]), Number(nu)).toFixed(6)).toBe(printed);
      });
    }
    for (const [key, row] of Object.entries(tables.f.rows)) {
      const [a, b] = key.split(",").map(Number) as [number, number];
      row.forEach((printed, j) => {
        expect(fQuantile(Number(tables.f.probability[j]), a, b).toFixed(6), `F ${key}`).toBe(printed);
      });
    }
  });

  it("agree with an outside library to nine digits for odd, tiny and very many degrees of freedom", () => {
    for (const [name, p, nu, published] of tables.extremes) {
      const computed = byName[name]!(Number(p), nu[0]!, nu[1] ?? 0);
      const error = Math.abs(computed / Number(published) - 1);
      expect(error, `${name} p ${p} ν ${nu}: ${computed} against ${published}`).toBeLessThan(3e-9);
    }
  });

  it("follow the Cornish-Fisher expansion of chi-squared where degrees of freedom are very many", () => {
    const nu = 1e8;
    const z = normalQuantile(1e-10);
    const expansion = nu + z * Math.sqrt(2 * nu) + (2 / 3) * (z * z - 1) + (z ** 3 - 7 * z) / (9 * Math.sqrt(2 * nu));
    expect(Math.abs(chiSquaredQuantile(1e-10, nu) / expansion - 1)).toBeLessThan(1e-12);
  });

  it("give the one-sided normal factors of a guard band (published: 0.8416 1.2816 1.6449 2.3263 3.0902)", () => {
    expect([0.8, 0.9, 0.95, 0.99, 0.999].map((p) => normalQuantile(p).toFixed(4))).toEqual([
      "0.8416",
      "1.2816",
      "1.6449",
      "2.3263",
      "3.0902",
    ]);
  });

  it("undo the distribution functions", () => {
    for (const p of [1e-12, 0.001, 0.2, 0.5, 0.77, 0.999]) {
      expect(normalCdf(normalQuantile(p)) / p).toBeCloseTo(1, 12);
      for (const nu of [0.6, 3, 47.3, 1e6]) {
        expect(tCdf(tQuantile(p, nu), nu) / p).toBeCloseTo(1, 11);
        expect(chiSquaredCdf(chiSquaredQuantile(p, nu), nu) / p).toBeCloseTo(1, 11);
        expect(fCdf(fQuantile(p, nu, 9), nu, 9) / p).toBeCloseTo(1, 11);
      }
    }
    expect(tQuantile(0.975, Number.POSITIVE_INFINITY)).toBe(normalQuantile(0.975));
  });

  it("know the closed forms: F(2, 4) above 3 is 1/(1 + 3/2)² and chi-squared with two degrees is exponential", () => {
    expect(fUpperTail(3, 2, 4)).toBeCloseTo(0.16, 14);
    expect(chiSquaredCdf(3, 2)).toBeCloseTo(1 - Math.exp(-1.5), 14);
    expect(tCdf(1, 1)).toBeCloseTo(0.75, 14);
  });

  it("keep their digits next to 1, where chi-squared and F with two degrees of freedom have closed forms", () => {
    for (const rest of [2 ** -10, 2 ** -30, 2 ** -48]) {
      // 1 − rest is exact
      expect(chiSquaredQuantile(1 - rest, 2) / (-2 * Math.log(rest))).toBeCloseTo(1, 13);
      for (const nu of [1, 5, 40]) {
        const closed = (nu / 2) * Math.expm1((-2 / nu) * Math.log(rest));
        expect(fQuantile(1 - rest, 2, nu) / closed).toBeCloseTo(1, 12);
      }
    }
  });

  it("leave nothing of F below zero", () => {
    for (const f of [0, -1, -10]) expect([fCdf(f, 1, 5), fUpperTail(f, 1, 5)]).toEqual([0, 1]);
  });

  it("refuse a probability or degrees of freedom outside their range, NaN included", () => {
    expect(() => tQuantile(1, 5)).toThrow("tQuantile: 1 is not a probability between 0 and 1; give one such as 0.95");
    expect(() => normalQuantile(Number.NaN)).toThrow("normalQuantile: NaN is not a probability");
    expect(() => tQuantile(0.9, Number.NaN)).toThrow(
      "tQuantile: NaN degrees of freedom; give a number greater than zero, Infinity for an exactly known spread",
    );
    expect(() => fQuantile(0.9, 3, 0)).toThrow("fQuantile: 0 degrees of freedom");
  });
});
