import { describe, expect, it } from "vitest";
import { BandMatrix, solveBand } from "../../kernel-lib/src/numerics/band-cholesky.js";
import { LongSum, longDot } from "../../kernel-lib/src/numerics/double-length.js";
import {
  gaussianProcess,
  kriging,
  nonlinearLeastSquares,
  oneWayAnova,
  orthogonalPlane,
  randomStream,
  thinPlateSpline,
} from "../../kernel-lib/src/numerics/index.js";
import { minimumZoneLine, minimumZoneLineWidths } from "../../kernel-lib/src/numerics/minimum-zone-line.js";
import { NormalEquations, solveWell } from "../../kernel-lib/src/numerics/normal-equations.js";
import { sweep } from "../../kernel-lib/src/numerics/slab-sweep.js";
import { startContacts, threeApart } from "../../kernel-lib/src/numerics/start-contacts.js";
import { refusal } from "../refusal.js";

describe("a minimum zone line", () => {
  it("is the strip by hand, with what touches it", () => {
    // a hump of 2 over five places: mid line at 1, touched at both ends and in the middle
    expect(minimumZoneLine([0, 1, 2, 3, 4], [0, 1, 2, 1, 0])).toEqual({
      slope: 0,
      offset: 1,
      zone: 2,
      upper: [2],
      lower: [0, 4],
    });
    const tilted = minimumZoneLine(
      [10, 11, 12, 13, 14],
      [0, 1, 2, 1, 0].map((v, i) => -v + 3 * i + 7),
    );
    expect([tilted.slope, tilted.zone, tilted.upper, tilted.lower]).toEqual([3, 2, [0, 4], [2]]);
    expect(tilted.offset).toBeCloseTo(7 - 30 - 1, 9);
  });

  it("takes places in any order and several heights at one place", () => {
    const got = minimumZoneLine([4, 0, 2, 2, 2], [0, 0, 1, 3, 2]);
    expect([got.slope, got.zone, got.upper, got.lower]).toEqual([0, 3, [3], [1, 0]]);
    const low = minimumZoneLine([2, 0, 4, 2], [-3, 0, 0, -1]);
    expect([low.zone, low.upper, low.lower]).toEqual([3, [1, 2], [0]]);
  });

  it("is no wider than any strip of two points' slope, and the same for many sets at the same places", () => {
    const random = randomStream(14);
    for (let turn = 0; turn < 40; turn++) {
      const t = Array.from({ length: 4 + (turn % 9) }, () => Math.floor(9 * random.uniform()));
      if (new Set(t).size < 2) continue;
      const z = Float64Array.from(t, () => random.normal());
      const width = (slope: number) => {
        const off = t.map((v, i) => z[i]! - slope * v);
        return Math.max(...off) - Math.min(...off);
      };
      const slopes = t.flatMap((v, i) => t.flatMap((w, j) => (v < w ? [(z[j]! - z[i]!) / (w - v)] : [])));
      const wanted = Math.min(...slopes.map(width));
      expect(minimumZoneLine(t, z).zone).toBeCloseTo(wanted, 12);
      expect(minimumZoneLineWidths(t)(z)).toBeCloseTo(wanted, 12);
    }
  });

  it("needs as many places as heights", () => {
    expect(refusal(() => minimumZoneLine([0, 1, 2, 3], [0, 1, 2])).message).toBe(
      "minimumZoneLine: 4 places and 3 heights; give at least three points, each with both",
    );
  });
});

