import { describe, expect, it } from "vitest";
import { chebyshevSheet } from "../../kernel-lib/src/numerics/chebyshev-sheet.js";
import { choices, everyChoice } from "../../kernel-lib/src/numerics/concentration.js";
import { families } from "../../kernel-lib/src/numerics/covariance-family.js";
import { withDense } from "../../kernel-lib/src/numerics/dense.js";
import { Draws } from "../../kernel-lib/src/numerics/draws.js";
import { likelihoodValue } from "../../kernel-lib/src/numerics/gaussian-likelihood.js";
import {
  gaussianProcess,
  kriging,
  minimumZonePlane,
  normalCdf,
  randomStream,
  thinPlateSpline,
} from "../../kernel-lib/src/numerics/index.js";
import { blockWords, xoshiro128 } from "../../kernel-lib/src/numerics/random.js";
import { searchOf } from "../../kernel-lib/src/numerics/size-search.js";
import { cholesky } from "../../kernel-lib/src/numerics/symmetric.js";
import { TrendSpace } from "../../kernel-lib/src/numerics/trend-space.js";
import { invertFactor } from "../../kernel-lib/src/numerics/triangular.js";
import { ziggurat } from "../../kernel-lib/src/numerics/ziggurat.js";

describe("columns of draws", () => {
  const column = (fill: (draws: Draws, out: Float64Array) => void, seed = 3) => {
    const [draws, out] = [new Draws(), new Float64Array(2000)];
    draws.start(seed, 1);
    fill(draws, out);
    return out;
  };
  const uniform = column((draws, out) => draws.symmetric(out));

  it("are made of two words of the generator each, between −1 and 1", () => {
    const next = xoshiro128(blockWords(3, 1));
    for (let i = 0; i < 50; i++) {
      const [high, low] = [next() | 0, next()];
      expect(uniform[i]).toBe((high * 2 ** 21 + (low >>> 11) + 0.5) / 2 ** 52);
    }
    expect(Math.max(...uniform)).toBeLessThan(1);
    expect(Math.min(...uniform)).toBeGreaterThan(-1);
    // a second column goes on where the first ended
    const twice = column((draws, out) => {
      draws.symmetric(out.subarray(0, 1000));
      draws.symmetric(out.subarray(1000));
    });
    expect(twice).toEqual(uniform);
  });

  it("are shifted and scaled, whatever their law", () => {
    for (const law of ["symmetric", "triangular", "arcsine", "normal"] as const) {
      const plain = column((draws, out) => draws[law](out));
      const moved = column((draws, out) => draws[law](out, 5, 3));
      for (let i = 0; i < 2000; i += 37) expect(moved[i]!).toBeCloseTo(5 + 3 * plain[i]!, 12);
    }
  });

  it("are triangular and arcsine by the inverse of their law", () => {
    const triangular = column((draws, out) => draws.triangular(out));
    const arcsine = column((draws, out) => draws.arcsine(out));
    for (let i = 0; i < 2000; i += 13) {
      const v = uniform[i]!;
      expect(triangular[i]!).toBeCloseTo(Math.sign(v) * (1 - Math.sqrt(1 - Math.abs(v))), 12);
      expect(arcsine[i]!).toBeCloseTo(Math.sin((Math.PI / 2) * v), 12);
    }
  });

  it("are normal: as many below each limit as the law says", () => {
    const normal = column((draws, out) => draws.normal(out), 8);
    for (const limit of [-2, -1, 0, 0.5, 1.5]) {
      const p = normalCdf(limit);
      const below = normal.filter((v) => v <= limit).length;
      expect(Math.abs(below - 2000 * p)).toBeLessThan(4 * Math.sqrt(2000 * p * (1 - p)));
    }
  });

  it("spread as √(ν / χ²): its inverse square has mean 1 and variance 2 / ν, below and above two degrees of freedom", () => {
    for (const nu of [1, 1.5, 4, 30]) {
      const squares = column((draws, out) => draws.spread(out, nu), 5).map((v) => v ** -2);
      const mean = squares.reduce((a, b) => a + b, 0) / 2000;
      const variance = squares.reduce((a, b) => a + (b - 1) ** 2, 0) / 2000;
      expect(Math.abs(mean - 1)).toBeLessThan(4 * Math.sqrt(2 / nu / 2000));
      // fourth moment of χ²/ν about its mean: 12/ν² + 48/ν³
      const scatter = Math.sqrt((12 / nu ** 2 + 48 / nu ** 3 - (2 / nu) ** 2) / 2000);
      expect(Math.abs(variance - 2 / nu)).toBeLessThan(4 * scatter);
    }
  });

  it("have layers of one area under their curve", () => {
    for (const nu of [1, 5, Number.POSITIVE_INFINITY]) {
      const { ends, heights, inside, curve } = ziggurat(nu);
      const area = ends[1]! * heights[1]! + curve.areaBeyond(ends[1]!);
      for (let i = 1; i < 255; i++) expect((ends[i]! * (heights[i + 1]! - heights[i]!)) / area).toBeCloseTo(1, 9);
      expect(ends[255]! * (1 - heights[255]!)).toBeCloseTo(area, 9);
      expect([ends.length, ends[256], inside.length]).toEqual([257, 0, 256]);
      expect(inside[7]!).toBe(ends[8]! / ends[7]!);
      // together they hold all of one half of the curve, and little more
      expect((256 * area) / curve.areaBeyond(0)).toBeGreaterThan(1);
      expect((256 * area) / curve.areaBeyond(0)).toBeLessThan(1.03);
      for (const height of [0.9, 0.3, 0.01]) expect(curve.height(curve.reach(height))).toBeCloseTo(height, 9);
      // beyond x the law of what is left: half of it lies beyond the median of it
      const median = curve.beyond(3, 0.5);
      expect(curve.areaBeyond(median) / curve.areaBeyond(3)).toBeCloseTo(0.5, 6);
    }
  });
});

