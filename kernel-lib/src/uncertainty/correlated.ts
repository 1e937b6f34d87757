import { MeasurementError } from "../measurement-error.js";
import { cholesky } from "../numerics/index.js";
import { plain, Quantity } from "../quantity/index.js";
import { type AnyInput, Input } from "./input.js";
import { Measured } from "./measured.js";

/** The results that a list of inputs becomes. */
export type AsMeasured<I extends readonly AnyInput[]> = {
  readonly [P in keyof I]: I[P] extends { readonly estimate: Quantity<infer K> } ? Measured<K> : never;
};

/**
 * Inputs that are correlated: each is written as a sum of independent parts (Cholesky), so that every budget, every
 * difference and every coverage factor downstream sees the correlation without being told.
 *
 * Their spreads count as one estimate with the least of their degrees of freedom, as for values read at the same time.
 * In a table the first input stands whole and each later one as the part of its own; the split depends on the order.
 *
 * @param inputs two or more inputs
 * @param coefficients the symmetric matrix of correlation coefficients, ones on the diagonal
 * @throws MeasurementError `correlation`, `not-positive-definite`
 * @see JCGM 100:2008, 5.2 and H.2
 * @example
 * correlated([
 *   input.normal({ label: "a", estimate: mm(1), standardUncertainty: um(1) }),
 *   input.normal({ label: "b", estimate: mm(1), standardUncertainty: um(1) }),
 * ], [[1, 0.5], [0.5, 1]]).length // => 2
 */
export function correlated<const I extends readonly AnyInput[]>(
  inputs: I,
  coefficients: readonly (readonly number[])[],
): AsMeasured<I> {
  checkCoefficients(inputs, coefficients);
  const factor = cholesky(coefficients);
  const group = {};
  const degreesOfFreedom = Math.min(...inputs.map((input) => input.degreesOfFreedom));
  const parts = inputs.map(
    ({ label, distribution, evaluation, source }, k) =>
      new Input({
        label: k === 0 ? label : `${label}, the part of its own`,
        estimate: plain(0),
        standardUncertainty: plain(1),
        distribution,
        evaluation,
        source,
        degreesOfFreedom,
        group,
      }),
  );
  return inputs.map((input, i) =>
    Measured.of(
      Quantity.fromSi(input.estimate.kind, input.estimate.si),
      parts.map((part, k) => ({
        input: part,
        sensitivity: factor[i]![k]! * input.uncertaintySi,
      })),
    ),
  ) as AsMeasured<I>;
}

function checkCoefficients(inputs: readonly AnyInput[], coefficients: readonly (readonly number[])[]): void {
  const right =
    coefficients.length === inputs.length &&
    coefficients.every(
      (row, i) =>
        row.length === inputs.length &&
        row[i] === 1 &&
        row.every((r, j) => r === coefficients[j]?.[i] && Math.abs(r) <= 1),
    );
  if (right) return;
  throw new MeasurementError(
    "correlation",
    `correlated: the coefficients of ${inputs.length} inputs are not a symmetric ${inputs.length} × ${inputs.length} matrix with ones on the diagonal and no entry beyond ±1; write one row for each input`,
  );
}
