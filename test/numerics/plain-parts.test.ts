import { describe, expect, it } from "vitest";
import { boundedMinimum, type Slope } from "../../kernel-lib/src/numerics/bounded-minimum.js";
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
import { fUpperTailWhole } from "../../kernel-lib/src/numerics/f-tail.js";
import { incompleteBeta, incompleteGamma, logGamma } from "../../kernel-lib/src/numerics/incomplete.js";
import {
  bisquareFit,
  cholesky,
  huberFit,
  leastSquares,
  leastSquaresPlane,
  orthonormal,
  simultaneousFactor,
  solveSymmetric,
  summariseSample,
  trimmedPlane,
} from "../../kernel-lib/src/numerics/index.js";
import { isotonicFit } from "../../kernel-lib/src/numerics/isotonic.js";
import { meanAndDeviation } from "../../kernel-lib/src/numerics/mean-deviation.js";
import { median, medianNear, selectInPlace, upperHalfOf } from "../../kernel-lib/src/numerics/median.js";
import { numericalPartials } from "../../kernel-lib/src/numerics/numerical-partials.js";
import { blockWords, randomStream } from "../../kernel-lib/src/numerics/random.js";
import { range } from "../../kernel-lib/src/numerics/range.js";
import { momentsOfSample } from "../../kernel-lib/src/numerics/sample.js";
import { solveSquare } from "../../kernel-lib/src/numerics/solve-square.js";
import { spreadOver } from "../../kernel-lib/src/numerics/spread-over.js";
import { semidefiniteFactor } from "../../kernel-lib/src/numerics/symmetric.js";
import { triangulate } from "../../kernel-lib/src/numerics/triangulation.js";
import { refusal } from "../refusal.js";

const near = (got: number, wanted: number, share = 1e-12) => expect(Math.abs(got / wanted - 1)).toBeLessThan(share);

describe("the gamma function and its incomplete relatives", () => {
  it("have the closed forms of whole and half arguments, on both sides of ten", () => {
    // Γ(n) = (n − 1)!, Γ(½) = √π, Γ(n + ½) = (2n)! √π / (4ⁿ n!)
    let factorial = 1;
    for (let n = 1; n <= 25; n++) {
      expect(Math.abs(logGamma(n) - Math.log(factorial))).toBeLessThan(1e-14 * Math.max(1, logGamma(n)));
      factorial *= n;
    }
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 14);
    expect(logGamma(2.5)).toBeCloseTo(Math.log((3 * Math.sqrt(Math.PI)) / 4), 14);
    expect(logGamma(0.001)).toBeCloseTo(6.907_178_885_383_853, 12); // ln(1/0.001) − γ/1000 + π²/12·10⁻⁶
  });

  it("give the tails of Poisson's law: Q(n, x) = e⁻ˣ Σ xᵏ/k!", () => {
    for (const n of [1, 2, 5, 9, 10, 11, 40]) {
      for (const x of [0.01, 0.5, 3, n, n + 0.99, n + 1.01, 3 * n]) {
        let [term, sum] = [Math.exp(-x), 0];
        for (let k = 0; k < n; k++) {
          sum += term;
          term *= x / (k + 1);
        }
        let rest = 0;
        for (let k = n; k < n + 400; k++) {
          rest += term;
          term *= x / (k + 1);
        }
        const { lower, upper } = incompleteGamma(n, x);
        near(upper, sum, 1e-11);
        near(lower, rest, 1e-11);
      }
    }
    expect(incompleteGamma(3, 0)).toEqual({ lower: 0, upper: 1 });
    expect(incompleteGamma(3, -1)).toEqual({ lower: 0, upper: 1 });
    expect(incompleteGamma(3, Number.POSITIVE_INFINITY)).toEqual({ lower: 1, upper: 0 });
  });

  it("give the tails of the binomial law: I_x(k, n − k + 1)", () => {
    for (const [k, n] of [
      [1, 1],
      [2, 3],
      [4, 9],
      [12, 30],
      [9, 40],
      [30, 33],
    ] as const) {
      for (const x of [0.02, 0.3, 0.5, 0.77, 0.98]) {
        const chance = (j: number) =>
          Math.exp(
            logGamma(n + 1) - logGamma(j + 1) - logGamma(n - j + 1) + j * Math.log(x) + (n - j) * Math.log(1 - x),
          );
        let [above, below] = [0, 0];
        for (let j = k; j <= n; j++) above += chance(j);
        for (let j = 0; j < k; j++) below += chance(j);
        const { lower, upper } = incompleteBeta(k, n - k + 1, x, 1 - x);
        expect(Math.abs(lower - above)).toBeLessThan(1e-12);
        expect(Math.abs(upper - below)).toBeLessThan(1e-12);
        if (above < 0.1) near(lower, above, 1e-10);
        if (below < 0.1) near(upper, below, 1e-10);
      }
    }
    expect(incompleteBeta(2, 3, 0, 1)).toEqual({ lower: 0, upper: 1 });
    expect(incompleteBeta(2, 3, 1, 0)).toEqual({ lower: 1, upper: 0 });
  });
});

