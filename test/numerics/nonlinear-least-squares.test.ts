import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type NonlinearFit,
  type NonlinearProblem,
  nonlinearLeastSquares,
} from "../../kernel-lib/src/numerics/nonlinear-least-squares.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { agreeingDigits, fixture } from "../reference/digits.js";

interface Certified {
  starts: string[][];
  parameters: string[];
  standardDeviations: string[];
  residualSumOfSquares: string;
  residualStandardDeviation: string;
  rows: string[];
}
const { sets } = fixture<{ sets: Record<string, Certified> }>("nist/nonlinear.json");

function rowsOf(set: Certified): readonly (readonly [y: number, x: number])[] {
  return set.rows.map((row) => row.split(" ").map(Number) as [number, number]);
}

type Curve = (b: readonly number[], x: number) => number;
const cubicQuotient: Curve = ([b1, b2, b3, b4, b5, b6, b7], x) =>
  (b1! + x * (b2! + x * (b3! + x * b4!))) / (1 + x * (b5! + x * (b6! + x * b7!)));
const curves: Record<string, Curve> = {
  Misra1a: ([b1, b2], x) => b1! * (1 - Math.exp(-b2! * x)),
  Chwirut2: ([b1, b2, b3], x) => Math.exp(-b1! * x) / (b2! + b3! * x),
  Gauss1: ([b1, b2, b3, b4, b5, b6, b7, b8], x) =>
    b1! * Math.exp(-b2! * x) + b3! * Math.exp(-(((x - b4!) / b5!) ** 2)) + b6! * Math.exp(-(((x - b7!) / b8!) ** 2)),
  MGH09: ([b1, b2, b3, b4], x) => (b1! * (x * x + x * b2!)) / (x * x + x * b3! + b4!),
  Rat42: ([b1, b2, b3], x) => b1! / (1 + Math.exp(b2! - b3! * x)),
  Thurber: cubicQuotient,
  Hahn1: cubicQuotient,
};

/** how far off, in units of the last digit printed: 1e-11 to 1e-10 of the value, as eleven digits are printed */
function printedError(computed: number, printed: string): number {
  const [digits, exponent = "0"] = printed.split("E");
  const unit = 10 ** (Number(exponent) - (digits!.split(".")[1]?.length ?? 0));
  return Math.abs(computed - Number(printed)) / unit;
}

function fitFrom(name: string, start: number, partials?: NonlinearProblem["partials"]): NonlinearFit {
  const set = sets[name]!;
  const rows = rowsOf(set);
  return nonlinearLeastSquares({
    where: name,
    y: rows.map(([y]) => y),
    model: (b, row) => curves[name]!(b, rows[row]![1]),
    start: set.starts[start]!.map(Number),
    ...(partials ? { partials } : {}),
  });
}

/** the worst of several values, in units of the last printed digit */
function worst(values: readonly number[], printed: readonly string[]): number {
  return Math.max(...values.map((v, j) => printedError(v, printed[j]!)));
}

