import { MeasurementError } from "../measurement-error.js";
import { tQuantile } from "../numerics/index.js";
import type { Difference, Kind, Quantity } from "../quantity/index.js";
import { Input } from "./input.js";
import { differenceOf, type InputNotes, inputOfLaw, statedDegreesOfFreedom, widthSi } from "./input-notes.js";
import type { PlainDistribution } from "./law.js";

/** An estimate with a standard uncertainty, or with U and its k from a certificate. */
export type Spread<K extends Kind> = InputNotes & { readonly estimate: Quantity<K> } & (
    | { readonly standardUncertainty: Quantity<Difference<K>> }
    | { readonly expandedUncertainty: Quantity<Difference<K>>; readonly coverageFactor: number }
  );

/**
 * Normal input: a standard uncertainty, or U and k of a certificate. With degrees of freedom stated it is Student's t.
 *
 * @example
 * `${input.normal({ label: "block", estimate: mm(50), expandedUncertainty: um(0.2), coverageFactor: 2 }).standardUncertainty}` // => "0.1 µm"
 */
export function normal<K extends Kind>(spec: Spread<K>): Input<K> {
  if ("standardUncertainty" in spec) return make(spec, "normal", spec.estimate, spec.standardUncertainty);
  return fromCertificate(spec);
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
 * What a certificate states: U with its k, or U with its level of confidence (and ν, where it is printed).
 *
 * u = U / k; where the level is given k is the quantile of Student's t for ν, of the normal law without. Where the
 * certificate prints k and ν both, give both.
 *
 * @throws MeasurementError `input`
 * @see JCGM 100:2008, 4.3.3 to 4.3.5 and G.3.4
 * @example
 * `${input.fromCertificate({ label: "block", estimate: mm(50), expandedUncertainty: um(0.15), level: 0.99 }).standardUncertainty.text("nm")}` // => "58.2337 nm"
 */
export function fromCertificate<K extends Kind>(
  spec: InputNotes & { readonly estimate: Quantity<K>; readonly expandedUncertainty: Quantity<Difference<K>> } & (
      | { readonly coverageFactor: number }
      | { readonly level: number }
    ),
): Input<K> {
  const { label, estimate, expandedUncertainty } = spec;
  const U = widthSi(label, "its expanded uncertainty", estimate.kind, expandedUncertainty);
  const k = "level" in spec ? factorOf(label, spec.level, statedDegreesOfFreedom(spec)) : spec.coverageFactor;
  if (!(k > 0 && k < Number.POSITIVE_INFINITY)) {
    throw new MeasurementError(
      "input",
      `input "${label}": coverage factor ${k}; give the k of the certificate, usually 2`,
    );
  }
  return make(spec, "normal", estimate, differenceOf(estimate.kind, U / k));
}

/**
 * A normal input that cannot lie beyond a limit: a flatness below zero, a clearance beyond the slot. The estimate and u of
 * the input are mean and standard deviation of what is left, not those given.
 *
 * @param spec estimate and standard uncertainty before the cut; `lower`, `upper` or both
 * @throws MeasurementError `input` for no limit, crossed limits, or limits more than 6 u away from the estimate on one side
 * @see JCGM 101:2008, 6.3 (maximum entropy); Johnson, Kotz and Balakrishnan 1994, 10.1
 * @example
 * `${input.truncatedNormal({ label: "play", estimate: um(0), standardUncertainty: um(10), lower: um(0) }).estimate}` // => "7.97885 µm"
 */
export function truncatedNormal<K extends Kind>(
  spec: InputNotes & {
    readonly estimate: Quantity<K>;
    readonly standardUncertainty: Quantity<Difference<K>>;
    readonly lower?: Quantity<K>;
    readonly upper?: Quantity<K>;
  },
): Input<K> {
  const { label, estimate, standardUncertainty, lower, upper } = spec;
  const { kind, si: location } = estimate;
  const standardDeviation = widthSi(label, "its uncertainty", kind, standardUncertainty);
  const from = lower?.si ?? Number.NEGATIVE_INFINITY;
  const to = upper?.si ?? Number.POSITIVE_INFINITY;
  const refuse = (what: string): never => {
    throw new MeasurementError("input", `input "${label}": ${what}`);
  };
  if (lower === undefined && upper === undefined) refuse("no limit is given; give lower, upper or both, or use normal");
  if ([lower, upper].some((limit) => limit !== undefined && limit.kind !== kind)) {
    refuse(`a limit is no ${kind}; give it as the estimate is given`);
  }
  if (!(from < to)) refuse(`the lower limit ${lower} is not below the upper limit ${upper}; exchange them`);
  if (!(from < location + 6 * standardDeviation && to > location - 6 * standardDeviation)) {
    refuse(
      `the limits leave nothing of the law: ${lower ? `at least ${lower}` : `at most ${upper}`} lies more than 6 u from the estimate ${estimate}; correct the estimate, its u or the limit`,
    );
  }
  return inputOfLaw(spec, kind, {
    name: "truncated normal",
    location,
    standardDeviation,
    lower: from,
    upper: to,
  });
}

function factorOf(label: string, level: number, degreesOfFreedom: number): number {
  if (level > 0 && level < 1) return tQuantile(0.5 + level / 2, degreesOfFreedom);
  throw new MeasurementError(
    "input",
    `input "${label}": level ${level}; give the level of confidence of the certificate between 0 and 1, such as 0.95`,
  );
}

function make<K extends Kind>(
  notes: InputNotes,
  distribution: PlainDistribution,
  estimate: Quantity<K>,
  standardUncertainty: Quantity<Difference<K>>,
): Input<K> {
  const { label, source = "not stated" } = notes;
  const degreesOfFreedom = statedDegreesOfFreedom(notes);
  return new Input({ label, source, degreesOfFreedom, estimate, standardUncertainty, distribution, evaluation: "B" });
}
