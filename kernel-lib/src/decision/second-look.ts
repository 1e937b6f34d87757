import { randomStream } from "../numerics/index.js";
import { asFound, type Drawn, flatnessUm, type Outcome } from "./drawn.js";
import type { Option, OptionKey } from "./option.js";
import { levelled, stoned } from "./outcomes.js";
import type { Simulation } from "./simulation.js";

/**
 * What one more survey of the same places, with the same gauge and as many passes, would show of each option that the map decides:
 * the flatness after it, one a draw. Noise and drift are new and independent; the error of the gauge over its own reading is the same
 * as before and is not told by it. Options that no map foretells are not in it.
 */
export function secondLook(
  simulation: Simulation,
  options: readonly Option[],
): ReadonlyMap<OptionKey, readonly number[]> {
  const { input, draws } = simulation;
  const outcomes: readonly (readonly [OptionKey, Outcome])[] = [
    ["level", levelled(simulation)],
    ["leave", asFound],
    ["stone", stoned(simulation)],
  ];
  const wanted = outcomes.filter(([key]) => options.some((option) => option.key === key));
  const { surface, seed = 1 } = input;
  const found = wanted.map(([key]) => [key, [] as number[]] as const);
  draws.forEach((drawn, k) => {
    const { normal } = randomStream(seed, 2 ** 30 + k);
    const drifts = (surface.drift?.modesUm ?? []).map((mode) => ({ mode, size: normal() }));
    const errors = surface.places.map(
      (_, i) =>
        surface.noise.standardUncertaintyUm * normal() +
        drifts.reduce((sum, { mode, size }) => sum + size * mode[i]!, 0),
    );
    const read: Drawn = { heightUm: drawn.seenUm.map((z, i) => z + errors[i]!), smoothUm: drawn.smoothUm };
    const seen: Drawn = { heightUm: drawn.seenUm, smoothUm: drawn.smoothUm };
    wanted.forEach(([, outcome], j) => {
      // what can't be known of the outcome itself stays in its middle
      const figure = (of: Drawn) =>
        flatnessUm(
          input,
          outcome(of, () => 0.5),
        );
      const [likely, without] = [figure(drawn.likely), figure(seen)];
      // the figure of the draw by this gauge, taken as in `drawnFlatness`, and what the new errors add to it
      found[j]![1].push(likely - drawn.weight * (without - likely) + (figure(read) - without));
    });
  });
  return new Map(found);
}
