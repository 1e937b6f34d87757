import { MeasurementError } from "../measurement-error.js";
import { type Difference, type Kind, Quantity } from "../quantity/index.js";
import { withArticle } from "../words.js";
import { Input } from "./input.js";
import { type Law, momentsOf } from "./law.js";

/** What every constructor takes. */
export interface InputNotes {
  /** as it will stand in the budget table */
  readonly label: string;
  /** where the figure comes from; "not stated" is printed when left out */
  readonly source?: string;
  /** of the uncertainty itself; left out: exactly known */
  readonly degreesOfFreedom?: number;
  /** instead of degrees of freedom: how far u itself may be wrong, 0.25 for 25 % of it (then ν = 8) */
  readonly relativeDoubt?: number;
}

/**
 * Degrees of freedom of a standard uncertainty that is itself believed to a part of its size: ν = ½ (Δu/u)⁻².
 *
 * @param relativeDoubt Δu/u, above 0 and below 0.7071 (there ν = 1)
 * @throws MeasurementError `degrees-of-freedom`
 * @see JCGM 100:2008, G.4.2
 * @example
 * uncertainty.degreesOfFreedomFromDoubt(0.25) // => 8
 */
export function degreesOfFreedomFromDoubt(relativeDoubt: number): number {
  const nu = 0.5 / relativeDoubt ** 2;
  // ν = 1 is the doubt of 1/√2 to the last bit but one
  if (relativeDoubt > 0 && nu >= 1 - 1e-12) return Math.max(nu, 1);
  throw new MeasurementError(
    "degrees-of-freedom",
    `degreesOfFreedomFromDoubt: a doubt of ${relativeDoubt} of u; give a part between 0 and 0.7, such as 0.25 for 25 %`,
  );
}

/** degrees of freedom as the notes state them, one way or the other */
export function statedDegreesOfFreedom({ label, degreesOfFreedom, relativeDoubt }: InputNotes): number {
  if (relativeDoubt === undefined) return degreesOfFreedom ?? Number.POSITIVE_INFINITY;
  if (degreesOfFreedom === undefined) return degreesOfFreedomFromDoubt(relativeDoubt);
  throw new MeasurementError(
    "input",
    `input "${label}": degrees of freedom ${degreesOfFreedom} and a relative doubt ${relativeDoubt} are both given; each follows from the other, leave one out`,
  );
}

/** A type B input with that law; estimate and u are its mean and standard deviation. */
export function inputOfLaw<K extends Kind>(notes: InputNotes, kind: K, law: Law): Input<K> {
  const { mean, standardUncertainty } = momentsOf(law);
  return new Input<K>({
    label: notes.label,
    source: notes.source ?? "not stated",
    degreesOfFreedom: statedDegreesOfFreedom(notes),
    estimate: Quantity.fromSi(kind, mean),
    standardUncertainty: differenceOf(kind, standardUncertainty),
    distribution: "normal",
    law,
    evaluation: "B",
  });
}

/** a quantity of the kind that differences of `kind` have */
export function differenceOf<K extends Kind>(kind: K, si: number): Quantity<Difference<K>> {
  const own: Kind = kind === "temperature" ? "temperature difference" : kind;
  return Quantity.fromSi(own, si) as Quantity<Kind> as Quantity<Difference<K>>;
}

/** The SI value of a width that has to be a quantity of the difference kind, and greater than zero where asked. */
export function widthSi<K extends Kind>(
  label: string,
  name: string,
  kind: K,
  given: Quantity<Difference<K>>,
  least: "above zero" | "zero or more" = "above zero",
): number {
  const expected = kind === "temperature" ? "temperature difference" : kind;
  const width = given as Quantity<Kind>;
  if (!(width instanceof Quantity) || width.kind !== expected) {
    throw new MeasurementError(
      "input",
      `input "${label}": ${name} is ${width instanceof Quantity ? withArticle(width.kind) : "no quantity"}; give ${withArticle(expected)}`,
    );
  }
  if (width.si > 0 || (least === "zero or more" && width.si === 0)) return width.si;
  throw new MeasurementError(
    "input",
    `input "${label}": ${name} is ${width}; give one ${least === "above zero" ? "greater than zero, or use the plain quantity where the value is exact" : "of zero or more"}`,
  );
}