describe("nonlinearLeastSquares", () => {
  for (const [name, set] of Object.entries(sets)) {
    for (const start of [0, 1]) {
      it(`agrees with NIST's certified ${name} at the printed digits from start ${start + 1}`, () => {
        const fit = fitFrom(name, start);
        expect(worst(fit.coefficients, set.parameters)).toBeLessThan(1);
        expect(worst([fit.residualSumOfSquares], [set.residualSumOfSquares])).toBeLessThan(1);
        expect(worst([fit.residualStandardDeviation], [set.residualStandardDeviation])).toBeLessThan(1);
        // the derivatives found numerically leave ten digits of Thurber's standard errors
        expect(worst(fit.standardErrors, set.standardDeviations)).toBeLessThan(name === "Thurber" ? 10 : 1);
      });
    }
  }

  it("agrees with NIST's standard deviations of Thurber at the printed digits with its partial derivatives given", () => {
    const rows = rowsOf(sets.Thurber!);
    const fit = fitFrom("Thurber", 0, ([b1, b2, b3, b4, b5, b6, b7], row) => {
      const x = rows[row]![1];
      const powers = [x, x * x, x ** 3];
      const above = b1! + b2! * x + b3! * x * x + b4! * x ** 3;
      const below = 1 + b5! * x + b6! * x * x + b7! * x ** 3;
      return [1 / below, ...powers.map((p) => p / below), ...powers.map((p) => (-above * p) / below ** 2)];
    });
    expect(worst(fit.standardErrors, sets.Thurber!.standardDeviations)).toBeLessThan(1);
    expect(worst(fit.coefficients, sets.Thurber!.parameters)).toBeLessThan(1);
  });

  it("finds the same with the partial derivatives given as with its own", () => {
    const rows = rowsOf(sets.Misra1a!);
    const fit = fitFrom("Misra1a", 0, ([b1, b2], row) => {
      const x = rows[row]![1];
      return [1 - Math.exp(-b2! * x), b1! * x * Math.exp(-b2! * x)];
    });
    fit.coefficients.forEach((c, j) => {
      expect(agreeingDigits(c, sets.Misra1a!.parameters[j]!)).toBeGreaterThan(10);
    });
  });

  it("does not care for the unit of the readings nor for their order", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e6 }), (seed) => {
        const stream = randomStream(seed);
        const x = Array.from({ length: 20 }, (_, i) => i);
        const y = x.map((t) => 18 * (1 - Math.exp(-t / 6)) + 0.2 * stream.normal());
        const fitOf = (ys: number[], xs: number[], size: number) =>
          nonlinearLeastSquares({
            where: "law",
            y: ys,
            model: ([a, b], row) => a! * (1 - Math.exp(-xs[row]! / b!)),
            start: [15 * size, 5],
          });
        const plain = fitOf(y, x, 1);
        const scaled = fitOf(y.map((v) => v * 1e-6).reverse(), x.slice().reverse(), 1e-6);
        expect(scaled.coefficients[0]! * 1e6).toBeCloseTo(plain.coefficients[0]!, 8);
        expect(scaled.coefficients[1]).toBeCloseTo(plain.coefficients[1]!, 8);
        expect(scaled.standardErrors[1]).toBeCloseTo(plain.standardErrors[1]!, 8);
      }),
      { numRuns: 30 },
    );
  });

  it("ends on readings that a curve with a parameter of zero meets to the last digit", () => {
    // seven exact readings of a warm-up were refused as if no curve could be found: the parameter at zero never stood still
    const at = [0, 10, 20, 40, 60, 90, 120];
    const { coefficients } = nonlinearLeastSquares({
      where: "exact",
      y: at.map((t) => -20 * Math.expm1(-t / 40)),
      model: ([start, size, tau], row) => start! - size! * Math.expm1(-at[row]! / tau!),
      start: [0.3, 21, 53],
      mostSteps: 100,
    });
    expect(coefficients.map((c) => Math.abs(c).toFixed(9))).toEqual(["0.000000000", "20.000000000", "40.000000000"]);
  });

  it("refuses what cannot be fitted, naming the place", () => {
    const line = ([a]: readonly number[], row: number) => a! * row;
    const fitting = (y: number[], start: number[], model: (b: readonly number[], row: number) => number = line) =>
      nonlinearLeastSquares({ where: "curve", y, start, model });
    expect(() => fitting([1], [1, 2])).toThrow(
      /^curve: 1 reading for 2 parameters; give at least as many readings as parameters$/,
    );
    expect(() => fitting([1, Number.NaN], [1])).toThrow(
      /^curve: row 2 holds NaN; leave the row out if it was not measured$/,
    );
    expect(() => fitting([1, 2], [0])).toThrow(
      /^curve: parameter 1 starts at 0 and has no size; give scales, a start that is not 0, or the partial derivatives$/,
    );
    expect(() => fitting([1, 2], [-1], ([a], row) => Math.log(a!) + row)).toThrow(
      /^curve: the curve has no value at the start \(-1\); start nearer to the readings$/,
    );
    expect(() => fitting([1, 2, 3], [1, 1])).toThrow(
      /^curve: parameter 2 does nothing to the curve at the readings; start nearer, or leave it out$/,
    );
  });
});