describe("the space that a trend leaves", () => {
  const n = 9;
  const random = randomStream(2);
  const columns = [0, 1, 2].map((k) =>
    Float64Array.from({ length: n }, (_, i) => (k === 0 ? 1 : random.uniform() + (i * k) / n)),
  );
  const dense = Array.from({ length: n }, () => Array.from({ length: n }, () => random.normal()));
  const matrix = dense.map((row, i) => row.map((_, j) => dense.reduce((s, r) => s + r[i]! * r[j]!, 0)));

  it.each([0, 1, 2, 3])("of %d column(s) turns vectors and matrices there and back", (count) => {
    const space = new TrendSpace(columns.slice(0, count), n, "test");
    expect(space.count).toBe(count);
    // Q, a column at a time
    const q = Array.from({ length: n }, (_, k) => {
      const v = new Float64Array(n);
      v[k] = 1;
      space.rotateBack(v);
      return v;
    });
    const dot = (a: ArrayLike<number>, b: ArrayLike<number>) => Array.from(a).reduce((s, v, i) => s + v * b[i]!, 0);
    for (const [i, a] of q.entries()) {
      for (const [j, b] of q.entries()) expect(dot(a, b)).toBeCloseTo(i === j ? 1 : 0, 12);
    }
    // the trend stands in the first rows alone
    for (const [k, column] of columns.slice(0, count).entries()) {
      const turned = column.slice();
      space.rotate(turned);
      for (let i = count; i < n; i++) expect(turned[i]!).toBeCloseTo(0, 12);
      const coordinates = space.coefficients(turned.subarray(0, count));
      coordinates.forEach((c, j) => void expect(c).toBeCloseTo(j === k ? 1 : 0, 12));
    }
    const wanted = q.map((a) => q.map((b) => a.reduce((s, v, i) => s + v * dot(matrix[i]!, b), 0)));
    const memory = new Float64Array(5 + n * (n + 2));
    for (let i = 0; i < n; i++) for (let j = 0; j <= i; j++) memory[5 + i * (n + 2) + j] = matrix[i]![j]!;
    space.rotateMatrix(memory, 5, n, n + 2);
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++) expect(memory[5 + i * (n + 2) + j]!).toBeCloseTo(wanted[i]![j]!, 10);
    space.rotateMatrix(memory, 5, n, n + 2, true);
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++) expect(memory[5 + i * (n + 2) + j]!).toBeCloseTo(matrix[i]![j]!, 10);
    // rows of a wide matrix
    const wide = Float64Array.from({ length: n * 4 }, () => random.normal());
    const kept = wide.slice();
    space.rotateRows(wide, 0, n, 3, 4);
    for (let k = 0; k < n; k++) {
      for (let j = 0; j < 3; j++)
        expect(wide[4 * k + j]!).toBeCloseTo(
          Array.from(q[k]!).reduce((s, v, i) => s + v * kept[4 * i + j]!, 0),
          12,
        );
      expect(wide[4 * k + 3]).toBe(kept[4 * k + 3]);
    }
    // weights that reproduce a trend: Rᵀ h = f
    const f = [1, 0.3, -2].slice(0, count);
    const h = space.weights(f);
    const weights = Array.from({ length: n }, (_, i) => h.reduce((s, v, k) => s + v * q[k]![i]!, 0));
    f.forEach((v, k) => void expect(dot(weights, columns[k]!)).toBeCloseTo(v, 10));
  });
});

