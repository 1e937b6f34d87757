import { readFileSync } from "node:fs";
import { comparison } from "./shared/comparison.mjs";

/** A budget of plain numbers propagated by a million trials, with its shortest interval. */
export default {
  id: "W5",
  variant: "monte-carlo",
  against: { python: "w05_monte_carlo.py", variant: "numpy-generator-tails", ratio: 0.8 },
  sizes: [1e6],
  uses: ["quantity", "uncertainty"],
  // what a million trials scatter by
  relative: { mean: 3e-4, u: 4.4e-3, width: 3.7e-3, low: 1.3e-3, high: 1.1e-3 },
  expected: JSON.parse(readFileSync(new URL("../expected/w05-monte-carlo.json", import.meta.url), "utf8")),

  make: (size) => ({ inputs: { trials: size }, checksum: "own generator" }),

  run(inputs, product) {
    inputs.budget ??= budget(product);
    return inputs.budget.simulate({ seed: 505, trials: inputs.trials });
  },

  result({ value, standardUncertainty, shortest }) {
    const [low, high] = shortest.map((end) => end.in("um"));
    return { mean: value.in("um"), u: standardUncertainty.in("um"), width: high - low, low, high };
  },
};

function budget({ quantity: { mm, kelvin, perKelvin }, uncertainty: { input, budgetOfNumbers } }) {
  const one = (make, label, estimate, rest) => make({ label, estimate, ...rest });
  return budgetOfNumbers({
    measurand: "length above 50 mm",
    inputs: {
      ls: one(input.t, "standard", mm(50.000623), { standardUncertainty: mm(25e-6), degreesOfFreedom: 18 }),
      d: one(input.normal, "difference", mm(215e-6), { standardUncertainty: mm(9.7e-6) }),
      c: one(input.rectangular, "comparator", mm(0), { halfWidth: mm(10e-6) }),
      t: one(input.normal, "mean temperature", kelvin(-0.1), { standardUncertainty: kelvin(0.2) }),
      D: one(input.arcsine, "swing", kelvin(0), { halfWidth: kelvin(0.5) }),
      al: one(input.rectangular, "expansion", perKelvin(11.5e-6), { halfWidth: perKelvin(2e-6) }),
      da: one(input.triangular, "expansion, difference", perKelvin(0), { halfWidth: perKelvin(1e-6) }),
      th: one(input.rectangular, "temperature, difference", kelvin(0), { halfWidth: kelvin(0.05) }),
    },
    units: { ls: "mm", d: "mm", c: "mm", t: "K", D: "K", al: "1/K", da: "1/K", th: "K" },
    result: { kind: "length", unit: "um" },
    model: ({ ls, d, c, t, D, al, da, th }) => comparison(ls, d, c, t, D, al, da, th),
  });
}