describe("distributions at their edges", () => {
  it("are symmetric, end in nothing and all, and have their middle", () => {
    for (const nu of [1, 2.5, 30, Number.POSITIVE_INFINITY]) {
      for (const t of [0.3, 1, 4]) expect(tCdf(-t, nu)).toBeCloseTo(1 - tCdf(t, nu), 14);
      expect([tCdf(0, nu), tQuantile(0.5, nu)]).toEqual([0.5, 0]);
      expect([tCdf(Number.POSITIVE_INFINITY, nu), tCdf(Number.NEGATIVE_INFINITY, nu)]).toEqual([1, 0]);
      expect(tQuantile(0.1, nu)).toBeCloseTo(-tQuantile(0.9, nu), 12);
    }
    expect([normalQuantile(0.5), normalCdf(0)]).toEqual([0, 0.5]);
    expect([tCdf(1e200, 3), tCdf(-1e200, 3)]).toEqual([1, 0]);
    expect([fCdf(0, 3, 4), fUpperTail(0, 3, 4), fCdf(-1, 3, 4), fUpperTail(Number.NaN, 3, 4)]).toEqual([0, 1, 0, 1]);
    expect([fUpperTailWhole(0, 3, 4), fUpperTailWhole(-1, 3, 4)]).toEqual([1, 1]);
    expect([chiSquaredCdf(0, 3), chiSquaredCdf(-1, 3)]).toEqual([0, 0]);
  });

  it("have the closed forms of one and two degrees of freedom", () => {
    // Cauchy: tan(π (p − ½)); ν = 2: (2p − 1) √(2 / (1 − (2p − 1)²)); exponential: −2 ln(1 − p); F(2, ν)
    for (const p of [1e-9, 0.01, 0.3, 0.6, 0.999]) {
      near(tQuantile(p, 1), Math.tan(Math.PI * (p - 0.5)), 1e-7);
      const a = 2 * p - 1;
      near(tQuantile(p, 2), a * Math.sqrt(1 / (2 * p * (1 - p))), 1e-9);
      near(chiSquaredQuantile(p, 2), -2 * Math.log1p(-p), 1e-11);
      near(fQuantile(p, 2, 7), (7 / 2) * Math.expm1((-2 / 7) * Math.log1p(-p)), 1e-10);
    }
    near(chiSquaredQuantile(1e-30, 0.5), 2 * (1e-30 * Math.exp(logGamma(1.25))) ** 4, 1e-9);
    for (const f of [0.01, 0.7, 2, 40]) {
      near(fUpperTailWhole(f, 2, 9), (1 + (2 * f) / 9) ** -4.5, 1e-12);
      near(fUpperTailWhole(f, 2, 398), (1 + (2 * f) / 398) ** -199, 1e-11);
      near(fUpperTail(f, 2, 9), (1 + (2 * f) / 9) ** -4.5, 1e-12);
      near(fUpperTailWhole(f, 9, 2), 1 - (1 + 2 / (9 * f)) ** -4.5, 1e-8);
    }
    near(fUpperTailWhole(3, 300, 300), fUpperTail(3, 300, 300));
  });

  it("refuse probabilities of nothing and one and no degrees of freedom, each by its name", () => {
    for (const p of [0, 1, -0.1, Number.NaN]) {
      for (const [name, act] of [
        ["normalQuantile", () => normalQuantile(p)],
        ["tQuantile", () => tQuantile(p, 3)],
        ["chiSquaredQuantile", () => chiSquaredQuantile(p, 3)],
        ["fQuantile", () => fQuantile(p, 3, 3)],
      ] as const) {
        expect(refusal(act)).toEqual({
          code: "probability",
          message: `${name}: ${p} is not a probability between 0 and 1; give one such as 0.95`,
        });
      }
    }
    for (const [name, act] of [
      ["tCdf", () => tCdf(1, 0)],
      ["chiSquaredCdf", () => chiSquaredCdf(1, 0)],
      ["chiSquaredQuantile", () => chiSquaredQuantile(0.5, 0)],
      ["fCdf", () => fCdf(1, 0, 3)],
      ["fUpperTail", () => fUpperTail(1, 3, 0)],
    ] as const) {
      expect(refusal(act)).toEqual({
        code: "degrees-of-freedom",
        message: `${name}: 0 degrees of freedom; give a number greater than zero, Infinity for an exactly known spread`,
      });
    }
  });
});