describe("a plane of least distances square to it", () => {
  it("is that of points on it, measured square to it, far from the origin", () => {
    const x = [1000, 1010, 1000, 1010, 1005];
    const y = [500, 500, 520, 520, 510];
    // two points 1 off, above and below, square to a plane that rises 3 in 4 along x is too steep; 0.1 along x
    const flat = orthogonalPlane(
      x,
      y,
      x.map((v, i) => 0.1 * v - 0.05 * y[i]! + 2),
    );
    expect([flat.slopeX, flat.slopeY, flat.offset].map((v) => v.toFixed(9))).toEqual([
      "0.100000000",
      "-0.050000000",
      "2.000000000",
    ]);
    expect(Math.max(flat.highest, -flat.lowest)).toBeLessThan(1e-9);
    // the middle lifted by 1 and four corners left: least squares keeps the slopes, and the offset moves by a fifth
    const lifted = orthogonalPlane(
      x,
      y,
      x.map((v, i) => 0.1 * v - 0.05 * y[i]! + 2 + (i === 4 ? 1 : 0)),
    );
    const across = Math.hypot(1, lifted.slopeX, lifted.slopeY);
    expect(lifted.highest).toBeCloseTo(0.8 / across, 9);
    const off = x.map((v, i) => 0.1 * v - 0.05 * y[i]! + 2 - lifted.slopeX * v - lifted.slopeY * y[i]! - lifted.offset);
    expect(lifted.lowest).toBeCloseTo(Math.min(...off) / across, 9);
    expect(lifted.slopeX).toBeGreaterThan(0.1);
  });

  it("needs each of its three columns", () => {
    for (const wrong of [
      [
        [0, 1],
        [0, 1, 0],
        [0, 0, 1],
      ],
      [
        [0, 1, 0],
        [0, 1],
        [0, 0, 1],
      ],
      [
        [0, 1, 0],
        [0, 1, 0],
        [0, 0],
      ],
    ] as const) {
      expect(refusal(() => orthogonalPlane(wrong[0], wrong[1], wrong[2])).code).toBe("too-few-places");
    }
  });
});

describe("an analysis of one way", () => {
  it("splits by hand", () => {
    // means 2, 4, 6 of two readings each, ±1: between 2 · (4 + 0 + 4) = 16, within 6
    const got = oneWayAnova([
      [1, 3],
      [3, 5],
      [5, 7],
    ]);
    expect(got).toMatchObject({
      between: { sumOfSquares: 16, degreesOfFreedom: 2, meanSquare: 8 },
      within: { sumOfSquares: 6, degreesOfFreedom: 3, meanSquare: 2 },
      f: 4,
      means: [2, 4, 6],
      grandMean: 4,
      residualStandardDeviation: Math.SQRT2,
    });
    expect(got.rSquared).toBeCloseTo(16 / 22, 12);
    // F(2, 3) above 4: (1 + 8/3)^(−3/2)
    expect(got.p).toBeCloseTo((1 + 8 / 3) ** -1.5, 12);
    // groups of different sizes: means 2 and 5, grand 11/4: between (3 · 0.75² + 2.25²) = 6.75, within 2
    const uneven = oneWayAnova([[1, 2, 3], [5]]);
    expect(uneven.between.sumOfSquares).toBeCloseTo(6.75, 12);
    expect([uneven.within.sumOfSquares, uneven.within.degreesOfFreedom, uneven.grandMean]).toEqual([2, 2, 2.75]);
    expect(
      oneWayAnova([
        [1, 1],
        [2, 2],
      ]),
    ).toMatchObject({ f: Number.POSITIVE_INFINITY, p: 0, rSquared: 1 });
  });

  it.each<[readonly number[][], string, string]>([
    [[[1, 2]], "anova", "1 group; give two at least"],
    [[[1, 2], []], "anova", "group 2 of 2 is empty; leave it out"],
    [
      [
        [1, 2],
        [3, Number.NaN],
      ],
      "not-finite",
      "value 2 of group 2 is NaN; give finite numbers",
    ],
    [[[1], [2]], "anova", "every group has one reading; give two at least in one of them"],
    [
      [
        [4, 4],
        [4, 4],
      ],
      "anova",
      "all 4 readings are 4; nothing scatters, give readings of a finer display",
    ],
  ])("refuses %j", (groups, code, sentence) => {
    expect(refusal(() => oneWayAnova(groups))).toEqual({ code, message: `oneWayAnova: ${sentence}` });
  });
});

