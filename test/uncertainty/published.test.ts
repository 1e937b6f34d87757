import { describe, expect, it } from "vitest";
import { leastSquares, normalCdf } from "../../kernel-lib/src/numerics/index.js";
import { kelvin, plain, um } from "../../kernel-lib/src/quantity/index.js";
import { budget, budgets, correlated, input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { fixture } from "../reference/digits.js";

/** the table's 68.27, 95.45 and 99.73 % stand for one, two and three standard deviations of the normal law */
const within = (k: number) => 2 * normalCdf(k) - 1;
const levels: Record<string, number> = {
  "p68.27": within(1),
  p90: 0.9,
  p95: 0.95,
  "p95.45": within(2),
  p99: 0.99,
  "p99.73": within(3),
};

describe("published examples", () => {
  it("agrees with the impedance of JCGM 100 H.2 as three outputs of one model", () => {
    const h2 = fixture<{ rows: string[]; published: Record<string, string> & Record<"R" | "X" | "Z", string[]> }>(
      "gum/impedance.json",
    );
    const rows = h2.rows.map((row) => row.split(" ").map(Number) as [number, number, number]);
    const [V, I, phi] = correlated(
      [
        input.fromReadings({ label: "V", readings: rows.map(([v]) => plain(v)) }),
        input.fromReadings({ label: "I", readings: rows.map(([, i]) => plain(i * 1e-3)) }),
        input.fromReadings({ label: "φ", readings: rows.map(([, , angle]) => plain(angle)) }),
      ],
      // the coefficients as printed in table H.2, of two digits
      [
        [1, Number(h2.published.rVI), Number(h2.published.rVphi)],
        [Number(h2.published.rVI), 1, Number(h2.published.rIphi)],
        [Number(h2.published.rVphi), Number(h2.published.rIphi), 1],
      ],
    );
    const found = budgets({
      inputs: { V, I, phi },
      model: ({ V, I, phi }) => {
        const Z = V.over(I);
        const angle = phi.in("1");
        return { R: Z.times(Math.cos(angle)), X: Z.times(Math.sin(angle)), Z };
      },
      measurands: { R: "resistance", X: "reactance", Z: "impedance" },
    });
    expect(found.of.R.in("1").toFixed(3)).toBe(h2.published.R[0]);
    expect(found.of.X.in("1").toFixed(3)).toBe(h2.published.X[0]);
    expect(found.of.Z.in("1").toFixed(3)).toBe(h2.published.Z[0]);
    // two digits of r carry u to two digits
    expect(found.of.R.standardUncertainty.in("1").toFixed(2)).toBe("0.07");
    expect(found.of.Z.standardUncertainty.in("1").toFixed(2)).toBe("0.24");
    expect(found.correlation("R", "X").toFixed(2)).toBe("-0.59");
    expect(found.correlation("X", "Z").toFixed(2)).toBe("0.99");
    expect(`${found}`.split("\n")).toEqual([
      `resistance: ${found.of.R}`,
      `reactance: ${found.of.X}`,
      `impedance: ${found.of.Z}`,
      expect.stringMatching(/^correlation: r\(R, X\) = −0\.5\d\d, r\(R, Z\) = −0\.4\d\d, r\(X, Z\) = 0\.99\d$/),
    ]);
    // five sets of readings: one line of the formula with ν = 4, whatever the output
    expect(found.of.X.effectiveDegreesOfFreedom).toBeCloseTo(4, 9);
  });

  it("agrees with the thermometer of JCGM 100 H.3: line, its correlation, and the correction at 30 °C", () => {
    const { rows, published } = fixture<{
      rows: string[];
      published: Record<"r" | "s", string> & Record<"y1" | "y2" | "at30", string[]>;
    }>("gum/thermometer.json");
    const points = rows.map((row) => row.split(" ").map(Number) as [number, number]);
    const fit = leastSquares(
      [points.map(() => 1), points.map(([t]) => t - 20)],
      points.map(([, b]) => b),
    );
    const s = fit.residualStandardDeviation;
    const [c1, c2] = fit.coefficients as [number, number];
    const [[v11, v12], [, v22]] = fit.covarianceFactor as [[number, number], [number, number]];
    const [u1, u2, r] = [s * Math.sqrt(v11), s * Math.sqrt(v22), v12 / Math.sqrt(v11 * v22)];
    expect([c1.toFixed(4), u1.toFixed(4)]).toEqual(published.y1);
    expect([c2.toFixed(5), u2.toFixed(5)]).toEqual(published.y2);
    expect([r.toFixed(3), s.toFixed(4)]).toEqual([published.r, published.s]);
    const [y1, y2] = correlated(
      [
        input.t({ label: "intercept", estimate: kelvin(c1), standardUncertainty: kelvin(u1), degreesOfFreedom: 9 }),
        input.t({ label: "slope", estimate: plain(c2), standardUncertainty: plain(u2), degreesOfFreedom: 9 }),
      ],
      [
        [1, r],
        [r, 1],
      ],
    );
    const at30 = budget({
      measurand: "correction at 30 °C",
      inputs: { y1, y2 },
      model: ({ y1, y2 }) => y1.plus(kelvin(10).times(y2)),
    });
    expect([at30.in("K").toFixed(4), at30.standardUncertainty.in("K").toFixed(4)]).toEqual(published.at30);
    expect(at30.effectiveDegreesOfFreedom).toBeCloseTo(9, 9);
  });

  it("gives the k of NIST TN 1297 table B.1 for every level and number of degrees of freedom", () => {
    const { percent, rows } = fixture<{ percent: string[]; rows: Record<string, string[]> }>(
      "tables/student-t-tn1297.json",
    );
    for (const [nu, printed] of Object.entries(rows)) {
      const read = input.t({
        label: "mean",
        estimate: um(0),
        standardUncertainty: um(1),
        degreesOfFreedom: Number(nu),
      });
      printed.forEach((k, i) => {
        if (nu === "35" && percent[i] === "p90") return;
        const found = Measured.from(read).coverageFactor(levels[percent[i]!]!);
        expect(found.toFixed(k.split(".")[1]!.length), `${nu} degrees of freedom, ${percent[i]}`).toBe(k);
      });
    }
  });
});
