import { Quantity } from "./quantity.js";

/** What was given for a size, as a refusal says it: sizes are given in mm, so that a length of zero is "0 mm". */
export function sizeText(given: unknown): string {
  return given instanceof Quantity && given.kind === "length" && given.si === 0 ? "0 mm" : String(given);
}