describe("sums in double length", () => {
  it("keep what a double loses", () => {
    const sum = new LongSum();
    for (const v of [1e16, 1, -1e16, 2 ** -30]) sum.add(v);
    expect(sum.value()).toBe(1 + 2 ** -30);
    // (1 + 2⁻³⁰)² − 1 − 2⁻²⁹ = 2⁻⁶⁰
    const a = 1 + 2 ** -30;
    expect(longDot([a, -1, -(2 ** -29)], [a, 1, 1])).toBe(2 ** -60);
    expect(longDot([3, -5], [7, 4])).toBe(1);
  });
});

describe("a band matrix by hand", () => {
  it("adds on either side of its diagonal, multiplies and is solved", () => {
    const matrix = new BandMatrix(4, 2);
    for (let i = 0; i < 4; i++) matrix.add(i, i, 4);
    matrix.add(0, 1, 1);
    matrix.add(2, 0, -2);
    matrix.add(3, 2, 1);
    // rows 4 1 −2 0 | 1 4 0 0 | −2 0 4 1 | 0 0 1 4
    expect([...matrix.times(Float64Array.of(1, 2, 3, 4))]).toEqual([0, 9, 14, 19]);
    [...solveBand(matrix, Float64Array.of(0, 9, 14, 19))].forEach((v, i) => void expect(v).toBeCloseTo(i + 1, 12));
    const more = matrix.plusDiagonal(Float64Array.of(1, 0, 0, 2));
    expect([...more.times(Float64Array.of(1, 2, 3, 4))]).toEqual([1, 9, 14, 27]);
    expect([...matrix.times(Float64Array.of(1, 0, 0, 0))]).toEqual([4, 1, -2, 0]);
  });

  it("is refused at the first row that contradicts those before it", () => {
    const matrix = new BandMatrix(4, 1);
    for (let i = 0; i < 4; i++) matrix.add(i, i, 1);
    matrix.add(2, 1, 1);
    expect(refusal(() => solveBand(matrix, new Float64Array(4)))).toEqual({
      code: "not-positive-definite",
      message:
        "solveBand: row 3 of 4 follows from the rows before it or contradicts them; hold the plate at more places",
    });
  });
});

describe("normal equations", () => {
  const random = randomStream(15);
  const columns = Array.from({ length: 4 }, () => Float64Array.from({ length: 2055 }, () => random.normal()));
  const y = Float64Array.from({ length: 2055 }, () => random.normal());
  const equations = new NormalEquations(columns);
  const product = (a: ArrayLike<number>, b: ArrayLike<number>) => Array.from(a).reduce((s, v, i) => s + v * b[i]!, 0);

  it("sum over all rows, block after block", () => {
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j < 4; j++) expect(equations.gram[4 * i + j]!).toBeCloseTo(product(columns[i]!, columns[j]!), 9);
    }
    equations.project(y).forEach((v, j) => void expect(v).toBeCloseTo(product(columns[j]!, y), 9));
  });

  it("give residuals and their sizes, for one column to five", () => {
    const five = [...columns, y.map((v) => v * v)];
    for (const count of [1, 2, 3, 4, 5]) {
      const own = new NormalEquations(five.slice(0, count));
      const [residuals, sizes] = [new Float64Array(2055), new Float64Array(2055)];
      const coefficients = [1, -2, 3, 0.5, -0.25].slice(0, count);
      own.residualsInto(residuals, sizes, y, coefficients);
      for (const i of [0, 1, 1023, 1024, 2047, 2048, 2054]) {
        const wanted = y[i]! - coefficients.reduce((s, c, j) => s + c * five[j]![i]!, 0);
        expect(residuals[i]!).toBeCloseTo(wanted, 12);
        expect(sizes[i]).toBe(Math.abs(residuals[i]!));
      }
    }
  });

  it("take rows off by their parts", () => {
    const listed = Int32Array.of(3, 700, 2050, 9);
    const parts = Float64Array.of(1, 0.25, 0.5, 1);
    const got = equations.without(listed, parts, 3);
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j < 4; j++) {
        const off = [0, 1, 2].reduce((s, k) => s + parts[k]! * columns[i]![listed[k]!]! * columns[j]![listed[k]!]!, 0);
        expect(got[i]![j]!).toBeCloseTo(product(columns[i]!, columns[j]!) - off, 9);
      }
    }
  });

  it("are solved where they are far from singular", () => {
    // 4x + 2y = 8, 2x + 5y = 8
    [
      ...solveWell(
        [
          [4, 2],
          [2, 5],
        ],
        Float64Array.of(8, 8),
      )!,
    ].forEach((v, i) => void expect(v).toBeCloseTo([1.5, 1][i]!, 12));
    expect(
      solveWell(
        [
          [1, 1],
          [1, 1 + 1e-8],
        ],
        Float64Array.of(1, 1),
      ),
    ).toBeUndefined();
    expect(
      solveWell(
        [
          [1, 1],
          [1, 1 + 2e-7],
        ],
        Float64Array.of(1, 1),
      ),
    ).toBeDefined();
    expect(
      solveWell(
        [
          [1, 2],
          [2, 1],
        ],
        Float64Array.of(1, 1),
      ),
    ).toBeUndefined();
  });
});