describe("kriging with its whole matrix", () => {
  const random = randomStream(21);
  const n = 14;
  const x = Array.from({ length: n }, () => 80 * random.uniform());
  const y = Array.from({ length: n }, () => 50 * random.uniform());
  const z = x.map((v, i) => v / 20 - y[i]! / 30 + random.normal());
  const nugget = x.map(() => 0.05 + 0.1 * random.uniform());
  const covariance = (dx: number, dy: number) => 2 * Math.exp(-Math.hypot(dx / 25, dy / 15));

  /** Gauss–Jordan */
  function inverseOf(matrix: readonly (readonly number[])[]): number[][] {
    const rows = matrix.map((row, i) => [...row, ...matrix.map((_, j) => (i === j ? 1 : 0))]);
    rows.forEach((_, k) => {
      const best = rows.slice(k).reduce((b, row, i) => (Math.abs(row[k]!) > Math.abs(rows[b]![k]!) ? i + k : b), k);
      [rows[k], rows[best]] = [rows[best]!, rows[k]!];
      const pivot = rows[k]![k]!;
      rows[k] = rows[k]!.map((v) => v / pivot);
      rows.forEach((row, i) => {
        if (i !== k) rows[i] = row.map((v, j) => v - row[k]! * rows[k]![j]!);
      });
    });
    return rows.map((row) => row.slice(matrix.length));
  }

  it.each(["none", "constant", "plane"] as const)(
    "gives value and variance of the bordered system, trend %s",
    (trend) => {
      const own = (px: number, py: number) => [1, px, py].slice(0, { none: 0, constant: 1, plane: 3 }[trend]);
      const f = x.map((v, i) => own(v, y[i]!));
      const t = f[0]!.length;
      const size = n + t;
      const bordered = Array.from({ length: size }, (_, i) =>
        Array.from({ length: size }, (__, j) => {
          if (i < n && j < n) return covariance(x[i]! - x[j]!, y[i]! - y[j]!) + (i === j ? nugget[i]! : 0);
          if (i >= n && j >= n) return 0;
          return i < n ? f[i]![j - n]! : f[j]![i - n]!;
        }),
      );
      const inverse = inverseOf(bordered);
      for (const [px, py] of [
        [40, 25],
        [-10, 70],
        [x[3]!, y[3]!],
      ] as const) {
        const right = [...x.map((v, i) => covariance(px - v, py - y[i]!)), ...own(px, py)];
        const weights = inverse.map((row) => row.reduce((s, v, j) => s + v * right[j]!, 0));
        const value = z.reduce((s, v, i) => s + v * weights[i]!, 0);
        const variance = 2 - weights.reduce((s, v, i) => s + v * right[i]!, 0);
        const got = kriging({ x, y, z }, { covariance, nugget, trend }).at(px, py);
        expect(got.value).toBeCloseTo(value, 9);
        expect(got.variance).toBeCloseTo(variance, 9);
      }
    },
  );

  it("has the likelihood of what the trend leaves, by its determinants", () => {
    const family = families["squared exponential"];
    const size = { variance: 1.7, lengthX: 30, lengthY: 18, noise: 0.2 };
    const [fx, fy] = [Float64Array.from(x), Float64Array.from(y)];
    const mode = fx.map((v) => v / 100);
    const columns = [fx.map(() => 1), fx, fy];
    const parts = { x: fx, y: fy, z: Float64Array.from(z), family, nugget: Float64Array.from(nugget), modes: [mode] };
    const a = x.map((v, i) =>
      x.map((w, j) => {
        const q = ((v - w) / 30) ** 2 + ((y[i]! - y[j]!) / 18) ** 2;
        return 1.7 * Math.exp(-q / 2) + mode[i]! * mode[j]! + (i === j ? nugget[i]! + 0.2 : 0);
      }),
    );
    const logDet = (m: readonly (readonly number[])[]) =>
      2 * cholesky(m).reduce((s, row, i) => s + Math.log(row[i]!), 0);
    const inverse = inverseOf(a);
    const product = (u: ArrayLike<number>, v: ArrayLike<number>) =>
      inverse.reduce((s, row, i) => s + u[i]! * row.reduce((r, w, j) => r + w * v[j]!, 0), 0);
    for (const count of [0, 1, 3]) {
      const f = columns.slice(0, count);
      const inner = f.map((u) => f.map((v) => product(u, v)));
      const gram = f.map((u) => f.map((v) => u.reduce((s, w, i) => s + w * v[i]!, 0)));
      const along = f.map((u) => product(u, z));
      const taken =
        count === 0
          ? 0
          : inverseOf(inner).reduce((s, row, i) => s + along[i]! * row.reduce((r, w, j) => r + w * along[j]!, 0), 0);
      const squares = product(z, z) - taken;
      const determinants = logDet(a) + (count === 0 ? 0 : logDet(inner) - logDet(gram));
      const wanted = -0.5 * ((n - count) * Math.log(2 * Math.PI) + determinants + squares);
      expect(likelihoodValue({ ...parts, trend: new TrendSpace(f, n, "test") }, size)!).toBeCloseTo(wanted, 8);
    }
    expect(
      likelihoodValue({ ...parts, nugget: fx.map(() => -5), trend: new TrendSpace([], n, "test") }, size),
    ).toBeUndefined();
  });

  it("leaves one out as without it, and covers its own covariances", () => {
    const start = { variance: 2, lengthX: 25, lengthY: 15 };
    const bounds = { variance: [2, 2], lengthX: [25, 25], lengthY: [15, 15] } as const;
    const process = gaussianProcess({ x, y, z }, { nugget, start, bounds });
    const { residuals, standardDeviations } = process.leaveOneOut();
    for (const i of [0, 6, 13]) {
      const without = (list: readonly number[]) => list.filter((_, k) => k !== i);
      const rest = gaussianProcess(
        { x: without(x), y: without(y), z: without(z) },
        { nugget: without(nugget), start, bounds },
      );
      const { mean, standardUncertainty } = rest.predict([x[i]!], [y[i]!]);
      expect(residuals[i]!).toBeCloseTo(z[i]! - mean[0]!, 8);
      expect(standardDeviations[i]!).toBeCloseTo(Math.sqrt(standardUncertainty[0]! ** 2 + nugget[i]!), 8);
    }
    const [a, ab, ba, b] = process.covariances([10, 60], [20, 30]) as [number, number, number, number];
    expect(ab).toBe(ba);
    const { standardUncertainty } = process.predict([10, 60], [20, 30]);
    expect(Math.sqrt(a)).toBeCloseTo(standardUncertainty[0]!, 9);
    expect(Math.sqrt(b)).toBeCloseTo(standardUncertainty[1]!, 9);
    // the difference of two places near each other is surer than both
    const [p, pq, , q] = process.covariances([40, 41], [20, 20]) as [number, number, number, number];
    expect(p + q - 2 * pq).toBeLessThan(0.3 * p);
  });

  it("smooths a spline by the least score of its cross-validation", () => {
    // n |(I − A) z|² / tr(I − A)² from residuals and leave-one-out residuals: 1 − a_i = e_i / l_i
    const many = 42;
    const sx = Array.from({ length: many }, (_, i) => 20 * (i % 7) + 2 * random.uniform());
    const sy = Array.from({ length: many }, (_, i) => 20 * Math.floor(i / 7) + 2 * random.uniform());
    const sz = sx.map((v, i) => Math.sin(v / 25) + Math.cos(sy[i]! / 30) + 0.2 * (((i * 7) % 5) - 2));
    const score = (smoothing: number) => {
      const spline = thinPlateSpline({ x: sx, y: sy, z: sz }, { smoothing });
      const heights = spline.heights(sx, sy);
      const off = sz.map((v, i) => v - heights[i]!);
      const { residuals } = spline.leaveOneOut();
      const trace = off.reduce((s, e, i) => s + e / residuals[i]!, 0);
      return (many * off.reduce((s, e) => s + e * e, 0)) / trace ** 2;
    };
    const chosen = thinPlateSpline({ x: sx, y: sy, z: sz }).smoothing;
    for (const by of [0.5, 0.8, 1.25, 2]) expect(score(chosen)).toBeLessThan(score(chosen * by));
  });
});

