import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { kelvin, mm, perKelvin, plain, Quantity, um } from "../../kernel-lib/src/quantity/index.js";
import {
  budget,
  budgetOfNumbers,
  correlated,
  correlation,
  effectiveDegreesOfFreedom,
  input,
  Measured,
} from "../../kernel-lib/src/uncertainty/index.js";
import { fixture } from "../reference/digits.js";

const nm = (value: number) => Quantity.fromSi("length", value * 1e-9);

function endGauge() {
  const inputs = {
    standard: input.normal({
      label: "standard",
      estimate: nm(50_000_623),
      standardUncertainty: nm(25),
      degreesOfFreedom: 18,
    }),
    repeats: input.t({ label: "repeats", estimate: nm(215), standardUncertainty: nm(5.8), degreesOfFreedom: 24 }),
    random: input.normal({
      label: "comparator, random",
      estimate: nm(0),
      standardUncertainty: nm(3.9),
      degreesOfFreedom: 5,
    }),
    systematic: input.normal({
      label: "comparator, systematic",
      estimate: nm(0),
      standardUncertainty: nm(6.7),
      degreesOfFreedom: 8,
    }),
    alpha: input.rectangular({ label: "expansion", estimate: perKelvin(11.5e-6), halfWidth: perKelvin(2e-6) }),
    mean: input.normal({ label: "mean temperature", estimate: kelvin(-0.1), standardUncertainty: kelvin(0.2) }),
    cycle: input.arcsine({ label: "thermostat", estimate: kelvin(0), halfWidth: kelvin(0.5) }),
    dAlpha: input.rectangular({
      label: "expansion, difference",
      estimate: perKelvin(0),
      halfWidth: perKelvin(1e-6),
      degreesOfFreedom: 50,
    }),
    dTheta: input.rectangular({
      label: "temperature, difference",
      estimate: kelvin(0),
      halfWidth: kelvin(0.05),
      degreesOfFreedom: 2,
    }),
  };
  return budget({
    measurand: "length of the end gauge",
    inputs,
    model: ({ standard, repeats, random, systematic, alpha, mean, cycle, dAlpha, dTheta }) => {
      const strain = dAlpha.times(mean.plus(cycle)).plus(alpha.times(dTheta));
      return standard.plus(repeats).plus(random).plus(systematic).minus(standard.times(strain));
    },
  });
}