describe("a look at all points of a slab", () => {
  it("tells what stands outside and what touches, on both sides", () => {
    const count = 200;
    const x = Float64Array.from({ length: count }, (_, i) => i);
    const y = Float64Array.from({ length: count }, (_, i) => (i * 7) % 13);
    const bump: { readonly [i: number]: number } = {
      3: 1,
      10: -1,
      20: 1.5,
      30: 1.2,
      70: -1.4,
      71: -1.6,
      130: 0.999,
      199: 1.3,
    };
    const z = x.map((v, i) => 5 + 0.5 * (v - 2) - 0.2 * (y[i]! - 1) + 0.1 + (bump[i] ?? 0.5 * Math.sin(i)));
    const bounds = {
      middle: [2, 1, 5],
      slopeX: 0.5,
      slopeY: -0.2,
      offset: 0.1,
      outside: 1.1,
      touching: 1 - 1e-9,
    } as const;
    const got = sweep(x, y, z, bounds);
    expect(got.upper).toEqual([3, 20, 30, 199]);
    expect(got.lower).toEqual([10, 70, 71]);
    // stretches of 64 points, the worst of each on either side
    expect(got.outside).toEqual([20, 71, 199]);
    z[150] = Number.NaN;
    expect(refusal(() => sweep(x, y, z, bounds)).message).toBe(
      `minimumZonePlane: point 151 of 200 is (150, ${y[150]}, NaN); leave out a point that was not measured`,
    );
  });

  it("begins with four contacts that hold it from both sides", () => {
    const x = Float64Array.of(-1, 1, 0, 0, -1, 0.1);
    const y = Float64Array.of(-1, -1, 1, 0, 0.2, 0.1);
    for (const sign of [1, -1]) {
      const z = Float64Array.of(0, 0, 0, 2 * sign, 0.1, -0.1);
      const { index, side } = startContacts(x, y, z);
      expect([...index].sort()).toEqual([0, 1, 2, 3]);
      // a point within the triangle is held against all three corners
      expect(index.map((i, k) => (i === 3 ? side[k] : undefined)).find((s) => s !== undefined)).toBe(sign);
      expect(index.flatMap((i, k) => (i === 3 ? [] : [side[k]]))).toEqual([-sign, -sign, -sign]);
    }
    // a fourth corner of a square: held with its opposite, against the other two
    const square = startContacts(
      Float64Array.of(-1, 1, -1, 1),
      Float64Array.of(-1, -1, 1, 1),
      Float64Array.of(0, 0, 0, 1),
    );
    const sideOf = (i: number) => square.side[square.index.indexOf(i)];
    expect([sideOf(0), sideOf(3), sideOf(1), sideOf(2)]).toEqual([1, 1, -1, -1]);
    expect(threeApart(Float64Array.of(0, 1, 2), Float64Array.of(0, 1, 2))).toBeUndefined();
    expect(threeApart(Float64Array.of(0, 1, 0.5), Float64Array.of(0, 0, 1e-8))).toHaveLength(3);
    expect(threeApart(Float64Array.of(0, 1, 0.5), Float64Array.of(0, 0, 1e-8), 1e-7)).toBeUndefined();
  });
});