describe("the search for the sizes of a covariance", () => {
  const x = Float64Array.of(0, 30, 60, 0, 30, 60);
  const y = Float64Array.of(0, 0, 0, 20, 20, 20);
  // off its plane by ±1 at the ends and ∓2 in the middle: mean square (4 · 1 + 2 · 4) / 6 = 2
  const z = Float64Array.from(x, (v) => v / 10 + (v === 30 ? -2 : 1));
  const parts = {
    x,
    y,
    z,
    family: families["matern 5/2"],
    trend: new TrendSpace([], 6, "test"),
    nugget: x.map(() => 0),
    modes: [],
  };
  const plain = (logs: readonly (readonly number[])[]) =>
    logs.map((one) => one.map((v) => Number(Math.exp(v).toPrecision(9))));

  it("goes over variance and lengths, from several starts, within limits by range and spread", () => {
    const { names, bounds, starts, sizeOf, slopesOf } = searchOf(parts, {});
    expect(names).toEqual(["variance", "lengthX", "lengthY"]);
    expect(plain(bounds.map(({ low, high }) => [low, high]))).toEqual(
      [
        [2e-4, 2e4],
        [60 / Math.sqrt(6), 600],
        [20 / Math.sqrt(6), 200],
      ].map((pair) => pair.map((v) => Number(v.toPrecision(9)))),
    );
    expect(plain(starts)).toEqual(
      [0.2, 0.5, 1.5].flatMap((a) =>
        [0.2, 0.5, 1.5].map((b) => [2, Number((60 * a).toPrecision(9)), Number((20 * b).toPrecision(9))]),
      ),
    );
    expect(sizeOf([0, Math.log(2), Math.log(3)])).toEqual({
      variance: 1,
      lengthX: expect.closeTo(2, 12),
      lengthY: expect.closeTo(3, 12),
      noise: 0,
    });
    expect(slopesOf([1, 2, 3, 4])).toEqual([1, 2, 3]);
  });

  it("takes one length for both, a noise, and a start as they are asked for", () => {
    const one = searchOf(parts, { isotropic: true, fitNoise: true });
    expect(one.names).toEqual(["variance", "lengthX", "noise"]);
    expect(one.slopesOf([1, 2, 3, 4])).toEqual([1, 5, 4]);
    expect(plain(one.starts)).toEqual([0.2, 0.5, 1.5].map((a) => [2, Number((60 * a).toPrecision(9)), 0.2]));
    expect(one.sizeOf([0, Math.log(2), Math.log(5)])).toEqual({
      variance: 1,
      lengthX: expect.closeTo(2, 12),
      lengthY: expect.closeTo(2, 12),
      noise: expect.closeTo(5, 12),
    });
    const started = searchOf(parts, { fitNoise: true, start: { variance: 7 }, bounds: { noise: [0.1, 0.2] } });
    expect(plain(started.starts)).toEqual([[7, 18, 6, 0.2]]);
    expect(plain([started.bounds.map(({ low }) => low)])[0]![3]).toBe(0.1);
    const level = searchOf({ ...parts, z: x.map((v) => v / 10) }, {});
    expect(plain(level.starts)[0]![0]).toBeCloseTo(1, 5);
  });
});

