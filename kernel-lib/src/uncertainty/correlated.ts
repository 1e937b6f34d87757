import { MeasurementError } from "../measurement-error.js";
import { semidefiniteFactor } from "../numerics/index.js";
import { plain, Quantity } from "../quantity/index.js";
import { counted } from "../words.js";
import { CorrelatedGroup } from "./correlated-group.js";
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
 * Together they follow a joint normal law, whatever law each had alone: of several correlated inputs no more than u and
 * r is known. Values read at the same time, n times each, have ν = n − 1 in common: give `degreesOfFreedom`, or let all
 * inputs state the same. Then it is a joint t, and the group is one line of the Welch–Satterthwaite formula. Where the
 * inputs state different ν and none is given for the group, no rule gives ν of the result: the least is taken, and the
 * budget says so.
 * In a table the first input stands whole and each later one as the part of its own; the split depends on the order.
 *
 * @param inputs two or more inputs
 * @param coefficients the symmetric matrix of correlation coefficients, ones on the diagonal; ±1 is allowed
 * @param options `degreesOfFreedom` of the spreads of the whole group
 * @throws MeasurementError `correlation`
 * @see JCGM 100:2008, 5.2 and H.2; JCGM 101:2008, 6.4.8
 * @example
 * correlated([
 *   input.normal({ label: "a", estimate: mm(1), standardUncertainty: um(1) }),
 *   input.normal({ label: "b", estimate: mm(1), standardUncertainty: um(1) }),
 * ], [[1, 0.5], [0.5, 1]]).length // => 2
 */
export function correlated<const I extends readonly AnyInput[]>(
  inputs: I,
  coefficients: readonly (readonly number[])[],
  options: { readonly degreesOfFreedom?: number } = {},
): AsMeasured<I> {
  checkInputs(inputs);
  checkCoefficients(inputs, coefficients);
  const factor = semidefiniteFactor(coefficients);
  if (typeof factor === "number") {
    throw new MeasurementError(
      "correlation",
      `correlated: the coefficients contradict each other (the matrix is not positive semidefinite): what "${inputs[factor]!.label}" shares with the inputs before it is more than its whole variance; check signs, or take them all from the same readings`,
    );
  }
  const least = Math.min(...inputs.map((input) => input.degreesOfFreedom));
  const agreed = inputs.every((input) => input.degreesOfFreedom === least);
  const { degreesOfFreedom = least } = options;
  const covariance = coefficients.map((row, i) =>
    row.map((r, j) => r * inputs[i]!.uncertaintySi * inputs[j]!.uncertaintySi),
  );
  const group = new CorrelatedGroup(
    inputs,
    covariance,
    degreesOfFreedom,
    agreed || options.degreesOfFreedom !== undefined,
  );
  const parts = inputs.map((input, k) => partOf(input, k, group));
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

function partOf({ label, evaluation, source }: AnyInput, k: number, group: CorrelatedGroup): Input<"number"> {
  return new Input({
    label: k === 0 ? label : `${label}, the part of its own`,
    estimate: plain(0),
    standardUncertainty: plain(1),
    distribution: "normal",
    evaluation,
    source,
    degreesOfFreedom: group.degreesOfFreedom,
    group,
  });
}

function checkInputs(inputs: readonly AnyInput[]): void {
  const copied = inputs.find((input, i) => inputs.indexOf(input) !== i);
  if (copied) {
    throw new MeasurementError(
      "correlation",
      `correlated: "${copied.label}" stands twice in the list; an input is wholly correlated with itself, name it once`,
    );
  }
  if (inputs.length >= 2) return;
  throw new MeasurementError("correlation", `correlated: ${counted(inputs.length, "input")}; give two at least`);
}

function checkCoefficients(inputs: readonly AnyInput[], coefficients: readonly (readonly number[])[]): void {
  const count = inputs.length;
  const refuse = (what: string): never => {
    throw new MeasurementError("correlation", `correlated: ${what}`);
  };
  if (coefficients.length !== count || coefficients.some((row) => row.length !== count)) {
    refuse(
      `${count} inputs need a ${count} × ${count} matrix of coefficients, given are rows of ${coefficients.map((row) => row.length).join(", ") || "nothing"}; write one row for each input`,
    );
  }
  coefficients.forEach((row, i) => {
    row.forEach((r, j) => {
      const where = `row ${i + 1}, column ${j + 1}`;
      if (!(Math.abs(r) <= 1)) refuse(`${where} is ${r}; a correlation coefficient lies between −1 and 1`);
      if (i === j && r !== 1) refuse(`${where} is ${r}; an input is wholly correlated with itself, write 1`);
      const mirrored = coefficients[j]![i]!;
      if (r !== mirrored)
        refuse(`${where} is ${r}, but row ${j + 1}, column ${i + 1} is ${mirrored}; both are the same r`);
    });
  });
}