describe("a curve that bends in its parameters", () => {
  const decay = {
    where: "decay",
    y: [8, 4, 2, 1],
    start: [5, 1],
    model: (p: readonly number[], row: number) => p[0]! * Math.exp(-p[1]! * row),
  };

  it("is found with the errors of the straight one about it", () => {
    const y = [8.1, 3.9, 2.1, 0.9, 0.6];
    const partials = (p: readonly number[], row: number) => [
      Math.exp(-p[1]! * row),
      -p[0]! * row * Math.exp(-p[1]! * row),
    ];
    const plain = nonlinearLeastSquares({ ...decay, y });
    const known = nonlinearLeastSquares({ ...decay, y, partials });
    const [a, b] = known.coefficients as [number, number];
    // square to both partials
    const r = y.map((v, row) => v - a * Math.exp(-b * row));
    for (const k of [0, 1]) expect(r.reduce((s, v, row) => s + v * partials([a, b], row)[k]!, 0)).toBeCloseTo(0, 9);
    plain.coefficients.forEach((c, j) => void expect(c).toBeCloseTo(known.coefficients[j]!, 9));
    known.residuals.forEach((v, i) => void expect(v).toBeCloseTo(r[i]!, 12));
    const squares = r.reduce((s, v) => s + v * v, 0);
    expect(known.residualSumOfSquares).toBeCloseTo(squares, 12);
    expect(known.residualStandardDeviation).toBeCloseTo(Math.sqrt(squares / 3), 12);
    // (JᵀJ)⁻¹ of two columns by hand
    const [p, q] = [0, 1].map((k) => y.map((_, row) => partials([a, b], row)[k]!)) as [number[], number[]];
    const dot = (u: number[], v: number[]) => u.reduce((s, w, i) => s + w * v[i]!, 0);
    const det = dot(p, p) * dot(q, q) - dot(p, q) ** 2;
    expect(known.standardErrors[0]!).toBeCloseTo(Math.sqrt((squares / 3) * (dot(q, q) / det)), 9);
    expect(known.standardErrors[1]!).toBeCloseTo(Math.sqrt((squares / 3) * (dot(p, p) / det)), 9);
    expect(known.iterations).toBeGreaterThan(2);
    expect(known.iterations).toBeLessThan(40);
  });

  it("needs readings, numbers, a start with a value and a size, and parameters that do something", () => {
    const said = (more: object) => refusal(() => nonlinearLeastSquares({ ...decay, ...more }));
    expect(said({ y: [1] })).toEqual({
      code: "design",
      message: "decay: 1 reading for 2 parameters; give at least as many readings as parameters",
    });
    expect(said({ start: [] }).code).toBe("design");
    expect(said({ y: [8, Number.NaN, 2, 1] })).toEqual({
      code: "not-finite",
      message: "decay: row 2 holds NaN; leave the row out if it was not measured",
    });
    expect(said({ start: [5, 0] })).toEqual({
      code: "start",
      message:
        "decay: parameter 2 starts at 0 and has no size; give scales, a start that is not 0, or the partial derivatives",
    });
    expect(said({ start: [5, -1e5] })).toEqual({
      code: "start",
      message: "decay: the curve has no value at the start (5, -100000); start nearer to the readings",
    });
    expect(said({ model: (p: readonly number[]) => p[0]! })).toEqual({
      code: "rank-deficient",
      message: "decay: parameter 2 does nothing to the curve at the readings; start nearer, or leave it out",
    });
    expect(nonlinearLeastSquares({ ...decay, start: [5, 0], scales: [1, 1] }).coefficients[1]!).toBeCloseTo(
      Math.LN2,
      9,
    );
    // as many readings as parameters: met, with no scatter to tell
    const met = nonlinearLeastSquares({ ...decay, y: [8, 4] });
    expect([met.coefficients[0]!.toFixed(9), met.degreesOfFreedom]).toEqual(["8.000000000", 0]);
  });
});

