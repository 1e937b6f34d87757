import type { Kind } from "../quantity/index.js";
import { contribution, type Measured } from "./measured.js";
import { coverageNote } from "./sentence.js";

/**
 * What speaks against the 95 % of a measured value's interval, in words, with the rate counted over simulated repeats: one flat
 * input above half of the variance, very few readings. Empty where nothing does.
 *
 * @param what the name of the value in the sentence
 * @see uncertainty.measuredCoverage
 * @example
 * const flat = Measured.from(input.rectangular({ label: "scale", estimate: um(0), halfWidth: um(3) }));
 * uncertainty.claimNote("slope", flat) // => "intervals of the slope are made for 95 %: the rectangular input \"scale\" makes up 100 % of the variance, so they hold it more often; counted over 10 000 repeats of the measurement, they hold it 100 times in 100"
 */
export function claimNote<K extends Kind>(what: string, result: Measured<K>): string {
  const secondOrderSi = Math.hypot(...result.terms.map(contribution));
  const note = coverageNote(result, { measurand: what, secondOrderSi, idle: [] });
  return note === "" ? "" : `intervals of the ${what} are made for 95 %: ${note}`;
}