describe("the limit for many places at once", () => {
  it("is Šidák's: level^(1/n) of one place, both ways", () => {
    for (const [count, level] of [
      [1, 0.95],
      [35, 0.95],
      [90, 0.9],
    ] as const) {
      expect(simultaneousFactor(count, 12, level)).toBeCloseTo(tQuantile((1 + level ** (1 / count)) / 2, 12), 9);
    }
    // common practice, printed: 3.18 for 35 places, 3.45 for 90, 3.58 for 150
    expect([35, 90, 150].map((n) => simultaneousFactor(n).toFixed(2))).toEqual(["3.18", "3.45", "3.58"]);
    for (const wrong of [0, Number.POSITIVE_INFINITY, Number.NaN]) {
      expect(refusal(() => simultaneousFactor(wrong))).toEqual({
        code: "count",
        message: `simultaneousFactor: ${wrong} places; give a whole number from 1`,
      });
    }
  });
});

describe("a function that never falls", () => {
  it("pools what falls into means and stays level beyond its ends", () => {
    // 1, 3, 2, 4, 0 over 1 to 5: 3 and 2 pool to 2.5; 4 and 0 to 2, with them to 9/4
    const fit = isotonicFit([5, 1, 3, 2, 4], [0, 1, 2, 3, 4]);
    expect([0, 1, 1.9, 2, 3, 4, 5, 9].map(fit)).toEqual([1, 1, 1, 2.25, 2.25, 2.25, 2.25, 2.25]);
    const steps = isotonicFit([1, 2, 3, 4], [5, 6, 6.5, 9]);
    expect([1, 2, 2.5, 3, 4].map(steps)).toEqual([5, 6, 6, 6.5, 9]);
  });

  it("takes equal places as one", () => {
    const fit = isotonicFit([1, 2, 2, 2, 3], [0, 3, 9, 6, 7]);
    expect([1, 2, 3].map(fit)).toEqual([0, 6, 7]);
    expect([1, 2, 3].map(isotonicFit([1, 1, 2, 3, 3], [2, 4, 3, 5, 9]))).toEqual([3, 3, 7]);
  });

  it("is nearest in squares: no small change that keeps it rising is nearer", () => {
    const random = randomStream(4);
    const x = Array.from({ length: 20 }, (_, i) => i);
    const y = x.map((v) => v / 10 + random.normal());
    const fit = isotonicFit(x, y);
    const values = x.map(fit);
    const squares = (v: readonly number[]) => v.reduce((s, f, i) => s + (f - y[i]!) ** 2, 0);
    expect(values).toEqual(values.toSorted((a, b) => a - b));
    for (let i = 0; i < 20; i++) {
      for (const sign of [-1, 1]) {
        const other = values.map((v, k) => (sign > 0 ? (k >= i ? v + 1e-4 : v) : k <= i ? v - 1e-4 : v));
        expect(squares(other)).toBeGreaterThanOrEqual(squares(values) - 1e-12);
      }
    }
  });
});