describe("kriging by hand", () => {
  const four = { x: [0, 10, 0, 10], y: [0, 0, 10, 10], z: [1, 2, 3, 6] };
  const covariance = (dx: number, dy: number) => Math.exp(-Math.hypot(dx, dy) / 10);

  it("weighs four corners alike in their middle", () => {
    // ordinary: the mean of the four; its variance by the system of one unknown weight and the multiplier
    const [near, far, middle] = [covariance(10, 0), covariance(10, 10), covariance(5, 5)];
    const mean = (1 + 2 * near + far) / 4;
    const got = kriging(four, { covariance }).at(5, 5);
    expect(got.value).toBeCloseTo(3, 12);
    expect(got.variance).toBeCloseTo(1 - 2 * middle + mean, 12);
    // simple: weights that do not add up to one
    const weight = middle / (1 + 2 * near + far);
    const simple = kriging(four, { covariance, trend: "none" });
    expect(simple.at(5, 5).value).toBeCloseTo(weight * 12, 12);
    expect(simple.at(5, 5).variance).toBeCloseTo(1 - 4 * weight * middle, 12);
    expect(simple.trend).toEqual([]);
    // with noise of 0.5 on each
    const noisy = kriging(four, { covariance, trend: "none", nugget: 0.5 }).at(5, 5);
    const less = middle / (1.5 + 2 * near + far);
    expect(noisy.value).toBeCloseTo(less * 12, 12);
    expect(noisy.variance).toBeCloseTo(1 - 4 * less * middle, 12);
    const each = kriging(four, { covariance, trend: "none", nugget: [0.5, 0.5, 0.5, 0.5] }).at(5, 5);
    expect(each.value).toBeCloseTo(noisy.value, 12);
    // a place known worse counts for less
    const uneven = kriging(four, { covariance, nugget: [0, 0, 0, 50] }).at(5, 5).value;
    expect(uneven).toBeLessThan(2.5);
  });

  it("has the trend of its plane", () => {
    const x = [0, 10, 0, 10, 4, 7];
    const y = [0, 0, 10, 10, 6, 3];
    const fit = kriging({ x, y, z: x.map((v, i) => 2 + 0.5 * v - 0.25 * y[i]!) }, { covariance, trend: "plane" });
    expect(fit.trend.map((c) => c.toFixed(9))).toEqual(["2.000000000", "0.500000000", "-0.250000000"]);
    expect(kriging(four, { covariance }).trend.map((c) => c.toFixed(9))).toEqual(["3.000000000"]);
  });

  it("refuses points that are too few, without numbers, or twice at one place", () => {
    const said = (points: object) => refusal(() => kriging({ ...four, ...points } as never, { covariance })).message;
    expect(said({ y: [0, 1, 2] })).toBe("kriging: 4 x, 3 y and 4 z; give at least 4 points, one of each a point");
    expect(said({ z: [0, 1, 2] })).toBe("kriging: 4 x, 4 y and 3 z; give at least 4 points, one of each a point");
    expect(said({ x: [0, 1, 2], y: [0, 1, 0], z: [0, 1, 2] })).toBe(
      "kriging: 3 x, 3 y and 3 z; give at least 4 points, one of each a point",
    );
    expect(said({ z: [0, 1, 2, Number.NaN] })).toBe(
      "kriging: point 4 is x 10, y 10, z NaN; leave it out if it was not measured",
    );
    expect(said({ y: [0, 0, 10, 0] })).toBe(
      "kriging: points 2 and 4 are both at x 10, y 0; leave one out, or give the readings a noise greater than zero",
    );
    expect(kriging({ ...four, y: [0, 0, 10, 0] }, { covariance, nugget: 0.1 }).at(10, 0).value).toBeCloseTo(4, 0);
  });
});

