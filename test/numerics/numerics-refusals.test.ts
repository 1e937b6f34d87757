import { expect, it } from "vitest";
import { input, kelvin, um, uncertainty } from "../../kernel-lib/src/index.js";
import { minimumZoneLine } from "../../kernel-lib/src/numerics/minimum-zone-line.js";
import { orthogonalPlane } from "../../kernel-lib/src/numerics/orthogonal-plane.js";
import { lawOfPropagation } from "../../kernel-lib/src/uncertainty/law-of-propagation.js";
import { refusal } from "../refusal.js";

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
])("refuses with the whole sentence: %#", (act, sentence) => {
  expect(refusal(act).message).toBe(sentence);
});
