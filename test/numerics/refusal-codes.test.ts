import { expect, it } from "vitest";
import { numerics } from "../../kernel-lib/src/index.js";
import { ContactExchange } from "../../kernel-lib/src/numerics/contact-exchange.js";
import { minimumZoneLine } from "../../kernel-lib/src/numerics/minimum-zone-line.js";
import { refusal } from "../refusal.js";

const nan = Number.NaN;
const [square, side, up] = [
  [0, 1, 0, 1],
  [0, 0, 1, 1],
  [1, -1, -1, 1],
];
const line = [0, 1, 2, 3];
const two = { parts: 2, operators: 2, repeats: 2 };
const ones = [1, 1, 1, 1];
const crossed = [square, side, up].map((v) => Float64Array.from(v)) as [Float64Array, Float64Array, Float64Array];

it.each<[name: string, code: string, act: () => unknown]>([
  ["minimumZonePlane", "too-few-places", () => numerics.minimumZonePlane([0, 1, 0], [0, 0, 1], [0, 0, 0])],
  ["minimumZonePlane", "not-finite", () => numerics.minimumZonePlane(square, side, [0, nan, 1, 1])],
  ["minimumZonePlane", "not-finite", () => numerics.minimumZonePlane(square, side, [1e308, -1e308, 0, 5])],
  ["minimumZonePlane", "on-a-line", () => numerics.minimumZonePlane(line, line, up)],
  ["minimumZonePlane", "no-convergence", () => new ContactExchange(...crossed).run(0)],
  ["minimumZoneLine", "too-few-places", () => minimumZoneLine([0, 1], [0, 1])],
  ["minimumZoneLine", "not-finite", () => minimumZoneLine([0, 1, 2], [0, nan, 1])],
  ["orthogonalPlane", "too-few-places", () => numerics.orthogonalPlane([0, 1], [0, 1], [0, 1])],
  ["orthogonalPlane", "not-finite", () => numerics.orthogonalPlane(square, side, [nan, 0, 0, 0])],
  ["orthogonalPlane", "on-a-line", () => numerics.orthogonalPlane(line, line, [0, 0.1, 0, 0.1])],
  ["orthogonalPlane", "steep", () => numerics.orthogonalPlane(square, side, up)],
  ["leastSquaresPlane", "too-few-places", () => numerics.leastSquaresPlane([0, 1], [0, 0], [0, 0])],
  ["leastSquaresPlane", "not-finite", () => numerics.leastSquaresPlane(square, side, [0, 0, 0, nan])],
  ["leastSquares", "design", () => numerics.leastSquares([], [1, 2])],
  ["leastSquares", "design", () => numerics.leastSquares([ones, [1, 2, 3]], [1, 2, 3, 4])],
  ["leastSquares", "not-finite", () => numerics.leastSquares([ones], [1, nan, 3, 4])],
  ["leastSquares", "rank-deficient", () => numerics.leastSquares([ones, ones], [1, 2, 3, 4])],
  ["trimmedPlane", "keep", () => numerics.trimmedPlane(square, side, up, 9)],
  ["twoWayAnova", "not-finite", () => numerics.twoWayAnova([1, 2, 3, 4, 5, 6, 7, nan], two)],
  ["twoWayAnova", "not-finite", () => numerics.twoWayAnova([1, 2, 3, 4, 5, 6, 7, 1e200], two)],
  ["twoWayAnova", "study-shape", () => numerics.twoWayAnova([1, 2, 3], two)],
  ["summariseSample", "sample", () => numerics.summariseSample([1, nan, 3])],
  [
    "nonlinear, first row",
    "not-finite",
    () => numerics.nonlinearLeastSquares({ where: "w", y: [nan, 1, 2], start: [1], model: (p, row) => p[0]! * row }),
  ],
])("%s refuses under the code that its description names: %s", (_, code, act) => {
  expect(refusal(act).code).toBe(code);
});