describe("a spline and a process by hand", () => {
  const random = randomStream(16);
  const x = Array.from({ length: 24 }, (_, i) => 30 * (i % 6) + 3 * random.uniform());
  const y = Array.from({ length: 24 }, (_, i) => 40 * Math.floor(i / 6) + 3 * random.uniform());
  const z = x.map((v, i) => Math.sin(v / 40) + Math.cos(y[i]! / 60));

  it("is sure at its nodes and less so between and beyond them", () => {
    const spline = thinPlateSpline({ x, y, z }, { smoothing: 0 });
    expect(spline.smoothing).toBe(0);
    const { mean, standardUncertainty } = spline.predict(
      [x[7]!, (x[7]! + x[8]!) / 2, 400],
      [y[7]!, (y[7]! + y[8]!) / 2, 400],
    );
    expect(mean[0]!).toBeCloseTo(z[7]!, 9);
    expect(standardUncertainty[0]!).toBeLessThan(1e-6);
    expect(standardUncertainty[1]!).toBeGreaterThan(1e-3);
    expect(standardUncertainty[2]!).toBeGreaterThan(standardUncertainty[1]!);
    const heights = spline.heights([17, 88], [51, 99]);
    spline.predict([17, 88], [51, 99]).mean.forEach((m, i) => void expect(m).toBeCloseTo(heights[i]!, 9));
    const two = spline.covariances([17, 88], [51, 99]);
    const own = spline.predict([17, 88], [51, 99]).standardUncertainty;
    expect(Math.sqrt(two[0]!)).toBeCloseTo(own[0]!, 6);
    expect(Math.sqrt(two[3]!)).toBeCloseTo(own[1]!, 6);
    // heights three times as large: three times as unsure
    const tripled = thinPlateSpline({ x, y, z: z.map((v) => 3 * v) }, { smoothing: 0 }).predict([17], [51]);
    expect(tripled.standardUncertainty[0]! / own[0]!).toBeCloseTo(3, 6);
    const { residuals, standardDeviations } = spline.leaveOneOut();
    expect([residuals.length, standardDeviations.length]).toEqual([24, 24]);
    expect(Math.min(...standardDeviations)).toBeGreaterThan(0);
    for (const wrong of [Number.NaN, Number.POSITIVE_INFINITY, -1e-9]) {
      expect(refusal(() => thinPlateSpline({ x, y, z }, { smoothing: wrong })).code).toBe("smoothing");
    }
  });

  it("is found on some of its points and taken with all, with the family and trend asked for", () => {
    const start = { variance: 1, lengthX: 60, lengthY: 60 } as never;
    const all = gaussianProcess({ x, y, z }, { nugget: 1e-4, start });
    const some = gaussianProcess({ x, y, z }, { nugget: 1e-4, start, fitOn: Array.from({ length: 16 }, (_, i) => i) });
    expect(all.predict([x[20]!], [y[20]!]).mean[0]!).toBeCloseTo(z[20]!, 1);
    expect(some.predict([x[20]!], [y[20]!]).mean[0]!).toBeCloseTo(z[20]!, 1);
    const smooth = gaussianProcess(
      { x, y, z },
      { nugget: 1e-4, start, covariance: "squared exponential", trend: "constant" },
    );
    expect(smooth.predict([80], [70]).mean[0]!).toBeCloseTo(Math.sin(2) + Math.cos(70 / 60), 1);
    expect(smooth.predict([80], [70]).mean[0]).not.toBe(all.predict([80], [70]).mean[0]);
    expect(refusal(() => gaussianProcess({ x: [...x, x[0]!], y: [...y, y[0]!], z: [...z, 1] })).message).toBe(
      `gaussianProcess: points 1 and 25 are both at x ${x[0]}, y ${y[0]}; leave one out, or give the readings a noise greater than zero`,
    );
  });
});
