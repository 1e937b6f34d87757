import { quantileOf } from "../facing/draws.js";
import { um } from "../quantity/index.js";
import type { OptionVerdict, PredictedFlatness } from "./option.js";

/** What the intervals of options are worth, by the test of invented machines, in words. */
export const coverageStatement =
  "the 95 % interval is made for 95 in 100; of 1,000 invented machines, their gauges wrong by up to the limit, it held the planted flatness as found in 945 and stoned in 945";

/** chance at which a claim is made, as in the default rule of ISO 14253-1:2017 */
export const sureEnough = 0.95;

/** Turns simulated flatness figures (µm) into a prediction. */
export function predictionOf(drawnUm: readonly number[], toleranceUm: number, guardUm: number): PredictedFlatness {
  const sorted = drawnUm.toSorted((a, b) => a - b);
  const within = (limit: number) => sorted.filter((f) => f <= limit).length / sorted.length;
  return {
    estimate: um(quantileOf(sorted, 0.5)),
    low: um(quantileOf(sorted, 0.025)),
    high: um(quantileOf(sorted, 0.975)),
    chanceToMeet: within(toleranceUm),
    chanceToProve: within(toleranceUm - guardUm),
    reaches: um(quantileOf(sorted, sureEnough)),
  };
}

/** The last branch is the cautious one. */
export function verdictOf(prediction: PredictedFlatness | undefined): OptionVerdict {
  if (!prediction) return "can't be judged";
  if (prediction.chanceToMeet >= sureEnough) return "conforms";
  if (prediction.chanceToMeet <= 1 - sureEnough) return "does not conform";
  return "not decided";
}

/** "97 %", "above 99 %": a simulation does not tell the last per cent. */
export function chanceText(chance: number): string {
  if (chance > 0.99) return "above 99 %";
  if (chance < 0.01) return "below 1 %";
  return `${(100 * chance).toFixed(0)} %`;
}