describe("choices", () => {
  it("are n over k, each once", () => {
    expect([choices(5, 2), choices(20, 13), choices(6, 6), choices(40, 20)]).toEqual([10, 77520, 1, 137846528820]);
    const seen: string[] = [];
    everyChoice(5, 3, (chosen) => seen.push(chosen.join("")));
    expect(seen).toEqual(["012", "013", "014", "023", "024", "034", "123", "124", "134", "234"]);
  });
});

describe("a sheet of Chebyshev lines", () => {
  const side = 60;
  const x = Float64Array.from({ length: side * side }, (_, k) => 10 + (k % side) / 3);
  const y = Float64Array.from({ length: side * side }, (_, k) => -4 + Math.floor(k / side) / 7);

  it("passes a smooth function no farther off than it was asked for", () => {
    const f = (a: number, b: number) => Math.exp(a / 30) * Math.cos(b / 3);
    // over an ellipse of size ρ the half range grows by (ρ + 1/ρ)/2, and the imaginary part is (ρ − 1/ρ)/2 of it
    const [halfX, halfY] = [59 / 6, 59 / 14];
    const bound = (axis: "x" | "y", rho: number) => {
      const greatX = Math.exp((10 + halfX + halfX * (axis === "x" ? (rho + 1 / rho) / 2 : 1)) / 30);
      const greatY = axis === "y" ? Math.cosh((halfY * (rho - 1 / rho)) / 2 / 3) : 1;
      return (greatX * greatY) / 1e-6;
    };
    const sheet = chebyshevSheet(x, y, bound)!;
    expect(sheet.x.length).toBeLessThan(400);
    expect(sheet.x.length).toBeGreaterThanOrEqual(25);
    expect(
      [Math.min(...sheet.x), Math.max(...sheet.x), Math.min(...sheet.y), Math.max(...sheet.y)].map((v) =>
        Number(v.toFixed(9)),
      ),
    ).toEqual([10, Number((10 + 59 / 3).toFixed(9)), -4, Number((-4 + 59 / 7).toFixed(9))]);
    const values = sheet.at(sheet.x.map((v, i) => f(v, sheet.y[i]!)));
    let worst = 0;
    values.forEach((v, i) => {
      worst = Math.max(worst, Math.abs(v - f(x[i]!, y[i]!)));
    });
    expect(worst).toBeLessThan(1e-6);
    // a plane is met exactly
    sheet
      .at(sheet.x.map((v, i) => 3 * v - sheet.y[i]!))
      .forEach((v, i) => void (i % 97 === 0 && expect(v).toBeCloseTo(3 * x[i]! - y[i]!, 9)));
  });

  it("is none where it would take more than a third of the places", () => {
    expect(chebyshevSheet(x.subarray(0, 74), y.subarray(0, 74), () => 1e-30)).toBeUndefined();
    expect(chebyshevSheet(x.subarray(0, 75), y.subarray(0, 75), () => 1e-30)?.x.length).toBe(25);
  });
});

