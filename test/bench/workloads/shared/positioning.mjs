import { readFileSync } from "node:fs";

const expected = JSON.parse(readFileSync(new URL("../../expected/w10-positioning.json", import.meta.url), "utf8"));

/** names of the compared figures and of our own */
const figures = {
  B: "reversal",
  B_mean: "meanReversal",
  Eu: "systematicUp",
  Ed: "systematicDown",
  E: "systematic",
  M: "meanDeviation",
  Ru: "repeatabilityUp",
  Rd: "repeatabilityDown",
  R: "repeatability",
  Au: "accuracyUp",
  Ad: "accuracyDown",
  A: "accuracy",
};

/** What the two ways of running W10 share. */
export function positioningTask(own) {
  return {
    id: "W10",
    uses: ["axis"],
    relative: 1e-11,
    expected: { ...expected, sizes: expected[own.variant] },

    /** one test or many: sums over all of them */
    result(found) {
      const sum = (name) => found.reduce((total, of) => total + of[name], 0);
      return Object.fromEntries(Object.entries(figures).map(([letter, name]) => [letter, sum(name)]));
    },
    ...own,
  };
}