describe("budget", () => {
  const { published, unroundedFromTheSameInputs: unrounded } = fixture<{
    published: Record<string, string> & { contributions: string[] };
    unroundedFromTheSameInputs: Record<string, string>;
  }>("gum/end-gauge.json");

  it("agrees with the end-gauge example, JCGM 100 H.1, in every published figure", () => {
    const result = endGauge();
    const u = result.standardUncertainty.in("nm");
    expect(result.in("mm").toFixed(6)).toBe(published.length);
    expect(u.toFixed(0)).toBe(published.standardUncertainty);
    expect(u.toFixed(3)).toBe(unrounded.standardUncertainty);
    expect(result.effectiveDegreesOfFreedom.toFixed(2)).toBe(unrounded.degreesOfFreedom);
    expect(String(Math.trunc(result.effectiveDegreesOfFreedom))).toBe(published.degreesOfFreedom);
    expect(result.coverageFactor(0.99).toFixed(2)).toBe(published.k99);
    expect(result.expandedUncertainty(0.99).in("nm").toFixed(2)).toBe(unrounded.U99);
    expect(result.secondOrderUncertainty.in("nm").toFixed(0)).toBe(published.withSecondOrder);
    expect(result.secondOrderUncertainty.in("nm").toFixed(3)).toBe(unrounded.withSecondOrder);
    const parts = new Map(result.rows().map((row) => [row.label, Math.sqrt(row.share) * u]));
    const comparison = Math.hypot(
      ...["repeats", "comparator, random", "comparator, systematic"].map((label) => parts.get(label)!),
    );
    expect([parts.get("standard")!.toFixed(0), comparison.toFixed(1)]).toEqual(published.contributions.slice(0, 2));
    expect(parts.get("expansion, difference")!.toFixed(1)).toBe(published.contributions[2]);
    expect(parts.get("temperature, difference")!.toFixed(1)).toBe(published.contributions[3]);
    expect(result.text("um")).toBe("50000.838 µm ± 0.067 µm (k = 2.1)");
    expect(result.sentence()).toContain("with second-order terms u is 1.1 times the first-order figure");
  });

  it("agrees with the correlated readings of JCGM 100 H.2, the correlation carried by the inputs alone", () => {
    const h2 = fixture<{ rows: string[]; published: Record<string, string> & Record<"R" | "X" | "Z", string[]> }>(
      "gum/impedance.json",
    );
    const columns = [0, 1, 2].map((k) => h2.rows.map((row) => Number(row.split(" ")[k]) * (k === 1 ? 1e-3 : 1)));
    const mean = (v: number[]) => v.reduce((s, x) => s + x, 0) / v.length;
    const cov = (a: number[], b: number[]) => mean(a.map((x, i) => (x - mean(a)) * (b[i]! - mean(b))));
    const r = columns.map((a, i) =>
      columns.map((b, j) => (i === j ? 1 : cov(a, b) / Math.sqrt(cov(a, a) * cov(b, b)))),
    );
    expect([r[0]![1]!.toFixed(2), r[0]![2]!.toFixed(2), r[1]![2]!.toFixed(2)]).toEqual([
      h2.published.rVI,
      h2.published.rVphi,
      h2.published.rIphi,
    ]);
    const [V, I, phi] = correlated(
      [
        input.fromReadings({ label: "V", readings: columns[0]!.map(plain) }),
        input.fromReadings({ label: "I", readings: columns[1]!.map(plain) }),
        input.fromReadings({ label: "phi", readings: columns[2]!.map(plain) }),
      ],
      r,
    );
    const of = (model: (n: { V: number; I: number; phi: number }) => number) =>
      budgetOfNumbers({
        measurand: "impedance",
        inputs: { V, I, phi },
        units: { V: "1", I: "1", phi: "1" },
        result: { kind: "number", unit: "1" },
        model,
      });
    const R = of((n) => (n.V / n.I) * Math.cos(n.phi));
    const X = of((n) => (n.V / n.I) * Math.sin(n.phi));
    const Z = budgetOfNumbers({
      measurand: "impedance",
      inputs: { V, I },
      units: { V: "1", I: "1" },
      result: { kind: "number", unit: "1" },
      model: (n) => n.V / n.I,
    });
    const printed = (m: Measured<"number">) => [m.in("1").toFixed(3), m.standardUncertainty.in("1").toFixed(3)];
    expect(printed(R)).toEqual(h2.published.R);
    expect(printed(X)).toEqual([h2.published.X[0], "0.296"]);
    expect(printed(Z)).toEqual(h2.published.Z);
    expect([correlation(R, X), correlation(R, Z), correlation(X, Z)].map((c) => c.toFixed(3))).toEqual([
      h2.published.rRX,
      h2.published.rRZ,
      h2.published.rXZ,
    ]);
    expect(R.effectiveDegreesOfFreedom).toBeCloseTo(4, 6);
  });

  it("refuses an input that the model never uses, also where it works on numbers", () => {
    const of = (label: string) => input.normal({ label, estimate: plain(1), standardUncertainty: plain(0.1) });
    const spec = {
      measurand: "y",
      inputs: { a: of("a"), b: of("b") },
      units: { a: "1", b: "1" },
      result: { kind: "number", unit: "1" },
      model: ({ a }: { readonly a: number }) => a,
    } as const;
    expect(() => budgetOfNumbers(spec)).toThrow(
      /^budget "y": the model never uses the input "b"; use it, or leave it out of the inputs$/,
    );
  });

  it("finds the second-order uncertainty of y = x1² + x2², JCGM 101 9.4: 50, 111.803 and 502.494 (1e-6)", () => {
    const at = (x: number) => {
      const of = (label: string, value: number) =>
        input.normal({ label, estimate: plain(value), standardUncertainty: plain(0.005) });
      return budgetOfNumbers({
        measurand: "y",
        inputs: { a: of("x1", x), b: of("x2", 0) },
        units: { a: "1", b: "1" },
        result: { kind: "number", unit: "1" },
        model: ({ a, b }) => a * a + b * b,
      });
    };
    const found = [0, 0.01, 0.05].map((x) => (at(x).secondOrderUncertainty.in("1") * 1e6).toFixed(3));
    expect(found).toEqual(["50.000", "111.803", "502.494"]);
    expect(at(0).text()).toBe("0 (first order sees no uncertainty where the model is flat; second order: u = 5e−5)");
  });

  it("keeps what two results share: x − x has no uncertainty, and a part of a sum stays correlated with it", () => {
    const a = input.rectangular({ label: "gauge", estimate: um(10), halfWidth: um(3) });
    const b = input.normal({ label: "noise", estimate: um(4), standardUncertainty: um(1), degreesOfFreedom: 9 });
    const sum = budget({ measurand: "sum", inputs: { a, b }, model: ({ a, b }) => a.plus(b) });
    const again = budget({ measurand: "zero", inputs: { sum, a, b }, model: ({ sum, a, b }) => sum.minus(a).minus(b) });
    expect(`${sum.minus(sum)}`).toBe("0 µm (taken as exact)");
    expect(again.standardUncertainty.in("um")).toBeLessThan(1e-9);
    expect(correlation(sum, Measured.from(a))).toBeCloseTo(Math.sqrt(3) / 2, 12);
    expect(sum.minus(Measured.from(a)).standardUncertainty.in("um")).toBeCloseTo(1, 9);
    expect(sum.times(-2).standardUncertainty.in("um")).toBeCloseTo(4, 9);
  });

  it("scales: every input in another size scales the result, its degrees of freedom untouched", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-4, max: 1e4, noNaN: true }),
        fc.double({ min: 0.1, max: 9, noNaN: true }),
        (f, u) => {
          const at = (scale: number) => {
            const a = input.normal({
              label: "a",
              estimate: um(3 * scale),
              standardUncertainty: um(u * scale),
              degreesOfFreedom: 5,
            });
            const b = input.rectangular({ label: "b", estimate: um(7 * scale), halfWidth: um(scale) });
            return budget({ measurand: "a + b", inputs: { a, b }, model: ({ a, b }) => a.plus(b) });
          };
          expect(at(f).standardUncertainty.si / at(1).standardUncertainty.si / f).toBeCloseTo(1, 9);
          expect(at(f).effectiveDegreesOfFreedom / at(1).effectiveDegreesOfFreedom).toBeCloseTo(1, 9);
        },
      ),
      { numRuns: 50 },
    );
  });

  it("gives rows that carry units, the largest share first, and shares that sum to one", () => {
    const rows = endGauge().rows();
    expect(rows[0]).toMatchObject({
      label: "standard",
      value: "50.000623 mm",
      standardUncertainty: "0.025 µm",
      distribution: "t",
      evaluation: "B",
      sensitivity: "1",
      contribution: "0.025 µm",
      degreesOfFreedom: 18,
    });
    expect(rows.find((row) => row.label === "temperature, difference")).toMatchObject({
      value: "0.000 K",
      sensitivity: "−0.000575 mm/K",
    });
    expect(rows.reduce((sum, row) => sum + row.share, 0)).toBeCloseTo(1, 12);
    expect(Math.max(...rows.map((row) => row.sensitivityDoubt))).toBeLessThan(1e-6);
  });

  it("writes a part that is nothing beside the others as less than a thousandth, a small factor with its power of ten", () => {
    const small = input.normal({ label: "old form", estimate: um(65), standardUncertainty: um(1.1) });
    const large = input.normal({ label: "gauge", estimate: um(3), standardUncertainty: um(0.8) });
    const rows = budget({
      measurand: "face",
      inputs: { small, large },
      model: (x) => x.large.plus(x.small.times(4.13e-5)),
    }).rows();
    expect(rows.map(({ contribution }) => contribution)).toEqual(["0.80 µm", "< 0.001 µm"]);
    expect(rows[1]?.sensitivity).toBe("4.13 × 10⁻⁵");
  });

  it("says what speaks against 95 %", () => {
    const flat = input.rectangular({ label: "scale", estimate: um(10), halfWidth: um(3) });
    const few = input.fromReadings({ label: "two readings", readings: [um(1), um(3)] });
    const one = budget({ measurand: "height", inputs: { flat }, model: ({ flat }) => flat });
    expect(one.coverageNote()).toBe(
      'the rectangular input "scale" makes up 100 % of the variance, so they hold it more often; counted over 10\u2009000 repeats of the measurement, they hold it 100 times in 100',
    );
    const two = budget({ measurand: "height", inputs: { few }, model: ({ few }) => few });
    expect(two.coverageNote()).toMatch(
      /^with fewer than four effective degrees of freedom they may hold it less often; take more readings; counted over 10\u2009000 repeats of the measurement, they hold it 9[45]\.\d times in 100$/,
    );
    expect(one.sentence()).toBe(
      'height: 10.0 µm ± 3.4 µm (k = 2.0), that is 6.6 µm to 13.4 µm; k from the normal law (JCGM 100); intervals made this way hold the true value 95 times in 100, if the model is right and the inputs are as stated; the rectangular input "scale" makes up 100 % of the variance, so they hold it more often; counted over 10\u2009000 repeats of the measurement, they hold it 100 times in 100',
    );
  });

  it("refuses a model without a unit", () => {
    const a = input.normal({ label: "a", estimate: um(1), standardUncertainty: um(1) });
    const model = (() => 3) as never;
    expect(() => budget({ measurand: "length", inputs: { a }, model })).toThrow(
      'budget "length": the model gives 3, not a quantity; end it with a value that has a unit',
    );
    expect(() => budget({ measurand: "length", inputs: { a: 3 as never }, model: () => mm(1) })).toThrow(
      'budget "length": 3 was given for "a"; give an input, a measured value or a quantity with its unit',
    );
  });
});

describe("effectiveDegreesOfFreedom", () => {
  it("is unchanged when every contribution is scaled, and infinite when all lines are exactly known", () => {
    const lines = [
      { label: "a", contribution: 3, degreesOfFreedom: 9 },
      { label: "b", contribution: 4, degreesOfFreedom: Number.POSITIVE_INFINITY },
    ];
    const tiny = lines.map((line) => ({ ...line, contribution: line.contribution * 1e-120 }));
    expect(effectiveDegreesOfFreedom(tiny)).toBeCloseTo(effectiveDegreesOfFreedom(lines), 10);
    expect(effectiveDegreesOfFreedom(lines.slice(1))).toBe(Number.POSITIVE_INFINITY);
  });

  it("refuses lines that sum to nothing", () => {
    expect(() => effectiveDegreesOfFreedom([])).toThrow(
      "effectiveDegreesOfFreedom: 0 budget lines sum to variance 0; at least one contribution must be greater than zero",
    );
  });
});
