import { degC, Quantity } from "../quantity/index.js";
import { type Budget, budget } from "../uncertainty/index.js";
import { type Known, type Material, needKnown } from "./material.js";

/** Reference temperature of lengths. @see ISO 1:2022 */
export const referenceTemperature = degC(20);

/**
 * How much longer a part gets when it warms: L α ΔT, with the uncertainty of all three.
 *
 * @param spec `warming` is a temperature difference; negative where it cools
 * @throws MeasurementError `heat-value`
 * @example
 * heat.growth({ length: mm(1000), material: heat.material("steel"), warming: kelvin(10) }).in("um") // => 115
 */
export function growth(spec: {
  readonly length: Known<"length">;
  readonly material: Material;
  readonly warming: Known<"temperature difference">;
  /** what is measured, for the sentence */
  readonly measurand?: string;
}): Budget<"length"> {
  const { length, material, warming, measurand = `growth of the ${material.name}` } = spec;
  needKnown("growth", "length", length, "length", true);
  needKnown("growth", "warming", warming, "temperature difference");
  return budget({
    measurand,
    inputs: { length, expansion: material.expansion, warming },
    model: (given) => Quantity.fromSi("length", given.length.si * given.expansion.si * given.warming.si),
  });
}

/** A part and the temperature it is at. */
export interface AtTemperature {
  readonly material: Material;
  readonly temperature: Known<"temperature">;
}

/**
 * Length that a part would have at 20 °C, from what was read at another temperature.
 *
 * With `scale` the reading is that of a scale, caliper or stack of blocks that is itself at another temperature than 20 °C
 * and graduated for 20 °C: L₂₀ = L (1 + α_s (T_s − 20 °C)) / (1 + α (T − 20 °C)). Without it the reading is taken as the
 * true length at the temperature of the part.
 *
 * @throws MeasurementError `heat-value`
 * @see ISO 1:2022; JCGM 100:2008, H.1, where the same correction is made to first order
 * @example
 * heat.lengthAt20({ indicated: mm(500), part: { material: heat.material("aluminium 6061"), temperature: degC(25) } }).in("mm").toFixed(4) // => "499.9410"
 */
export function lengthAt20(spec: {
  readonly indicated: Known<"length">;
  readonly part: AtTemperature;
  readonly scale?: AtTemperature;
}): Budget<"length"> {
  const { indicated, part, scale } = spec;
  needKnown("lengthAt20", "indicated", indicated, "length", true);
  needKnown("lengthAt20", "temperature of the part", part.temperature, "temperature");
  const grown = (alpha: Quantity<"expansion coefficient">, at: Quantity<"temperature">) =>
    1 + alpha.si * (at.si - referenceTemperature.si);
  const own = { indicated, expansion: part.material.expansion, temperature: part.temperature };
  if (!scale) {
    return budget({
      measurand: `length of the ${part.material.name} at 20 °C`,
      inputs: own,
      model: (given) => Quantity.fromSi("length", given.indicated.si / grown(given.expansion, given.temperature)),
    });
  }
  needKnown("lengthAt20", "temperature of the scale", scale.temperature, "temperature");
  return budget({
    measurand: `length of the ${part.material.name} at 20 °C`,
    inputs: { ...own, scaleExpansion: scale.material.expansion, scaleTemperature: scale.temperature },
    model: (given) =>
      Quantity.fromSi(
        "length",
        (given.indicated.si * grown(given.scaleExpansion, given.scaleTemperature)) /
          grown(given.expansion, given.temperature),
      ),
  });
}
