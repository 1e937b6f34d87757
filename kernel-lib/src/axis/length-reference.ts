import { MeasurementError } from "../measurement-error.js";
import {
  type ExpansionCoefficient,
  Quantity,
  type Slope,
  type Temperature,
  type TemperatureDifference,
} from "../quantity/index.js";
import { type Input, input } from "../uncertainty/index.js";

/** What a positioning test is measured against. A dial cannot see 300 mm: blocks, a step bar or a scale carry the length. */
export interface LengthReference {
  /** "gauge blocks, grade 2", "glass scale" */
  readonly name: string;
  /** ± error of its length in parts of the length, from its certificate or grade */
  readonly scaleLimit?: Slope;
  /** how far it may lie out of line with the travel, ±; gives the cosine error */
  readonly alignmentLimit?: Slope;
  /** mean temperature of reference and screw */
  readonly temperature?: Temperature;
  /** how far reference and screw may differ in temperature, ± */
  readonly temperatureDifferenceLimit?: TemperatureDifference;
  /** how far their expansion coefficients may differ, ±; acts on the distance from 20 °C */
  readonly expansionDifferenceLimit?: ExpansionCoefficient;
}

/** steel, 11.5 · 10⁻⁶/K (from memory, checked against tables of materials) */
const steelPerKelvin = 11.5e-6;

/**
 * The inputs that a reference brings into every figure that grows with the travel, as parts of the length. Readings are
 * not corrected to 20 °C: reference and screw are taken to grow alike, and the doubt of that is an input.
 *
 * @throws MeasurementError `reference` for a name or a limit that is missing its value
 * @see ISO 1; ISO 230-2:2014, clause on compensation for temperature (from memory)
 * @example
 * axis.referenceInputs({ name: "blocks", scaleLimit: slope(um(1), mm(100)) }).map((i) => i.label).join() // => "blocks, length"
 */
export function referenceInputs(reference: LengthReference): readonly Input<"slope">[] {
  const { name, scaleLimit, alignmentLimit, temperature, temperatureDifferenceLimit, expansionDifferenceLimit } =
    reference;
  if (typeof name !== "string" || name.trim() === "") {
    throw new MeasurementError(
      "reference",
      "referenceInputs: the reference has no name; say what carries the length, such as gauge blocks or a glass scale",
    );
  }
  const cosine = (alignmentLimit?.si ?? 0) ** 2 / 2;
  const away = temperature === undefined ? 0 : Math.abs(temperature.in("degC") - 20);
  return [
    limits(`${name}, length`, scaleLimit?.si ?? 0, "certificate or grade of the reference, ±"),
    limits(
      `${name}, alignment`,
      cosine,
      `out of line by up to ${alignmentLimit?.text("mm/m")}: the cosine error, taken as ±`,
    ),
    limits(
      `${name} and screw, temperature`,
      steelPerKelvin * (temperatureDifferenceLimit?.si ?? 0),
      `± ${temperatureDifferenceLimit} between them, steel 11.5 µm/(m·K)`,
    ),
    limits(
      `${name} and screw, expansion`,
      (expansionDifferenceLimit?.si ?? 0) * away,
      `± ${expansionDifferenceLimit} between them, ${away.toFixed(1)} K away from 20 °C`,
    ),
  ].filter((made) => made !== undefined);
}

/** What the reference leaves unsaid: each line names one thing that is in no uncertainty. */
export function unsaidOf(reference: LengthReference): readonly string[] {
  const unsaid = [
    reference.scaleLimit ? "" : "the error of its length",
    reference.alignmentLimit ? "" : "how well it lies in line",
    reference.temperature && reference.temperatureDifferenceLimit ? "" : "its temperature against that of the screw",
  ].filter((words) => words !== "");
  return unsaid.length === 0 ? [] : [`of ${reference.name} nothing is said about ${unsaid.join(", ")}: in no U here`];
}

function limits(label: string, half: number, source: string): Input<"slope"> | undefined {
  if (half === 0) return undefined;
  const zero = Quantity.fromSi("slope", 0);
  return input.rectangular({ label, estimate: zero, halfWidth: Quantity.fromSi("slope", Math.abs(half)), source });
}
