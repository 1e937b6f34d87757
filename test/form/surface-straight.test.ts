import { describe, expect, it } from "vitest";
import type { MethodInput } from "../../kernel-lib/src/form/surface-method.js";
import { bilinearMethod, triangulatedMethod } from "../../kernel-lib/src/form/surface-straight.js";
import { mapOf } from "./planted.js";

/** places with heights and the variances of their readings; the drift as two ways in which it may be wrong */
function given(
  points: readonly (readonly [x: number, y: number, z: number, variance: number])[],
  modesUm?: readonly (readonly number[])[],
): MethodInput {
  const places = points.map(([xMm, yMm, zUm], i) => ({ label: `P${i}`, xMm, yMm, zUm, count: 2 }));
  const map = mapOf(places);
  return {
    surface: modesUm ? { ...map, drift: { model: "settling", statement: "drift", modesUm } } : map,
    places: { x: points.map((p) => p[0]), y: points.map((p) => p[1]), z: points.map((p) => p[2]) },
    pitch: { x: 50, y: 50, grid: true },
    nugget: points.map((p) => p[3]),
  };
}

const near = (found: readonly number[], wanted: readonly number[]) => {
  expect(found).toHaveLength(wanted.length);
  for (const [i, v] of wanted.entries()) {
    if (Number.isNaN(v)) expect(found[i]).toBeNaN();
    else expect(found[i]).toBeCloseTo(v, 9);
  }
};

describe("straight from place to place over triangles", () => {
  // four places about a fifth, M: the triangles all meet in M, as the circle about L, F, B holds it
  const [R, F, B, M] = [1, 2, 3, 4] as const;
  const points = [
    [-100, 0, 1, 0.1],
    [100, 0, 12, 0.2],
    [0, -60, -6, 0.3],
    [0, 60, 6, 0.4],
    [20, 10, 9, 0.5],
  ] as const;
  const [zR, zF, zB, zM] = [points[R][2], points[F][2], points[B][2], points[M][2]];
  // without M the shorter diagonal F–B parts the rhombus, and M = 0.2 R + b B + f F
  const [b, f] = [(0.8 + 1 / 6) / 2, (0.8 - 1 / 6) / 2];
  const missed = zM - (0.2 * zR + b * zB + f * zF);
  const ofReadings = 0.5 + 0.04 * 0.2 + b * b * 0.4 + f * f * 0.3;
  const bend = Math.sqrt(missed ** 2 - ofReadings);
  // ½ F + ¼ R + ¼ M, in the triangle of the three
  const spot = [30, -27.5] as const;

  it("a height is the mix of the three corners, a place itself is what was read there", () => {
    const { heights } = triangulatedMethod(given(points));
    near(heights([spot[0], -100, 20], [spot[1], 0, 10]).meanUm, [0.5 * zF + 0.25 * zR + 0.25 * zM, 1, 9]);
    // on a side of the hull, halfway from L to F, and beyond it
    near(heights([-50, -50], [-30, -30.1]).meanUm, [(1 - 6) / 2, Number.NaN]);
    near(heights([0, 0, 300], [60.01, -60.01, 0]).uUm, [Number.NaN, Number.NaN, Number.NaN]);
  });

  it("its doubt holds the readings of the corners, the drift, and what the form bends between them", () => {
    const bare = 0.25 * 0.3 + (0.2 + 0.5) / 16;
    // 3 (ab + bc + ca): 1 in the middle of a triangle, 0 at its corners
    const depth = 3 * (0.125 + 0.125 + 0.0625);
    const u = (drift: number) => Math.sqrt(bare + drift + ((depth * bend) / 4) ** 2);
    const at = (modes?: number[][]) => triangulatedMethod(given(points, modes)).heights([spot[0]], [spot[1]]).uUm;
    near(at(), [u(0)]);
    const modes = [
      [5, 1, 2, 3, 4],
      [0, 2, -1, 7, 2],
    ];
    near(at(modes), [u((0.5 * 2 + 0.25 * 1 + 0.25 * 4) ** 2 + (0.5 * -1 + 0.25 * 2 + 0.25 * 2) ** 2)]);
    near(triangulatedMethod(given(points)).heights([-100, 20], [0, 10]).uUm, [Math.sqrt(0.1), Math.sqrt(0.5)]);
  });

  it("the place left out is missed by what its neighbours say less, the outer ones are surrounded by nobody", () => {
    const method = triangulatedMethod(given(points));
    const { residualsUm, standardDeviationsUm } = method.leftOut();
    const none = Number.NaN;
    near(residualsUm, [none, none, none, none, missed]);
    expect(standardDeviationsUm[M]).toBeCloseTo(Math.sqrt(ofReadings + bend ** 2), 9);
    expect(method.name).toBe("triangulated");
    expect(method.statement).toBe(
      `straight from place to place over triangles; a place left out is missed by ${bend.toFixed(1)} µm beyond the noise of its readings, a gap half as wide is taken to be missed by a quarter of that`,
    );
    expect(method.covariances).toBeUndefined();
  });

  it("nothing bends where the places left out are missed by no more than the noise, or where none is surrounded", () => {
    const quiet = points.map(([x, y, z]) => [x, y, z, 400] as const);
    for (const places of [quiet, points.slice(0, 4)]) {
      expect(triangulatedMethod(given(places)).statement).toContain("missed by 0.0 µm beyond the noise");
    }
    expect(triangulatedMethod(given(quiet)).heights([20], [10]).uUm[0]).toBeCloseTo(20, 9);
    expect(triangulatedMethod(given(quiet)).leftOut().standardDeviationsUm[M]).toBeCloseTo(
      20 * Math.sqrt(1 + 0.04 + b * b + f * f),
      9,
    );
  });
});

