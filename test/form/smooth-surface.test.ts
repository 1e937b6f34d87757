import { describe, expect, it } from "vitest";
import { compareSurfaces } from "../../kernel-lib/src/form/index.js";
import { gaussianMethod, splineMethod } from "../../kernel-lib/src/form/surface-gaussian.js";
import type { MethodInput } from "../../kernel-lib/src/form/surface-method.js";
import { gaussianProcess, randomStream, thinPlateSpline } from "../../kernel-lib/src/numerics/index.js";
import { printNumber } from "../../kernel-lib/src/quantity/print.js";
import { mapOf } from "./planted.js";

const stream = randomStream(3);
const points = Array.from({ length: 30 }, (_, i) => {
  const [xMm, yMm] = [60 * (i % 6), 40 * Math.floor(i / 6)];
  return {
    label: `P${i}`,
    xMm,
    yMm,
    zUm: 9 * Math.sin(xMm / 70) + 5 * Math.cos(yMm / 50) + 0.3 * stream.normal(),
    count: 2,
  };
});
const places = { x: points.map((p) => p.xMm), y: points.map((p) => p.yMm), z: points.map((p) => p.zUm) };
const nugget = points.map(() => 0.09);
const modesUm = [places.x.map((x) => x / 300), places.y.map((y) => (y / 160) ** 2)];
const map = mapOf(points, { standardUncertaintyUm: 0.3, degreesOfFreedom: 30 });
const given = (drift: boolean): MethodInput => ({
  surface: drift ? { ...map, drift: { model: "settling", statement: "drift", modesUm } } : map,
  ...{ places, pitch: { x: 60, y: 40, grid: true }, nugget },
});
const [xs, ys] = [
  [30, 170, 250],
  [20, 90, 130],
];
const near = (found: readonly number[], wanted: ArrayLike<number>) => {
  expect(found).toHaveLength(wanted.length);
  for (let i = 0; i < wanted.length; i++) expect(found[i]).toBeCloseTo(wanted[i]!, 9);
};

describe("the Gaussian process of a map", () => {
  it("is the one with a plane, lengths from the pitch to ten times the map, the drift as modes", () => {
    const bounds = { lengthX: [60, 3000], lengthY: [40, 1600] } as const;
    const own = gaussianProcess(places, { covariance: "matern 5/2", trend: "plane", nugget, modes: modesUm, bounds });
    const method = gaussianMethod(given(true));
    const { mean, standardUncertainty } = own.predict(xs, ys);
    near(method.heights(xs, ys).meanUm, mean);
    near(method.heights(xs, ys).uUm, standardUncertainty);
    near(method.covariances!(xs, ys), own.covariances(xs, ys));
    near(method.leftOut().residualsUm, own.leaveOneOut().residuals);
    near(method.leftOut().standardDeviationsUm, own.leaveOneOut().standardDeviations);
    const { lengthX, lengthY, variance } = own.size;
    expect(Math.max(lengthX / 1500, lengthY / 800)).toBeLessThan(1);
    expect([method.name, method.statement]).toEqual([
      "gaussian process",
      `Gaussian process (Matérn 5/2): heights off a plane of ${printNumber(Math.sqrt(variance), 2)} µm standard deviation, alike over ${printNumber(lengthX, 2)} mm along x and ${printNumber(lengthY, 2)} mm along y`,
    ]);
  });

  it("says of a length beyond five times the map that it is more than that", () => {
    // nothing changes along y
    const bent = points.map((p) => ({ ...p, zUm: 9 * Math.sin(p.xMm / 70) }));
    const input = {
      ...given(false),
      surface: mapOf(bent),
      places: { ...places, z: bent.map((p) => p.zUm) },
      nugget: points.map(() => 1e-4),
    };
    expect(gaussianMethod(input).statement).toMatch(/, alike over \d+ mm along x and more than 800 mm along y$/);
  });
});

describe("the thin-plate spline of a map", () => {
  it("is smoothed by the readings, and carries the drift through the same smoothing", () => {
    const own = thinPlateSpline(places);
    const drifts = modesUm.map((z) => thinPlateSpline({ ...places, z }, { smoothing: own.smoothing }));
    const [plain, drifted] = [splineMethod(given(false)), splineMethod(given(true))];
    const { mean, standardUncertainty } = own.predict(xs, ys);
    near(plain.heights(xs, ys).meanUm, mean);
    near(plain.heights(xs, ys).uUm, standardUncertainty);
    near(plain.covariances!(xs, ys), own.covariances(xs, ys));
    const shifts = drifts.map((drift) => drift.heights(xs, ys));
    near(drifted.heights(xs, ys).meanUm, mean);
    near(
      drifted.heights(xs, ys).uUm,
      standardUncertainty.map((u, i) => Math.sqrt(u * u + shifts[0]![i]! ** 2 + shifts[1]![i]! ** 2)),
    );
    near(
      drifted.covariances!(xs, ys),
      own.covariances(xs, ys).map((c, k) => {
        const [i, j] = [Math.floor(k / 3), k % 3];
        return c + shifts[0]![i]! * shifts[0]![j]! + shifts[1]![i]! * shifts[1]![j]!;
      }),
    );
    near(drifted.leftOut().residualsUm, own.leaveOneOut().residuals);
    near(drifted.leftOut().standardDeviationsUm, own.leaveOneOut().standardDeviations);
    expect([plain.name, plain.statement]).toEqual([
      "thin-plate spline",
      "thin-plate spline, smoothed by generalised cross-validation (errors of the places taken as independent)",
    ]);
  });
});

describe("methods compared", () => {
  it("count over the places that all of them can be asked for, bilinear only on a grid", () => {
    const { rows } = compareSurfaces(map);
    expect(rows.map(({ method }) => method).sort()).toEqual([
      "bilinear",
      "gaussian process",
      "thin-plate spline",
      "triangulated",
    ]);
    // all but the four corners, which nothing lies straight across
    expect(new Set(rows.map((row) => row.places)).size).toBe(1);
    expect(rows.map(({ missedUm }) => missedUm)).toEqual(
      rows.map(({ missedUm }) => missedUm).toSorted((a, b) => a - b),
    );
    const spline = thinPlateSpline(places).leaveOneOut();
    const row = rows.find(({ method }) => method === "thin-plate spline")!;
    const inside = points.flatMap((p, i) => (p.xMm % 300 > 0 || p.yMm % 160 > 0 ? [i] : []));
    expect(row.places).toBe(inside.length);
    const rms = (values: readonly number[]) => Math.sqrt(values.reduce((s, v) => s + v * v, 0) / values.length);
    expect(row.missedUm).toBeCloseTo(rms(inside.map((i) => spline.residuals[i]!)), 9);
    expect(row.ratio).toBeCloseTo(rms(inside.map((i) => spline.residuals[i]! / spline.standardDeviations[i]!)), 9);
    const scattered = points.map((p, i) => ({ ...p, xMm: p.xMm + 0.1 * i }));
    expect(compareSurfaces(mapOf(scattered)).rows).toHaveLength(3);
  });
});
