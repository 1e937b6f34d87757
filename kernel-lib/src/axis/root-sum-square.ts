import { Quantity } from "../quantity/index.js";
import { correlation as correlationOf, Measured } from "../uncertainty/index.js";
import type { Contribution } from "./tool-contributions.js";

/** Two lines, and how far they go together: 1 greatest in the same place and the same way, 0 by chance, −1 against each other. */
export interface GrowTogether {
  /** "lost motion of X", "pitch of X", as the lines are called */
  readonly between: readonly [string, string];
  readonly correlation: number;
}

/** √(Σ Σ r_ij e_i e_j) over the lines of one direction, all taken as positive; its u by the partials e r / root, shared inputs kept. */
export function rootSumSquare(
  own: readonly Contribution[],
  together: readonly GrowTogether[],
): Measured<"length"> | undefined {
  if (own.length === 0) return undefined;
  const errors = own.map(({ error }) => (error.value.si < 0 ? error.times(-1) : error));
  const r = matrixOf(own, together);
  const pulls = r.map((row) => row.reduce((sum, rij, j) => sum + rij * errors[j]!.value.si, 0));
  const root = Math.sqrt(
    Math.max(
      0,
      pulls.reduce((sum, pull, i) => sum + pull * errors[i]!.value.si, 0),
    ),
  );
  // at nothing the root has no slope: each line then counts in full
  const partials = pulls.map((pull) => (root > 0 ? pull / root : 1));
  return Measured.of(
    Quantity.fromSi("length", root),
    errors.flatMap(({ terms }, i) =>
      terms.map(({ input, sensitivity }) => ({ input, sensitivity: sensitivity * partials[i]! })),
    ),
  );
}

/** Correlations of the uncertainties of the lines, by the inputs they share; those below 0.005 are left out. */
export function sharedDoubt(own: readonly Contribution[]): readonly GrowTogether[] {
  return own.flatMap((a, i) =>
    own.slice(i + 1).flatMap((b) => {
      if (a.error.standardUncertainty.si === 0 || b.error.standardUncertainty.si === 0) return [];
      const correlation = correlationOf(a.error, b.error);
      return Math.abs(correlation) < 0.005 ? [] : [{ between: [a.source, b.source] as const, correlation }];
    }),
  );
}

/** whether such correlations can be: no mixture of the lines has a negative square (Cholesky, in the positive) */
export function isPossible(own: readonly Contribution[], together: readonly GrowTogether[]): boolean {
  const m = matrixOf(own, together).map((row, i) => row.map((rij, j) => (i === j ? rij + 1e-9 : rij)));
  for (let k = 0; k < m.length; k++) {
    if (!(m[k]![k]! > 0)) return false;
    for (let i = k + 1; i < m.length; i++) {
      for (let j = k + 1; j < m.length; j++) m[i]![j] = m[i]![j]! - (m[i]![k]! * m[k]![j]!) / m[k]![k]!;
    }
  }
  return true;
}

function matrixOf(own: readonly Contribution[], together: readonly GrowTogether[]): number[][] {
  return own.map((a) =>
    own.map((b) => {
      if (a === b) return 1;
      const pair = together.find(({ between }) => between.includes(a.source) && between.includes(b.source));
      return pair?.correlation ?? 0;
    }),
  );
}