describe("bilinear over the cells of a grid", () => {
  const xs = [0, 40, 100];
  const ys = [10, 40, 60];
  const z = [
    [1, 5, 2],
    [4, 9, -3],
    [0, 6, 8],
  ];
  const points = xs
    .flatMap((x, i) => ys.map((y, j) => [x, y, z[j]![i]!, 0.1 * (1 + i + 3 * j)] as const))
    // in the order of no row and no column
    .sort((p, q) => p[2] - q[2] || p[0] - q[0]);
  const zAt = (i: number, j: number) => z[j]![i]!;
  const variance = (i: number, j: number) => 0.1 * (1 + i + 3 * j);

  /** straight across: along x at rows 0 to 2, along y at columns 0 to 2, and both in the middle */
  const alongX = (j: number) => 0.6 * zAt(0, j) + 0.4 * zAt(2, j);
  const alongY = (i: number) => 0.4 * zAt(i, 0) + 0.6 * zAt(i, 2);
  const left = [
    { i: 1, j: 0, stead: alongX(0), noise: 0.36 * variance(0, 0) + 0.16 * variance(2, 0) },
    { i: 1, j: 2, stead: alongX(2), noise: 0.36 * variance(0, 2) + 0.16 * variance(2, 2) },
    { i: 0, j: 1, stead: alongY(0), noise: 0.16 * variance(0, 0) + 0.36 * variance(0, 2) },
    { i: 2, j: 1, stead: alongY(2), noise: 0.16 * variance(2, 0) + 0.36 * variance(2, 2) },
    {
      ...{ i: 1, j: 1, stead: (alongX(1) + alongY(1)) / 2 },
      noise: (0.36 * variance(0, 1) + 0.16 * variance(2, 1) + 0.16 * variance(1, 0) + 0.36 * variance(1, 2)) / 4,
    },
  ];
  const excess = left.map(({ i, j, stead, noise }) => (zAt(i, j) - stead) ** 2 - noise - variance(i, j));
  const bend = Math.sqrt(excess.reduce((s, v) => s + v, 0) / left.length);
  const indexOf = (i: number, j: number) => points.findIndex(([x, y]) => x === xs[i] && y === ys[j]);

  it("a height is the mix of the four corners of its cell, on a line of the grid of the two it lies between", () => {
    const { heights } = bilinearMethod(given(points));
    // a quarter along x, two thirds along y of the first cell; three quarters and a half of the last
    near(heights([10, 85], [30, 50]).meanUm, [
      0.75 * (zAt(0, 0) / 3 + (2 * zAt(0, 1)) / 3) + 0.25 * (zAt(1, 0) / 3 + (2 * zAt(1, 1)) / 3),
      0.25 * (zAt(1, 1) / 2 + zAt(1, 2) / 2) + 0.75 * (zAt(2, 1) / 2 + zAt(2, 2) / 2),
    ]);
    near(heights([70, 100, 40, 0], [40, 50, 40, 10]).meanUm, [
      (zAt(1, 1) + zAt(2, 1)) / 2,
      (zAt(2, 1) + zAt(2, 2)) / 2,
      zAt(1, 1),
      zAt(0, 0),
    ]);
  });

  it("ends at the outermost lines, but for rounding", () => {
    const { heights } = bilinearMethod(given(points));
    const { meanUm } = heights([-1e-8, 100 + 1e-8, 40, 40], [10, 60, 10 - 1e-8, 60 + 1e-8]);
    for (const [k, v] of [zAt(0, 0), zAt(2, 2), zAt(1, 0), zAt(1, 2)].entries()) expect(meanUm[k]).toBeCloseTo(v, 6);
    near(heights([-0.1, 100.1, 40, 40], [30, 30, 9.9, 60.1]).meanUm, new Array(4).fill(Number.NaN));
  });

  it("its doubt holds the readings of the corners, and what the form bends between them", () => {
    const { heights, statement } = bilinearMethod(given(points));
    const mix = 0.75 ** 2 * (variance(0, 0) / 9 + (4 * variance(0, 1)) / 9);
    const more = 0.25 ** 2 * (variance(1, 0) / 9 + (4 * variance(1, 1)) / 9);
    const depth = 2 * (0.25 * 0.75 + 2 / 9);
    near(heights([10, 40], [30, 40]).uUm, [
      Math.sqrt(mix + more + ((depth * bend) / 4) ** 2),
      Math.sqrt(variance(1, 1)),
    ]);
    expect(statement).toBe(
      `bilinear over the cells of the grid; a place left out is missed by ${bend.toFixed(1)} µm beyond the noise of its readings, a gap half as wide is taken to be missed by a quarter of that`,
    );
  });

  it("in the stead of a place stands what lies straight across it, along x, along y or the mean of both", () => {
    const { residualsUm, standardDeviationsUm } = bilinearMethod(given(points)).leftOut();
    for (const { i, j, stead, noise } of left) {
      expect(residualsUm[indexOf(i, j)]).toBeCloseTo(zAt(i, j) - stead, 9);
      expect(standardDeviationsUm[indexOf(i, j)]).toBeCloseTo(Math.sqrt(noise + variance(i, j) + bend ** 2), 9);
    }
    for (const [i, j] of [
      [0, 0],
      [2, 0],
      [0, 2],
      [2, 2],
    ] as const) {
      expect(residualsUm[indexOf(i, j)]).toBeNaN();
    }
  });

  it("says nothing in a cell of which a corner was not probed, but along the sides that were", () => {
    const cut = points.filter(([x, y]) => x !== 100 || y !== 60);
    const method = bilinearMethod(given(cut));
    near(method.heights([70, 40, 70, 39], [50, 50, 40, 50]).meanUm, [
      Number.NaN,
      (zAt(1, 1) + zAt(1, 2)) / 2,
      (zAt(1, 1) + zAt(2, 1)) / 2,
      0.025 * ((zAt(0, 1) + zAt(0, 2)) / 2) + 0.975 * ((zAt(1, 1) + zAt(1, 2)) / 2),
    ]);
    // across (100, 40) and (40, 60) nothing lies any more
    expect(method.leftOut().residualsUm.filter((r) => Number.isFinite(r))).toHaveLength(3);
    expect(method.name).toBe("bilinear");
  });
});
