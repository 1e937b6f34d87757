import { MeasurementError } from "../measurement-error.js";
import { type Difference, type Kind, Quantity } from "../quantity/index.js";
import type { Input } from "./input.js";
import { type InputNotes, inputOfLaw, widthSi } from "./input-notes.js";

/** A value that lies within limits: an estimate ± `halfWidth`, or from `lower` to `upper`. */
export type Limits<K extends Kind> = InputNotes &
  (
    | { readonly estimate: Quantity<K>; readonly halfWidth: Quantity<Difference<K>> }
    | { readonly lower: Quantity<K>; readonly upper: Quantity<K> }
  );

/** Any value within the limits as likely as any other: u = half-width / √3. @see JCGM 100, 4.3.7
 * @example `${input.rectangular({ label: "scale", estimate: um(0), halfWidth: um(3) }).standardUncertainty}` // => "1.73205 µm" */
export function rectangular<K extends Kind>(spec: Limits<K>): Input<K> {
  const { kind, location, halfWidth } = opened(spec);
  return inputOfLaw(spec, kind, { name: "rectangular", location, halfWidth });
}

/** Values near the middle of the limits likelier: u = half-width / √6. @see JCGM 100, 4.3.9
 * @example `${input.triangular({ label: "set by eye", lower: um(-6), upper: um(6) }).standardUncertainty}` // => "2.44949 µm" */
export function triangular<K extends Kind>(spec: Limits<K>): Input<K> {
  const { kind, location, halfWidth } = opened(spec);
  return inputOfLaw(spec, kind, { name: "triangular", location, halfWidth });
}

/** A swing to and fro, such as a thermostat's: u = half-width / √2. @see JCGM 101, 6.4.6
 * @example `${input.arcsine({ label: "thermostat", estimate: degC(20), halfWidth: kelvin(0.5) }).standardUncertainty}` // => "0.353553 K" */
export function arcsine<K extends Kind>(spec: Limits<K>): Input<K> {
  const { kind, location, halfWidth } = opened(spec);
  return inputOfLaw(spec, kind, { name: "arcsine", location, halfWidth });
}

/**
 * Any value within ± `topHalfWidth` equally likely, less and less out to the limits: the sum of two rectangular ones.
 * u = √((half-width² + top half-width²) / 6).
 *
 * @throws MeasurementError `input`
 * @see JCGM 100:2008, 4.3.9; JCGM 101:2008, 6.4.4
 * @example
 * `${input.trapezoidal({ label: "two roundings", estimate: um(0), halfWidth: um(3), topHalfWidth: um(1) }).standardUncertainty}` // => "1.29099 µm"
 */
export function trapezoidal<K extends Kind>(
  spec: Limits<K> & { readonly topHalfWidth: Quantity<Difference<K>> },
): Input<K> {
  const { kind, location, halfWidth } = opened(spec);
  const topHalfWidth = widthSi(spec.label, "the half-width of its top", kind, spec.topHalfWidth, "zero or more");
  needInside(spec.label, "the top", topHalfWidth <= halfWidth, "give a top no wider than the limits");
  return inputOfLaw(spec, kind, { name: "trapezoidal", location, halfWidth, topHalfWidth });
}

/**
 * Limits that are themselves known to ± `limitDoubt` only ("about ± 3 µm, perhaps ± 2, perhaps ± 4"): a curvilinear
 * trapezoid. u = √(half-width² / 3 + limit doubt² / 9).
 *
 * The doubt of the limits is in u and in the law; state degrees of freedom besides only for doubt beyond it.
 *
 * @throws MeasurementError `input`
 * @see JCGM 101:2008, 6.4.3
 * @example
 * `${input.inexactLimits({ label: "plate to gauge", estimate: kelvin(0), halfWidth: kelvin(0.05), limitDoubt: kelvin(0.025) }).standardUncertainty}` // => "0.0300463 K"
 */
export function inexactLimits<K extends Kind>(
  spec: Limits<K> & { readonly limitDoubt: Quantity<Difference<K>> },
): Input<K> {
  const { kind, location, halfWidth } = opened(spec);
  const limitDoubt = widthSi(spec.label, "the doubt of its limits", kind, spec.limitDoubt, "zero or more");
  needInside(
    spec.label,
    "the doubt of the limits",
    limitDoubt <= halfWidth,
    "give a doubt no greater than the half-width",
  );
  return inputOfLaw(spec, kind, { name: "curvilinear trapezoid", location, halfWidth, limitDoubt });
}

function opened<K extends Kind>(spec: Limits<K>): { kind: K; location: number; halfWidth: number } {
  const { label } = spec;
  if ("halfWidth" in spec) {
    if (!(spec.estimate instanceof Quantity)) {
      throw new MeasurementError(
        "input",
        `input "${label}": its estimate is ${String(spec.estimate)}; give a quantity, such as um(12)`,
      );
    }
    const { kind, si } = spec.estimate;
    return { kind, location: si, halfWidth: widthSi(label, "its half-width", kind, spec.halfWidth) };
  }
  const { lower, upper } = spec;
  const right = lower instanceof Quantity && upper instanceof Quantity && lower.kind === upper.kind;
  if (!right) {
    throw new MeasurementError(
      "input",
      `input "${label}": its limits are ${String(lower)} and ${String(upper)}; give two quantities of one kind, or an estimate and a half-width`,
    );
  }
  if (!(lower.si < upper.si)) {
    throw new MeasurementError(
      "input",
      `input "${label}": the lower limit ${lower} is not below the upper limit ${upper}; exchange them`,
    );
  }
  return { kind: lower.kind, location: (lower.si + upper.si) / 2, halfWidth: (upper.si - lower.si) / 2 };
}

function needInside(label: string, what: string, inside: boolean, todo: string): void {
  if (inside) return;
  throw new MeasurementError("input", `input "${label}": ${what} reaches beyond the half-width; ${todo}`);
}
