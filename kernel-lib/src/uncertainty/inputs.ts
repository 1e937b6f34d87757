import { MeasurementError } from "../measurement-error.js";
import { type Difference, type Kind, Quantity } from "../quantity/index.js";
import { type Distribution, Input } from "./input.js";

/** What every constructor takes. */
export interface InputNotes {
  /** as it will stand in the budget table */
  readonly label: string;
  /** where the figure comes from; "not stated" is printed when left out */
  readonly source?: string;
  /** of the uncertainty itself; left out: exactly known. A doubt of 25 % of u is 8 (JCGM 100, G.4.2) */
  readonly degreesOfFreedom?: number;
}

/** An estimate that lies within ± `halfWidth`. */
export interface Limits<K extends Kind> extends InputNotes {
  readonly estimate: Quantity<K>;
  readonly halfWidth: Quantity<Difference<K>>;
}

/** An estimate with a standard uncertainty, or with U and its k from a certificate. */
export type Spread<K extends Kind> = InputNotes & { readonly estimate: Quantity<K> } & (
    | { readonly standardUncertainty: Quantity<Difference<K>> }
    | { readonly expandedUncertainty: Quantity<Difference<K>>; readonly coverageFactor: number }
  );

/**
 * Normal input: a standard uncertainty, or U and k of a certificate.
 *
 * @example
 * `${input.normal({ label: "block", estimate: mm(50), expandedUncertainty: um(0.2), coverageFactor: 2 }).standardUncertainty}` // => "0.1 µm"
 */
export function normal<K extends Kind>(spec: Spread<K>): Input<K> {
  if ("standardUncertainty" in spec) return make(spec, "normal", spec.estimate, spec.standardUncertainty);
  if (!(spec.coverageFactor > 0)) {
    throw new MeasurementError(
      "input",
      `input "${spec.label}": coverage factor ${spec.coverageFactor}; give the k of the certificate, usually 2`,
    );
  }
  return make(spec, "normal", spec.estimate, divided(spec.expandedUncertainty, spec.coverageFactor));
}

/** Any value within the limits as likely as any other: u = half-width / √3. @see JCGM 100, 4.3.7
 * @example `${input.rectangular({ label: "scale", estimate: um(0), halfWidth: um(3) }).standardUncertainty}` // => "1.73205 µm" */
export function rectangular<K extends Kind>(spec: Limits<K>): Input<K> {
  return make(spec, "rectangular", spec.estimate, divided(spec.halfWidth, Math.sqrt(3)));
}

/** Values near the middle of the limits likelier: u = half-width / √6. @see JCGM 100, 4.3.9
 * @example `${input.triangular({ label: "set by eye", estimate: um(0), halfWidth: um(6) }).standardUncertainty}` // => "2.44949 µm" */
export function triangular<K extends Kind>(spec: Limits<K>): Input<K> {
  return make(spec, "triangular", spec.estimate, divided(spec.halfWidth, Math.sqrt(6)));
}

/** A swing to and fro, such as a thermostat's: u = half-width / √2. @see JCGM 101, 6.4.6
 * @example `${input.arcsine({ label: "thermostat", estimate: degC(20), halfWidth: kelvin(0.5) }).standardUncertainty}` // => "0.353553 K" */
export function arcsine<K extends Kind>(spec: Limits<K>): Input<K> {
  return make(spec, "arcsine", spec.estimate, divided(spec.halfWidth, Math.sqrt(2)));
}

/** A mean whose spread is known from few readings: s/√n with its ν. @see JCGM 101, 6.4.9
 * @example input.t({ label: "mean", estimate: um(4), standardUncertainty: um(1), degreesOfFreedom: 4 }).distribution // => "t" */
export function t<K extends Kind>(
  spec: InputNotes & {
    readonly estimate: Quantity<K>;
    readonly standardUncertainty: Quantity<Difference<K>>;
    readonly degreesOfFreedom: number;
  },
): Input<K> {
  return make(spec, "t", spec.estimate, spec.standardUncertainty);
}

/**
 * Type A: the mean of repeated readings, u = s/√n with ν = n − 1, never below resolution/√12.
 *
 * @throws MeasurementError `too-few-readings` for fewer than two; `no-spread` when all are equal and no resolution is given
 * @see JCGM 100, 4.2
 * @example
 * input.fromReadings({ label: "gap", readings: [um(10), um(12), um(11)] }).degreesOfFreedom // => 2
 */
export function fromReadings<K extends Kind>(
  spec: Omit<InputNotes, "degreesOfFreedom"> & {
    readonly readings: readonly Quantity<K>[];
    /** smallest step of the display */
    readonly resolution?: Quantity<Difference<K>>;
  },
): Input<K> {
  const { label, readings, resolution, source = `${readings.length} readings` } = spec;
  const [first] = readings;
  if (first === undefined || readings.length < 2) {
    throw new MeasurementError(
      "too-few-readings",
      `input "${label}": ${readings.length} reading(s); a scatter needs two at least, better five`,
    );
  }
  const n = readings.length;
  const mean = readings.reduce((sum, r) => sum + r.si, 0) / n;
  const s = Math.sqrt(readings.reduce((sum, r) => sum + (r.si - mean) ** 2, 0) / (n - 1));
  const fromScatter = s / Math.sqrt(n);
  const fromSteps = (resolution?.si ?? 0) / Math.sqrt(12);
  if (!(Math.max(fromScatter, fromSteps) > 0)) {
    throw new MeasurementError(
      "no-spread",
      `input "${label}": all ${n} readings are ${first}; the steps of the display hide the scatter, give its resolution`,
    );
  }
  const kind = first.kind === "temperature" ? "temperature difference" : first.kind;
  return new Input<K>({
    label,
    source,
    estimate: Quantity.fromSi(first.kind, mean),
    standardUncertainty: Quantity.fromSi(kind, Math.max(fromScatter, fromSteps)) as Quantity<Difference<K>>,
    distribution: fromScatter >= fromSteps ? "t" : "rectangular",
    degreesOfFreedom: fromScatter >= fromSteps ? n - 1 : Number.POSITIVE_INFINITY,
    evaluation: fromScatter >= fromSteps ? "A" : "B",
  });
}

function make<K extends Kind>(
  notes: InputNotes,
  distribution: Distribution,
  estimate: Quantity<K>,
  standardUncertainty: Quantity<Difference<K>>,
): Input<K> {
  const { label, source = "not stated", degreesOfFreedom = Number.POSITIVE_INFINITY } = notes;
  return new Input({ label, source, degreesOfFreedom, estimate, standardUncertainty, distribution, evaluation: "B" });
}

function divided<D extends Kind>(quantity: Quantity<D>, by: number): Quantity<D> {
  return Quantity.fromSi(quantity.kind, quantity.si / by);
}