describe("plain helpers", () => {
  it("range over least and greatest", () => {
    expect(range(Float64Array.of(3, -2, 7, 0))).toEqual([-2, 7]);
  });

  it("draw different things of a row, no more than are there, always the same", () => {
    const some = spreadOver(50, 12);
    expect(new Set(some).size).toBe(12);
    expect(some).toEqual(spreadOver(50, 12));
    expect(some).not.toEqual(some.toSorted((a, b) => a - b));
    expect(spreadOver(5, 9).toSorted()).toEqual([0, 1, 2, 3, 4]);
  });

  it("find the k-th smallest, smaller ones before it", () => {
    const random = randomStream(12);
    for (let turn = 0; turn < 60; turn++) {
      const values = Float64Array.from({ length: 1 + (turn % 23) }, () => Math.floor(6 * random.uniform()));
      const sorted = values.toSorted();
      for (let k = 0; k < values.length; k++) {
        const work = values.slice();
        expect(selectInPlace(work, k)).toBe(sorted[k]);
        expect(work.toSorted()).toEqual(sorted);
        expect(Math.max(...work.subarray(0, k), Number.NEGATIVE_INFINITY)).toBeLessThanOrEqual(sorted[k]!);
      }
    }
    expect(selectInPlace(Float64Array.of(), 0)).toBeNaN();
  });

  it("find a median near a guess, and where the guess is bad", () => {
    const random = randomStream(13);
    for (const length of [10, 63, 64, 65, 200, 201]) {
      const values = Float64Array.from({ length }, () => Math.abs(random.normal()) + 0.1);
      const wanted = median(values);
      for (const guess of [wanted, wanted * 1.02, wanted * 0.97, 0, 10, wanted / 2]) {
        expect(medianNear(values, guess, new Float64Array(length))).toBe(wanted);
      }
    }
    expect([upperHalfOf(1), upperHalfOf(2), upperHalfOf(0)]).toEqual([0x3ff00000, 0x40000000, 0]);
  });

  it("solve a square system that asks for other rows first", () => {
    const matrix = [
      [0, 2, 1],
      [1, -1, 0],
      [3, 0, -2],
    ];
    const x = [2, -1, 4];
    const rhs = matrix.map((row) => row.reduce((s, v, j) => s + v * x[j]!, 0));
    solveSquare(matrix, rhs).forEach((v, i) => void expect(v).toBeCloseTo(x[i]!, 12));
    expect(
      solveSquare(
        [
          [1, 1],
          [1, 1],
        ],
        [1, 2],
      ).every(Number.isFinite),
    ).toBe(false);
  });

  it("differ by six points as exactly as a sixth power asks", () => {
    const [dx, dy] = numericalPartials(([x, y]) => x! ** 5 * Math.sin(y!), [1.5, 0.7], [1, 1]);
    near(dx!, 5 * 1.5 ** 4 * Math.sin(0.7), 1e-12);
    near(dy!, 1.5 ** 5 * Math.cos(0.7), 1e-12);
    // near zero the size of the parameter comes from its scale
    const [atZero] = numericalPartials(([x]) => Math.sin(x!) + 4, [0], [2e3]);
    near(atZero!, 1, 1e-9);
  });
});

describe("factors of symmetric matrices", () => {
  it("take a row that follows from those before it, and name one that contradicts them", () => {
    const half = [
      [1, 0.6, 0.8],
      [0.6, 1, 0],
      [0.8, 0, 1],
    ];
    // 0.36 + 0.64 = 1: the first follows from the other two
    const l = semidefiniteFactor(half) as number[][];
    half.forEach((row, i) => {
      row.forEach((v, j) => void expect(l[i]!.reduce((s, w, k) => s + w * l[j]![k]!, 0)).toBeCloseTo(v, 12));
    });
    expect(l[2]![2]).toBe(0);
    expect(
      semidefiniteFactor([
        [1, 0.9, 0.9],
        [0.9, 1, -0.9],
        [0.9, -0.9, 1],
      ]),
    ).toBe(2);
    expect(
      semidefiniteFactor([
        [1, 1, 0.5],
        [1, 1, 0.4],
        [0.5, 0.4, 1],
      ]),
    ).toBe(2);
    expect(
      semidefiniteFactor([
        [1, 1.2],
        [1.2, 1],
      ]),
    ).toBe(1);
  });

  it("solve and refuse at the same row", () => {
    expect(
      refusal(() =>
        solveSymmetric(
          [
            [1, 0, 0],
            [0, 4, 2],
            [0, 2, 1],
          ],
          [1, 2, 3],
        ),
      ),
    ).toEqual({
      code: "not-positive-definite",
      message:
        "cholesky: row 3 of 3 follows from the rows before it or contradicts them; check the entries for a sign or a copied line",
    });
    expect(
      cholesky([
        [9, 3],
        [3, 5],
      ]),
    ).toEqual([
      [3, 0],
      [1, 2],
    ]);
  });
});

