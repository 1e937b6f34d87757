import type { Dense } from "./dense.js";

/** How alike two heights are over their distance. */
export type FamilyName = "matern 5/2" | "squared exponential";

/** A law of likeness as a function of the squared distance q, each axis over its own length. */
export interface CovarianceFamily {
  readonly name: FamilyName;
  /** true where the law has a value at every complex distance: what is made of it is as smooth as a polynomial */
  readonly isEntire: boolean;
  /** q → correlation, in place over `count` numbers at `at`; with `slope`, −2 d correlation / dq is put there; `room` is written over */
  correlate(memory: Float64Array, dense: Dense, at: number, count: number, room: Float64Array, slope?: number): void;
}

const squaredExponential: CovarianceFamily = {
  name: "squared exponential",
  isEntire: true,
  correlate(memory, dense, at, count, _, slope) {
    for (let i = at; i < at + count; i++) memory[i] = -0.5 * memory[i]!;
    dense.exponentials(at, count);
    if (slope !== undefined) memory.copyWithin(slope, at, at + count);
  },
};

/** (1 + d + d²/3) e^(−d), d = √(5 q): twice differentiable, no smoother than a machined surface may be */
const matern: CovarianceFamily = {
  name: "matern 5/2",
  isEntire: false,
  correlate(memory, dense, at, count, room, slope) {
    for (let i = 0; i < count; i++) {
      const d = Math.sqrt(5 * memory[at + i]!);
      room[i] = d;
      memory[at + i] = -d;
    }
    dense.exponentials(at, count);
    for (let i = 0; i < count; i++) {
      const d = room[i]!;
      const e = memory[at + i]!;
      if (slope !== undefined) memory[slope + i] = (5 / 3) * (1 + d) * e;
      memory[at + i] = (1 + d + (d * d) / 3) * e;
    }
  },
};

export const families: { readonly [N in FamilyName]: CovarianceFamily } = {
  "matern 5/2": matern,
  "squared exponential": squaredExponential,
};
