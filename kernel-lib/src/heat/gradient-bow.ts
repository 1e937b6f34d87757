import { Quantity } from "../quantity/index.js";
import { type Budget, budget } from "../uncertainty/index.js";
import { type Known, type Material, needKnown } from "./material.js";

/**
 * Bow of a free plate or table that is warmer on top than underneath: α ΔT L² / (8 t), the middle above the line through
 * the ends. Positive: the middle stands high. Held down, it bows less.
 *
 * @param spec `difference` = temperature of the top less that of the underside, across the whole thickness and evenly
 * spread along the length
 * @throws MeasurementError `heat-value`
 * @see Roark's Formulas for Stress and Strain, beams with a temperature difference through the depth, from memory
 * @example
 * heat.gradientBow({
 *   length: mm(500), thickness: mm(20), material: heat.material("aluminium 6061"), difference: kelvin(1),
 * }).in("um") // => 36.875
 */
export function gradientBow(spec: {
  readonly length: Known<"length">;
  readonly thickness: Known<"length">;
  readonly material: Material;
  readonly difference: Known<"temperature difference">;
}): Budget<"length"> {
  const { length, thickness, material, difference } = spec;
  needKnown("gradientBow", "length", length, "length", true);
  needKnown("gradientBow", "thickness", thickness, "length", true);
  needKnown("gradientBow", "difference", difference, "temperature difference");
  return budget({
    measurand: `bow of the ${material.name} with its top warmer than its underside`,
    inputs: { length, thickness, expansion: material.expansion, difference },
    model: (given) =>
      Quantity.fromSi(
        "length",
        (given.expansion.si * given.difference.si * given.length.si ** 2) / (8 * given.thickness.si),
      ),
  });
}