describe("least squares by hand", () => {
  it("gives line, residuals, scatter and leverages of five points", () => {
    // x −2 … 2, y 1 3 2 5 9: slope 18/10, mean 4; residuals 0.6 0.8 −2 −0.8 1.4: sum of squares 7.6
    const x = [-2, -1, 0, 1, 2];
    const fit = leastSquares([x.map(() => 1), x], [1, 3, 2, 5, 9]);
    expect(fit.coefficients.map((c) => c.toFixed(12))).toEqual(["4.000000000000", "1.800000000000"]);
    expect(fit.residuals.map((r) => r.toFixed(12))).toEqual([0.6, 0.8, -2, -0.8, 1.4].map((r) => r.toFixed(12)));
    expect(fit.residualSumOfSquares).toBeCloseTo(7.6, 12);
    expect(fit.residualStandardDeviation).toBeCloseTo(Math.sqrt(7.6 / 3), 12);
    expect(fit.leverages.map((h) => h.toFixed(12))).toEqual(x.map((v) => (0.2 + v ** 2 / 10).toFixed(12)));
    // columns of very different size, and one that is all below zero
    const scaled = leastSquares([x.map(() => -1e-6), x.map((v) => 1e7 * v)], [1, 3, 2, 5, 9]);
    expect(scaled.coefficients[0]! * -1e-6).toBeCloseTo(4, 12);
    expect(scaled.coefficients[1]! * 1e7).toBeCloseTo(1.8, 12);
    expect(scaled.covarianceFactor[0]![0]! * 1e-12).toBeCloseTo(0.2, 12);
    expect(scaled.covarianceFactor[1]![1]! * 1e14).toBeCloseTo(0.1, 12);
  });

  it("makes columns that are square to each other and span the same", () => {
    const columns = [
      [1, 1, 1, 1],
      [1, 2, 3, 5],
      [1, 4, 9, 2],
    ];
    const q = orthonormal(columns);
    q.forEach((a, i) => {
      q.forEach((b, j) => void expect(a.reduce((s, v, k) => s + v * b[k]!, 0)).toBeCloseTo(i === j ? 1 : 0, 12));
    });
    expect(orthonormal([])).toEqual([]);
    // the second column is a sum of the first two of q
    const [p, r] = [0, 1].map((k) => columns[1]!.reduce((s, v, i) => s + v * q[k]![i]!, 0));
    columns[1]!.forEach((v, i) => void expect(p! * q[0]![i]! + r! * q[1]![i]!).toBeCloseTo(v, 12));
  });

  it("gives the plane of an odd and of an even number of points, extremes wherever they stand", () => {
    for (const count of [5, 6, 9]) {
      for (let at = 0; at < count; at++) {
        const x = Array.from({ length: count }, (_, i) => 10 + (i % 3));
        const y = Array.from({ length: count }, (_, i) => -4 + Math.floor(i / 3));
        for (const bump of [5, -5]) {
          const z = x.map((v, i) => 3 + 2 * v - y[i]! + (i === at ? bump : 0));
          const got = leastSquaresPlane(x, y, z);
          const fit = leastSquares([x, y, x.map(() => 1)], z);
          expect(got.slopeX).toBeCloseTo(fit.coefficients[0]!, 9);
          expect(got.slopeY).toBeCloseTo(fit.coefficients[1]!, 9);
          expect(got.offset).toBeCloseTo(fit.coefficients[2]!, 8);
          expect(got.highest).toBeCloseTo(Math.max(...fit.residuals), 9);
          expect(got.lowest).toBeCloseTo(Math.min(...fit.residuals), 9);
        }
      }
    }
    const three = leastSquaresPlane([0, 1, 0], [0, 0, 1], [1, 2, 4]);
    expect([three.slopeX, three.slopeY, three.offset].map((v) => v.toFixed(12))).toEqual(
      [1, 3, 1].map((v) => v.toFixed(12)),
    );
    for (const wrong of [
      [
        [0, 1],
        [0, 0, 1],
        [0, 0, 0],
      ],
      [
        [0, 1, 0],
        [0, 0],
        [0, 0, 0],
      ],
    ] as const) {
      expect(refusal(() => leastSquaresPlane(wrong[0], wrong[1], wrong[2])).code).toBe("too-few-places");
    }
  });
});

