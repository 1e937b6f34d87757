import { GPa, type Length, mm, type Pressure, plain, type Quantity } from "../quantity/index.js";
import { type Input, input } from "../uncertainty/index.js";
import type { ConditionsInput, DoubtfulLength } from "./conditions-input.js";
import type { Engagement } from "./engagement.js";

/** What the cutting force is reckoned from, each an input of a budget once. */
export type CutDoubts = {
  readonly force: Input<"number">;
  readonly upward: Input<"number">;
};

/** modulus of a steel holder, with ± 2 % of no weight beside the force; Callister, appendix B.2 */
const steel = GPa(207);

/** limits of the specific force as a share of it, and upward share of the cutting force, as given or as usual */
export function cutShares({ forceWithin = 0.2, upward = [0.2, 0.6] }: ConditionsInput): {
  readonly forceWithin: number;
  readonly upward: readonly [from: number, to: number];
} {
  return { forceWithin, upward };
}

export function cutDoubts(given: ConditionsInput): CutDoubts {
  const { forceWithin, upward } = cutShares(given);
  return {
    force: input.rectangular({
      label: "specific cutting force, makers and edge",
      estimate: plain(1),
      halfWidth: plain(forceWithin),
    }),
    upward: input.rectangular({
      label: "upward share of the cutting force",
      lower: plain(upward[0]),
      upper: plain(upward[1]),
    }),
  };
}

/** Force while a tooth cuts, for a depth: k_c × mean chip × depth × teeth in the metal, one at least. */
export function forceAt(depth: Length, specific: Pressure, { meanChip, meanTeeth }: Engagement): Quantity<"force"> {
  return specific.times(meanChip.times(depth)).times(Math.max(1, meanTeeth));
}

/** Yield per depth of cut as a model of its inputs, to be taken into other budgets whole: it bends too much for a line. */
export interface YieldModel {
  readonly inputs: { readonly [P in keyof CutDoubts]: CutDoubts[P] } & { readonly by: DoubtfulLength };
  readonly at: (x: YieldArguments) => number;
}

export interface YieldArguments {
  readonly force: Quantity<"number">;
  readonly upward: Quantity<"number">;
  readonly by: Length;
}

/**
 * How much of an unevenness of the depth of cut gives way, per depth: yield of the head under the upward share, and
 * the lean of an overhung holder under the sideways force, which raises the rim by lean × radius.
 */
export function yieldModel(given: ConditionsInput, engagement: Engagement, doubts: CutDoubts): YieldModel {
  const perMm = forceAt(mm(1), given.specificForce.at(engagement.meanChip), engagement);
  const pushes = perMm.over(given.yields.under).in("1");
  const leaning = leanPerForce(given) * perMm.in("N");
  return {
    inputs: { ...doubts, by: given.yields.by },
    at: ({ force, upward, by }) => force.in("1") * (upward.in("1") * pushes * by.in("mm") + leaning),
  };
}

/** rise of the rim in mm per N sideways: R × L² / (2 E I), a round steel cantilever */
function leanPerForce({ holder, job }: ConditionsInput): number {
  if (!holder) return 0;
  const inertia = (Math.PI * holder.diameter.in("mm") ** 4) / 64;
  const radius = job.cutter.diameter.in("mm") / 2;
  return (radius * holder.overhang.in("mm") ** 2) / (2 * steel.in("MPa") * inertia);
}
