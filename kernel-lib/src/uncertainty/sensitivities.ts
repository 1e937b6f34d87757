/** First-order behaviour of a model about its estimates, on plain numbers. */
export interface Sensitivities {
  readonly value: number;
  /** ∂f/∂x_i */
  readonly sensitivities: readonly number[];
  /** bound of the error of each by the differences taken */
  readonly errorBounds: readonly number[];
}

/**
 * Sensitivities by central differences: steps of one, a half and a quarter of a standard uncertainty, combined so that
 * the parts of third and fifth order cancel (Richardson). The bound is what the last combination changed, and the
 * rounding of the model's value over the step.
 *
 * @param model the value for values of the inputs, or for their shifts from the estimates
 * @param steps standard uncertainties of the inputs, in their units, greater than zero
 * @param estimates of the inputs; left out where the model takes shifts
 * @see JCGM 100:2008, 5.1.3 note 2
 */
export function sensitivities(
  model: (inputs: Float64Array) => number,
  steps: ArrayLike<number>,
  estimates?: ArrayLike<number>,
): Sensitivities {
  const inputs = estimates === undefined ? new Float64Array(steps.length) : Float64Array.from(estimates);
  const value = model(inputs);
  const rounding = 4 * Number.EPSILON * Math.abs(value);
  const found: number[] = [];
  const errorBounds: number[] = [];
  for (let i = 0; i < steps.length; i++) {
    const step = steps[i]!;
    const whole = slope(model, inputs, i, step);
    const half = slope(model, inputs, i, step / 2);
    const quarter = slope(model, inputs, i, step / 4);
    const coarse = (4 * half - whole) / 3;
    const fine = (4 * quarter - half) / 3;
    const best = (16 * fine - coarse) / 15;
    found.push(best);
    errorBounds.push(Math.abs(best - fine) + (8 * rounding) / step);
  }
  return { value, sensitivities: found, errorBounds };
}

/** over the step that the numbers really take: beside a large estimate a small one is rounded */
function slope(model: (inputs: Float64Array) => number, inputs: Float64Array, i: number, step: number): number {
  const estimate = inputs[i]!;
  const [high, low] = [estimate + step, estimate - step];
  inputs[i] = high;
  const above = model(inputs);
  inputs[i] = low;
  const below = model(inputs);
  inputs[i] = estimate;
  return (above - below) / (high - low);
}