describe("samples by hand", () => {
  it("have moments, and refuse what has no interval at either end", () => {
    expect(momentsOfSample([2, 4, 4, 4, 5, 5, 7, 9])).toEqual({ mean: 5, standardDeviation: Math.sqrt(32 / 7) });
    const values = Array.from({ length: 20 }, (_, i) => i);
    expect(summariseSample(values, 0.9)).toMatchObject({
      count: 20,
      symmetric: [0, 18],
      shortest: [0, 18],
      range: [0, 19],
    });
    for (const level of [0, -0.5, 0.01, 0.98, 1, Number.NaN])
      expect(refusal(() => summariseSample(values, level)).code).toBe("sample");
    expect(refusal(() => summariseSample([1, 2, Number.POSITIVE_INFINITY, 3], 0.5)).message).toBe(
      "summariseSample: a value is not a finite number; look for what made it",
    );
  });

  it("have mean, scatter and the likeness of neighbours", () => {
    // 1 3 2 6: mean 3, offs −2 0 −1 3; squares 14; products 0 + 0 − 3
    const got = meanAndDeviation([1, 3, 2, 6]);
    expect(got).toEqual({ count: 4, mean: 3, deviation: Math.sqrt(14 / 3), lagOneCorrelation: -3 / 14 });
    expect(meanAndDeviation([7])).toMatchObject({ count: 1, mean: 7, deviation: 0 });
    expect(meanAndDeviation([5, 5]).lagOneCorrelation).toBeNaN();
    expect(refusal(() => meanAndDeviation([]))).toEqual({
      code: "no-values",
      message: "meanAndDeviation: no value is given; give one at least",
    });
    expect(refusal(() => meanAndDeviation([1, Number.NaN]))).toEqual({
      code: "not-finite",
      message: "meanAndDeviation: value 2 of 2 is NaN; give finite numbers",
    });
    expect(refusal(() => meanAndDeviation([Number.NaN, 1])).message).toBe(
      "meanAndDeviation: value 1 of 2 is NaN; give finite numbers",
    );
  });
});

describe("seeds", () => {
  it("go up to the last whole number that is exact, and blocks below 2³²", () => {
    expect(blockWords(Number.MAX_SAFE_INTEGER, 2 ** 32 - 1)).toHaveLength(4);
    expect(blockWords(0, 0)).not.toEqual(blockWords(0, 1));
    for (const [seed, block, said] of [
      [-1, 0, "seed -1 is not a whole number from 0 to 9007199254740991"],
      [2 ** 53, 0, "seed 9007199254740992 is not a whole number from 0 to 9007199254740991"],
      [1, 2 ** 32, "block 4294967296 is not a whole number from 0 to 4294967295"],
      [1, 0.5, "block 0.5 is not a whole number from 0 to 4294967295"],
    ] as const) {
      expect(refusal(() => randomStream(seed, block))).toEqual({ code: "seed", message: `randomStream: ${said}` });
    }
  });
});

