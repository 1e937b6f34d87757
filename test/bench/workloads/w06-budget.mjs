import { readFileSync } from "node:fs";
import { checksum } from "../generate.mjs";
import { comparison, degreesOfFreedom, variations } from "./shared/comparison.mjs";

const model = (x) => comparison(x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7]);

/** A thousand budgets of one model on plain numbers: value, contributions, u and effective degrees of freedom. */
export default {
  id: "W6",
  variant: "budget",
  against: { python: "w06_budget.py", variant: "uncertainties", ratio: 0.1 },
  sizes: [1000],
  per: (size) => size,
  uses: ["uncertainty"],
  relative: 1e-9,
  expected: JSON.parse(readFileSync(new URL("../expected/w06-budget.json", import.meta.url), "utf8")),

  make(size) {
    const { estimates, spreads } = variations(606, size);
    const rows = Array.from({ length: size }, (_, k) => ({
      estimates: estimates.slice(8 * k, 8 * k + 8),
      standardUncertainties: spreads.slice(8 * k, 8 * k + 8),
      degreesOfFreedom,
    }));
    return { inputs: rows, checksum: checksum(estimates, spreads) };
  },

  run(rows, { uncertainty }) {
    const sums = { y: 0, u: 0, nu: 0, last: [] };
    for (const row of rows) {
      const found = uncertainty.lawOfPropagation(model, row);
      sums.y += found.value;
      sums.u += found.standardUncertainty;
      sums.nu += found.effectiveDegreesOfFreedom;
      sums.last = found.contributions;
    }
    return sums;
  },

  result: ({ y, u, nu, last }) => ({
    sum_y: y,
    sum_u: u,
    sum_dof: nu,
    ...Object.fromEntries(last.map((part, i) => [`contribution_${i + 1}`, part])),
  }),
};
