import { expect, it } from "vitest";
import { input, kelvin, numerics, um, uncertainty } from "../../kernel-lib/src/index.js";
import { ContactExchange } from "../../kernel-lib/src/numerics/contact-exchange.js";
import { minimumZoneLine } from "../../kernel-lib/src/numerics/minimum-zone-line.js";
import { orthogonalPlane } from "../../kernel-lib/src/numerics/orthogonal-plane.js";
import { lawOfPropagation } from "../../kernel-lib/src/uncertainty/law-of-propagation.js";
import { refusal } from "../refusal.js";

const many = [0, 0.1, 0.2, -0.1, -0.2, 0.05, -0.05, 0.15, -0.15, 0];
const propagate = (estimates: number[], u: number[], nu: number[]) =>
  lawOfPropagation((x) => x[0] ?? 0, { estimates, standardUncertainties: u, degreesOfFreedom: nu } as never);

it.each<[act: () => unknown, sentence: string]>([
  [
    () => minimumZoneLine([0, 1], [0, 1]),
    "minimumZoneLine: 2 places and 2 heights; give at least three points, each with both",
  ],
  [
    () => minimumZoneLine([0, 1, 2], [0, Number.NaN, 1]),
    "minimumZoneLine: point 2 of 3 is (1, NaN); leave out a point that was not measured",
  ],
  [() => minimumZoneLine([4, 4, 4], [0, 1, 2]), "minimumZoneLine: all 3 points are at 4; a line needs two places"],
  [
    () => orthogonalPlane([0, 1], [0, 1], [0, 1]),
    "orthogonalPlane: 2 x, 2 y and 2 z; give at least three points, each with all three",
  ],
  [
    () => orthogonalPlane([0, 1, 2, 3], [0, 1, 2, 3], [0, 0.1, 0, 0.1]),
    "orthogonalPlane: the 4 points lie on one line seen from above; measure at least one place beside it",
  ],
  [
    () => propagate([1, 2], [1], [9, 9]),
    "lawOfPropagation: 2 estimates, 1 uncertainties and 2 degrees of freedom; give as many of each",
  ],
  [
    () => propagate([1, 2], [1, 0], [9, 9]),
    "lawOfPropagation: input 2 has u = 0 and 9 degrees of freedom; give u above zero and 1 or more degrees of freedom",
  ],
  [() => uncertainty.pooledSpread([]), "pooledSpread: no group is given; give lists of readings, two or more each"],
  [
    () =>
      uncertainty.pooledSpread([
        [um(1), um(2)],
        [kelvin(1), kelvin(2)],
      ] as never),
    "pooledSpread: group 2 is of the kind temperature difference, the first of length; pool readings of one kind",
  ],
  [
    () => uncertainty.pooledSpread([{ standardDeviation: um(1), degreesOfFreedom: 0 }]),
    "pooledSpread: group 1 has s = 1 µm with 0 degrees of freedom; give s of zero or more and ν of 1 or more",
  ],
  [
    () => input.truncatedNormal({ label: "a", estimate: um(0), standardUncertainty: um(1), upper: kelvin(3) as never }),
    'input "a": a limit is no length; give it as the estimate is given',
  ],
  [
    () => input.truncatedNormal({ label: "a", estimate: um(0), standardUncertainty: um(1), upper: um(-9) }),
    'input "a": the limits leave nothing of the law: at most −9 µm lies more than 6 u from the estimate 0 µm; correct the estimate, its u or the limit',
  ],
  [() => um(1).times("x" as never), "times: x is neither a number nor a quantity; give one of them"],
  [
    () => input.rectangular({ label: "a", lower: um(1), upper: kelvin(2) as never }),
    'input "a": its limits are 1 µm and 2 K; give two quantities of one kind, or an estimate and a half-width',
  ],
  [
    () => input.rectangular({ label: "a", estimate: 3 as never, halfWidth: um(2) }),
    'input "a": its estimate is 3; give a quantity, such as um(12)',
  ],
  [
    () => input.trapezoidal({ label: "a", estimate: um(0), halfWidth: um(2), topHalfWidth: um(-1) }),
    'input "a": the half-width of its top is −1 µm; give one of zero or more',
  ],
  [
    () =>
      numerics.huberFit(
        [
          [1, 1, 1, 1, 1],
          [1, 1, 2, 2, 2],
        ],
        [1e-8, 1.3, 6_613_199, 2.5, 2e-8],
      ),
    "huberFit: the weights still change after 500 rounds; look for readings typed in a wrong unit",
  ],
  [
    // both readings that tell of the second coefficient stand far off, and no weight is left on them
    () => numerics.bisquareFit([Array(12).fill(1), [...Array(10).fill(0), 1, 1]], [...many, 1000, -1000]),
    "bisquareFit: the weights still change after 500 rounds, or too few readings are left; look for readings typed in a wrong unit",
  ],
  [
    () => numerics.gaussianProcess({ x: [0, 10, 20, 0, 10], y: [0, 0, 0, 10, 11], z: [1, 3, 4, 5, 6] }, { nugget: -1 }),
    "gaussianProcess: the covariance of the points is not positive definite at any size tried; give the readings a noise greater than zero, or leave out one of two points that lie together",
  ],
  [
    () =>
      numerics.nonlinearLeastSquares({
        ...{ where: "decay", y: [8, 4, 2, 1], start: [500, 1], mostSteps: 1 },
        model: (p, row) => p[0]! * Math.exp(-p[1]! * row),
      }),
    "decay: no best fit found in 1 steps for 4 readings; start nearer, or take a curve with fewer parameters",
  ],
  [
    () => numerics.twoWayAnova([1, 2, 3, 4, 5, 6, 7, 1e200], { parts: 2, operators: 2, repeats: 2 }),
    "twoWayAnova: the readings are too large to be squared; use a larger unit",
  ],
  [
    // was a zone of NaN
    () => numerics.minimumZonePlane([0, 1, 0, 1], [0, 0, 1, 1], [1e308, -1e308, 0, 5]),
    "minimumZonePlane: the heights lie too far apart for their differences to be numbers; give them in a larger unit",
  ],
  [
    () =>
      new ContactExchange(
        ...([
          [0, 1, 0, 1, 0.5],
          [0, 0, 1, 1, 0.5],
          [1, -1, -1, 1, 3],
        ].map((v) => Float64Array.from(v)) as [Float64Array, Float64Array, Float64Array]),
      ).run(0),
    "minimumZonePlane: the contacts still change after 0 exchanges; look for places that nearly coincide",
  ],
])("refuses with the whole sentence: %#", (act, sentence) => {
  expect(refusal(act).message).toBe(sentence);
});
