import type { Outcome } from "./drawn.js";
import { type Simulation, twistRemover } from "./simulation.js";

/** Levelled on its feet: they take out anything from none to all of the twist, equally likely. */
export function levelled({ input }: Pick<Simulation, "input">): Outcome {
  const withoutTwist = twistRemover(input);
  return (drawn, uniform) => withoutTwist(drawn, uniform());
}

/** Stoned: each rim comes down to anything from nothing to the height stated above the form around it, or stays lower. */
export function stoned({ input, highs }: Pick<Simulation, "input" | "highs">): Outcome {
  const leftUpTo = leftAfterStoningUm({ input });
  return ({ heightUm, smoothUm }, uniform) =>
    heightUm.map((z, i) => (highs.includes(i) ? Math.min(z, smoothUm[i]! + leftUpTo * uniform()) : z));
}

/** what is left standing of a rim, at most, µm */
export function leftAfterStoningUm({ input }: Pick<Simulation, "input">): number {
  return input.leftAfterStoningUpTo?.in("um") ?? 2;
}
