import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fUpperTailWhole } from "../../kernel-lib/src/numerics/f-tail.js";
import { fUpperTail, tCdf, twoWayAnova, twoWayAnovas } from "../../kernel-lib/src/numerics/index.js";
import { evenly } from "../evenly.js";
import { fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

interface Study {
  readonly values: readonly (readonly (readonly string[])[])[];
  readonly anova: {
    readonly sumsOfSquares: { readonly [row: string]: string };
    readonly degreesOfFreedom: { readonly [row: string]: number };
    readonly interactionF: string;
    readonly kept: { readonly [row: string]: string };
  };
}
const { values, anova } = fixture<Study>("gauge/study-10x3x3.json");
const readings = values.flat(2).map(Number);
const shape = { parts: 10, operators: 3, repeats: 3 };
const rows = ["parts", "operators", "interaction", "repeats"] as const;

describe("a crossed study of 10 parts, 3 operators and 3 repeats", () => {
  const found = twoWayAnova(readings, shape);

  it.each(rows)("gives the published sum of squares of the %s to the printed digits", (row) => {
    expect(found[row].sumOfSquares.toFixed(6)).toBe(anova.sumsOfSquares[row]);
    expect(found[row].degreesOfFreedom).toBe(anova.degreesOfFreedom[row]);
  });

  it("gives the published ratio and variances, the negative one as it comes out", () => {
    expect(found.interaction.f.toFixed(4)).toBe(anova.interactionF);
    for (const [row, printed] of Object.entries(anova.kept)) {
      expect(found.variances[row as keyof typeof found.variances].toFixed(6)).toBe(printed);
    }
  });
});

it("takes an interaction that is nothing but rounding as none, however large the readings", () => {
  const wide = { parts: 3, operators: 12, repeats: 2 };
  for (const level of [1, 1e6]) {
    const additive = Array.from({ length: 72 }, (_, k) => {
      const [part, operator, repeat] = [Math.floor(k / 24), Math.floor(k / 2) % 12, k % 2];
      return level * (1 + 0.1 * part + 0.03 * operator + (repeat ? 0.005 : -0.005));
    });
    const found = twoWayAnova(additive, wide);
    expect([found.interaction.sumOfSquares, found.interaction.f]).toEqual([0, 0]);
    // two readings ± 0.005 in 36 cells; parts −0.1, 0, 0.1 with 24 readings each
    expect(found.repeats.sumOfSquares / level ** 2).toBeCloseTo(72 * 0.005 ** 2, 12);
    expect(found.parts.sumOfSquares / level ** 2).toBeCloseTo(0.48, 12);
  }
});

// upper 5 % and 1 % points of F as tabled to three decimals; from memory
it.each([
  [2, 18, "3.555", 0.05],
  [9, 18, "2.456", 0.05],
  [10, 20, "3.368", 0.01],
  [9, 15, "3.895", 0.01],
  [3, 7, "4.347", 0.05],
])("has the tabled point of F with %d and %d degrees of freedom", (a, b, point, p) => {
  expect(fUpperTailWhole(Number(point), a, b)).toBeCloseTo(p, 4);
});

it.each([
  // x = ν₂ / (ν₁ F + ν₂) = 1/4: x^(ν₂/2) Σ (ν₂/2)ⱼ (3/4)ʲ / j!
  [4.5, 2, 3, 1 / 8],
  [2.25, 4, 3, (1 + 9 / 8) / 8],
  [1.5, 6, 3, (1 + 9 / 8 + 135 / 128) / 8],
  // x = 3/4: 1 − ½ Σ (½)ⱼ xʲ / j!
  [2, 1, 6, 1 - (1 + 3 / 8 + 27 / 128) / 2],
])(
  "has the tail of F(%d; %d, %d) to the last digit where it is a short fraction (Abramowitz and Stegun 26.6)",
  (f, a, b, tail) => {
    expect(fUpperTailWhole(f, a, b)).toBe(tail);
  },
);

it("has a tail that is small and no rounding of one, where it is what the lower one leaves: F(1, ν) is t² (two-sided)", () => {
  // was −6.7e-16: 1 less a sum
  const tail = fUpperTailWhole(158.489_319_246_111_22, 1, 118);
  expect(Math.abs(tail / (2 * tCdf(-Math.sqrt(158.489_319_246_111_22), 118)) - 1)).toBeLessThan(1e-11);
});

it("has the tail of F that the continued fraction has, as small as it may be", () => {
  const whole = fc.integer({ min: 1, max: 120 });
  fc.assert(
    fc.property(whole, whole, evenly(-3, 3), (a, b, power) => {
      const f = 10 ** power;
      const slow = fUpperTail(f, a, b);
      expect(Math.abs(fUpperTailWhole(f, a, b) - slow)).toBeLessThanOrEqual(1e-11 * slow + 1e-300);
    }),
    { seed: 71, numRuns: 3000 },
  );
});

describe("the analysis", () => {
  const study = fc.record({
    parts: fc.integer({ min: 2, max: 7 }),
    operators: fc.integer({ min: 2, max: 4 }),
    repeats: fc.integer({ min: 2, max: 4 }),
    seed: fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 112, maxLength: 112 }),
  });

  it("splits the whole sum of squares, whatever the readings", () => {
    fc.assert(
      fc.property(study, ({ seed, ...own }) => {
        const list = seed.slice(0, own.parts * own.operators * own.repeats);
        const found = twoWayAnova(list, own);
        const mean = list.reduce((a, b) => a + b, 0) / list.length;
        const whole = list.reduce((sum, value) => sum + (value - mean) ** 2, 0);
        const split = rows.reduce((sum, row) => sum + found[row].sumOfSquares, 0);
        expect(Math.abs(split - whole)).toBeLessThanOrEqual(1e-9 * (whole + 1));
        expect(found.mean).toBeCloseTo(mean, 9);
      }),
      { seed: 72, numRuns: 300 },
    );
  });

  it("does not mind a common height, and scales with the square of the unit", () => {
    const plain = twoWayAnova(readings, shape);
    const raised = twoWayAnova(
      readings.map((value) => 25.4 * value + 1e6),
      shape,
    );
    for (const row of rows) expect(raised[row].sumOfSquares / plain[row].sumOfSquares).toBeCloseTo(25.4 ** 2, 4);
    expect(raised.parts.p / plain.parts.p).toBeCloseTo(1, 6);
  });

  it("does not depend on the order of parts, operators and repeats", () => {
    const turned = [...values].reverse().map((part) => [...part].reverse().map((cell) => [...cell].reverse()));
    const found = twoWayAnova(turned.flat(2).map(Number), shape);
    const plain = twoWayAnova(readings, shape);
    for (const row of rows) expect(found[row].sumOfSquares).toBeCloseTo(plain[row].sumOfSquares, 10);
  });

  it("gives the same for many studies at once as one at a time", () => {
    const other = readings.map((value, i) => value + (i % 7));
    expect(twoWayAnovas([...readings, ...other], shape)).toEqual([
      twoWayAnova(readings, shape),
      twoWayAnova(other, shape),
    ]);
  });

  it("finds no scatter in readings without any, at any height", () => {
    const flat = twoWayAnova(new Array(90).fill(0.1 + 0.2), shape);
    expect(rows.map((row) => flat[row].sumOfSquares)).toEqual([0, 0, 0, 0]);
    expect([flat.parts.p, flat.operators.p, flat.interaction.p]).toEqual([1, 1, 1]);
  });

  it("calls what has nothing beside it certain", () => {
    const found = twoWayAnova([1, 1, 3, 3, 2, 2, 4, 4], { parts: 2, operators: 2, repeats: 2 });
    expect([found.parts.f, found.parts.p]).toEqual([Number.POSITIVE_INFINITY, 0]);
  });
});

describe("is refused", () => {
  it("a study of one operator", () => {
    expect(refusal(() => twoWayAnova([1, 2, 3, 4], { parts: 2, operators: 1, repeats: 2 })).message).toBe(
      "twoWayAnova: 1 operators; give a whole number from 2, as nothing is told from one",
    );
  });

  it("a list that does not fill the study", () => {
    expect(refusal(() => twoWayAnova(readings.slice(1), shape)).message).toBe(
      "twoWayAnova: 89 readings do not fill 10 parts × 3 operators × 3 repeats; give 90 a study",
    );
    expect(refusal(() => twoWayAnovas([], shape)).code).toBe("study-shape");
  });

  it("a reading that is no number", () => {
    const list = readings.map((value, i) => (i === 41 ? Number.NaN : value));
    expect(refusal(() => twoWayAnova(list, shape)).message).toBe(
      "twoWayAnova: reading 42 is NaN; give a finite number, and leave out no cell",
    );
  });
});