it("inverts a triangle of more columns than are taken at a time", () => {
  const n = 70;
  withDense(2 * n * n, n, (memory, dense) => {
    // ones on and below the diagonal: the inverse has −1 beside its diagonal of ones, and nothing else
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) memory[i * n + j] = j <= i ? 1 : 0;
    invertFactor(memory, dense, { l: 0, ld: n, n, inverse: n * n });
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) expect(memory[n * n + i * n + j]! + 0).toBe(i === j ? 1 : i === j + 1 ? -1 : 0);
    }
  });
});

it("lends memory that holds what is asked for, and gives back what is made in it", () => {
  expect(withDense(12, 3, (memory) => memory.length)).toBeGreaterThanOrEqual(12);
});

it("holds a minimum zone by its contacts, each with its share", () => {
  // four corners, two up by 1 across the diagonal: the mid plane is level at ½, all four touch
  const zone = minimumZonePlane([0, 10, 0, 10], [0, 0, 10, 10], [1, 0, 0, 1]);
  expect(zone.zone).toBeCloseTo(1, 12);
  expect([zone.slopeX, zone.slopeY].map((v) => Math.abs(v) < 1e-12)).toEqual([true, true]);
  expect(zone.offset).toBeCloseTo(0.5, 12);
  expect([zone.upper, zone.lower]).toEqual([
    [0, 3],
    [1, 2],
  ]);
  const { shares } = zone.certificate;
  expect(
    shares
      .map(({ index, side, share }) => [index, side, Number(share.toFixed(9))])
      .toSorted((a, b) => Number(a[0]) - Number(b[0])),
  ).toEqual([
    [0, "upper", 0.25],
    [1, "lower", 0.25],
    [2, "lower", 0.25],
    [3, "upper", 0.25],
  ]);
});
