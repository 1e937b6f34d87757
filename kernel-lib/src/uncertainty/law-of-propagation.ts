import { MeasurementError } from "../measurement-error.js";
import { effectiveDegreesOfFreedom } from "./effective-degrees-of-freedom.js";
import { sensitivities } from "./sensitivities.js";

/** Independent inputs as plain numbers, each in the unit that the model wants. */
export interface NumberInputs {
  readonly estimates: ArrayLike<number>;
  readonly standardUncertainties: ArrayLike<number>;
  /** of the uncertainties; `Infinity` where one is exactly known */
  readonly degreesOfFreedom: ArrayLike<number>;
}

/** A result of plain numbers, in the unit of the model. */
export interface Propagated {
  readonly value: number;
  readonly standardUncertainty: number;
  /** |sensitivity| × u of each input */
  readonly contributions: readonly number[];
  /** Welch–Satterthwaite, not truncated */
  readonly effectiveDegreesOfFreedom: number;
}

/**
 * The law of propagation of uncertainty on plain numbers: for a formula that is worked out for very many sets of inputs.
 * A budget does the same with names, units and a table.
 *
 * @param model of the inputs in their order; the array is lent for the call
 * @throws MeasurementError `input` where an uncertainty is not above zero or the counts differ; `no-uncertainty` where
 * no input moves the result
 * @see JCGM 100:2008, 5.1.2 and G.4
 * @example
 * uncertainty.lawOfPropagation((x) => x[0] * x[1], { estimates: [3, 4], standardUncertainties: [0.3, 0.3], degreesOfFreedom: [8, 8] }).standardUncertainty.toFixed(6) // => "1.500000"
 */
export function lawOfPropagation(model: (inputs: ArrayLike<number>) => number, inputs: NumberInputs): Propagated {
  const { estimates, standardUncertainties, degreesOfFreedom } = inputs;
  checkCounts(inputs);
  const { value, sensitivities: slopes } = sensitivities(model, standardUncertainties, estimates);
  const contributions = slopes.map((slope, i) => Math.abs(slope) * standardUncertainties[i]!);
  const lines = contributions.map((contribution, i) => ({
    label: "",
    contribution,
    degreesOfFreedom: degreesOfFreedom[i]!,
  }));
  let variance = 0;
  for (const contribution of contributions) variance += contribution * contribution;
  return {
    value,
    standardUncertainty: Math.sqrt(variance),
    contributions,
    effectiveDegreesOfFreedom: effectiveDegreesOfFreedom(lines),
  };
}

function checkCounts({ estimates, standardUncertainties, degreesOfFreedom }: NumberInputs): void {
  const { length } = estimates;
  if (standardUncertainties.length !== length || degreesOfFreedom.length !== length) {
    throw new MeasurementError(
      "input",
      `lawOfPropagation: ${length} estimates, ${standardUncertainties.length} uncertainties and ${degreesOfFreedom.length} degrees of freedom; give as many of each`,
    );
  }
  for (let i = 0; i < length; i++) {
    const u = standardUncertainties[i]!;
    if (u > 0 && u < Number.POSITIVE_INFINITY && degreesOfFreedom[i]! >= 1) continue;
    throw new MeasurementError(
      "input",
      `lawOfPropagation: input ${i + 1} has u = ${u} and ${degreesOfFreedom[i]} degrees of freedom; give u above zero and 1 or more degrees of freedom`,
    );
  }
}