describe("robust fits by hand", () => {
  it("of one level are the estimate that their equation asks for", () => {
    // 1 2 3 4 1000 about a level: Huber's equation Σ ψ = 0 with the scale of the median
    const y = [1, 2, 3, 4, 1000];
    const ones = [y.map(() => 1)];
    const huber = huberFit(ones, y);
    const level = huber.coefficients[0]!;
    const limit = 1.345 * huber.scale;
    expect(huber.scale).toBeCloseTo(median(y.map((v) => Math.abs(v - level))) / 0.674_489_750_196_081_7, 9);
    expect(y.reduce((s, v) => s + Math.max(-limit, Math.min(limit, v - level)), 0)).toBeCloseTo(0, 8);
    huber.weights.forEach((w, i) => void expect(w).toBeCloseTo(Math.min(1, limit / Math.abs(y[i]! - level)), 9));
    const bisquare = bisquareFit(ones, y);
    expect(bisquare.weights[4]).toBe(0);
    expect(bisquare.coefficients[0]!).toBeCloseTo(2.5, 9);
    bisquare.weights.slice(0, 4).forEach((w, i) => {
      expect(w).toBeCloseTo((1 - ((y[i]! - 2.5) / (4.685 * bisquare.scale)) ** 2) ** 2, 9);
    });
    expect(huberFit(ones, y, { leastScale: 50 }).scale).toBe(50);
    expect(huberFit(ones, y, { tuning: 1e6 }).coefficients[0]!).toBeCloseTo(202, 6);
  });
});

describe("trimmed planes", () => {
  it("keep from (n + 4) / 2 points to all", () => {
    const x = [0, 1, 2, 0, 1, 2, 0, 1];
    const y = [0, 0, 0, 1, 1, 1, 2, 2];
    const z = x.map((v, i) => v - y[i]! + (i === 4 ? 9 : 0));
    for (const wrong of [5, 9, 6.5]) {
      expect(refusal(() => trimmedPlane(x, y, z, wrong))).toEqual({
        code: "keep",
        message: `trimmedPlane: ${wrong} of 8 points to keep; give a whole number from 6 to 8`,
      });
    }
    const got = trimmedPlane(x, y, z);
    expect(got.kept).toHaveLength(6);
    expect(got.kept).not.toContain(4);
    expect(got.sumOfSquares).toBeCloseTo(0, 12);
    expect(
      [got.slopeX, got.slopeY, got.offset, got.exact].map((v) =>
        typeof v === "number" ? Number(v.toFixed(9)) + 0 : v,
      ),
    ).toEqual([1, -1, 0, true]);
    expect(trimmedPlane(x, y, z, 8).sumOfSquares).toBeCloseTo(
      leastSquares([x, y, x.map(() => 1)], z).residualSumOfSquares,
      9,
    );
  });
});

describe("a triangulation", () => {
  const areaOf = (points: readonly { u: number; v: number }[], [a, b, c]: readonly [number, number, number]) => {
    const [p, q, r] = [points[a]!, points[b]!, points[c]!];
    return Math.abs((q.u - p.u) * (r.v - p.v) - (r.u - p.u) * (q.v - p.v)) / 2;
  };

  it("covers the rectangle once, and no circle of three holds a fourth", () => {
    const random = randomStream(6);
    const corners = [
      [0, 0],
      [90, 0],
      [90, 60],
      [0, 60],
    ].map(([u, v]) => ({ u: u!, v: v! }));
    const points = [
      ...corners,
      ...Array.from({ length: 14 }, () => ({ u: 90 * random.uniform(), v: 60 * random.uniform() })),
    ];
    const net = triangulate(points);
    expect(net.reduce((s, t) => s + areaOf(points, t), 0)).toBeCloseTo(5400, 6);
    // Euler: 2 n − 2 − corners of the hull
    expect(net).toHaveLength(2 * 18 - 2 - 4);
    for (const [a, b, c] of net) {
      const [p, q, r] = [points[a]!, points[b]!, points[c]!];
      for (const [i, s] of points.entries()) {
        if (i === a || i === b || i === c) continue;
        const m = [p, q, r].map((t) => [t.u - s.u, t.v - s.v, (t.u - s.u) ** 2 + (t.v - s.v) ** 2]);
        const turn = (q.u - p.u) * (r.v - p.v) - (r.u - p.u) * (q.v - p.v);
        const det =
          m[0]![0]! * (m[1]![1]! * m[2]![2]! - m[1]![2]! * m[2]![1]!) -
          m[0]![1]! * (m[1]![0]! * m[2]![2]! - m[1]![2]! * m[2]![0]!) +
          m[0]![2]! * (m[1]![0]! * m[2]![1]! - m[1]![1]! * m[2]![0]!);
        expect(det * Math.sign(turn)).toBeLessThan(1e-3);
      }
    }
  });

  it("covers a long strip wherever it lies", () => {
    for (const [u0, v0] of [
      [0, 0],
      [-4000, -300],
      [1e5, -1e5],
    ] as const) {
      const random = randomStream(7);
      const inside = Array.from({ length: 30 }, () => [4000 * random.uniform(), 300 * random.uniform()] as const);
      const places = [
        ...([
          [0, 0],
          [4000, 0],
          [4000, 300],
          [0, 300],
        ] as const),
        ...inside,
      ];
      const points = places.map(([u, v]) => ({ u: u0 + u, v: v0 + v }));
      expect(triangulate(points).reduce((s, t) => s + areaOf(points, t), 0)).toBeCloseTo(1.2e6, 2);
    }
  });
});

