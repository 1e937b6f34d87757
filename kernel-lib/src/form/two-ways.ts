import type { Measured } from "../uncertainty/index.js";

/**
 * Level reversal: a level read, turned end for end on the same feet and read again. Half the difference is the inclination,
 * half the sum the zero of the level; what both readings share cancels in one of the two.
 *
 * @param first as it read, mark towards the end that counts as up
 * @param turned as it read after it was turned
 * @example
 * const at = (value) => Measured.from(input.normal({ label: `reading ${value}`, estimate: umPerM(value), standardUncertainty: umPerM(2) }));
 * form.levelReversal(at(30), at(-10)).zero.in("um/m").toFixed(3) // => "10.000"
 */
export function levelReversal(
  first: Measured<"slope">,
  turned: Measured<"slope">,
): { readonly inclination: Measured<"slope">; readonly zero: Measured<"slope"> } {
  const back: Measured<"slope"> = turned.times(-1);
  return { inclination: first.plus(back).times(0.5), zero: first.plus(turned).times(0.5) };
}

/**
 * Sag of an indicator on its bar: the bar level, read on top of a true round bar and, turned half round, below it. On top the
 * sag pushes the plunger in, below it lets it out: half the difference is the sag.
 *
 * @param top reading above, positive = pushed in
 * @param below reading below, positive = pushed in
 * @example
 * const at = (value) => Measured.from(input.normal({ label: `reading ${value}`, estimate: um(value), standardUncertainty: um(1) }));
 * form.barSag(at(14), at(-10)).in("um").toFixed(3) // => "12.000"
 */
export function barSag(top: Measured<"length">, below: Measured<"length">): Measured<"length"> {
  return top.minus(below).times(0.5);
}
