import { Quantity } from "../quantity/index.js";
import { correlated, input, type Measured } from "../uncertainty/index.js";
import type { SettlingFit } from "./settling-fit.js";

/** @internal the parameters of a fit as correlated results: a joint t with the degrees of freedom of the fit */
export function measuredParameters(
  name: string,
  { parameters, covariance, degreesOfFreedom }: SettlingFit,
): readonly Measured<"number">[] {
  const u = covariance.map((row, k) => Math.sqrt(row[k]!));
  const inputs = parameters.map((value, k) =>
    input.t({
      label: `${name}: ${k === 0 ? "start" : `${k % 2 === 1 ? "size" : "time constant"} ${(k + 1) >> 1}`}`,
      estimate: Quantity.fromSi("number", value),
      standardUncertainty: Quantity.fromSi("number", u[k]!),
      degreesOfFreedom,
      source: "fit to the record",
    }),
  );
  const r = covariance.map((row, i) =>
    row.map((_, j) => {
      const [low, high] = i < j ? [i, j] : [j, i];
      return i === j ? 1 : Math.min(1, Math.max(-1, covariance[low]![high]! / (u[low]! * u[high]!)));
    }),
  );
  return correlated(inputs, r, { degreesOfFreedom });
}

/** @internal what the reader should know of a fit */
export function notesOf(
  { lagCorrelation, widened, evidence }: SettlingFit,
  last: number,
  slowest: number,
): readonly string[] {
  const shares = evidence
    .filter(({ share }) => share > 0.01)
    .map(({ model, share }) => `${model} ${Math.round(100 * share)} %`);
  return [
    `evidence among the curves tried: ${shares.join(", ")}`,
    ...(widened > 1
      ? [
          `the residuals follow each other (correlation ${lagCorrelation.toFixed(2)}); standard errors were widened by ${widened.toFixed(2)}`,
        ]
      : []),
    ...(last < 2 * slowest
      ? ["the record is shorter than two time constants: what lies beyond it rests on the curve alone"]
      : []),
  ];
}