describe("the least of a smooth function inside limits", () => {
  const bowl: Slope = ([x, y]) => ({
    value: (x! - 1) ** 2 + 10 * (y! + 0.5) ** 2 + x! * y!,
    gradient: [2 * (x! - 1) + y!, 20 * (y! + 0.5) + x!],
  });
  const wide = [
    { low: -5, high: 5 },
    { low: -5, high: 5 },
  ];

  it("is found where the slope is nothing", () => {
    // 2x + y = 2, x + 20 y = −10: x = 50/39, y = −22/39
    const got = boundedMinimum(bowl, [3, 4], wide)!;
    expect(got.at[0]!).toBeCloseTo(50 / 39, 6);
    expect(got.at[1]!).toBeCloseTo(-22 / 39, 6);
    expect(Math.max(...got.gradient.map(Math.abs))).toBeLessThan(1e-5);
    expect(got.value).toBeCloseTo(bowl(got.at)!.value, 12);
    expect(got.evaluations).toBeLessThan(40);
    expect(got.evaluations).toBeGreaterThan(2);
    // the bend is learnt: its inverse is that of [[2, 1], [1, 20]]
    expect(got.inverse[0]![0]!).toBeCloseTo(20 / 39, 1);
  });

  it("stays at a limit that the slope presses against, from either side", () => {
    const low = boundedMinimum(
      bowl,
      [3, 4],
      [
        { low: 2, high: 5 },
        { low: -5, high: 5 },
      ],
    )!;
    expect(low.at[0]).toBe(2);
    expect(low.at[1]!).toBeCloseTo(-0.6, 6);
    const high = boundedMinimum(
      bowl,
      [-3, 4],
      [
        { low: -5, high: 0.5 },
        { low: -5, high: -1 },
      ],
    )!;
    expect(high.at).toEqual([0.5, -1]);
    // a start outside is brought inside
    expect(boundedMinimum(bowl, [9, 9], wide)!.at[0]!).toBeCloseTo(50 / 39, 6);
  });

  it("goes round where the function has no value, and ends after so many steps", () => {
    const holed: Slope = (at) => (at[0]! > 2.5 ? undefined : bowl(at));
    expect(boundedMinimum(holed, [2.4, 4], wide)!.at[0]!).toBeCloseTo(50 / 39, 5);
    expect(boundedMinimum(holed, [3, 4], wide)).toBeUndefined();
    const curved: Slope = ([x, y]) => ({
      value: (1 - x!) ** 2 + 100 * (y! - x! ** 2) ** 2,
      gradient: [-2 * (1 - x!) - 400 * x! * (y! - x! ** 2), 200 * (y! - x! ** 2)],
    });
    const far = boundedMinimum(curved, [-1.2, 1], wide)!;
    expect(far.at.map((v) => v.toFixed(4))).toEqual(["1.0000", "1.0000"]);
    expect(boundedMinimum(curved, [-1.2, 1], wide, { most: 3 })!.value).toBeGreaterThan(0.5);
  });
});
