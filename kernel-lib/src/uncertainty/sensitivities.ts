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
 * @param model the value for shifts of the inputs from their estimates
 * @param steps standard uncertainties of the inputs, in their units, greater than zero
 * @see JCGM 100:2008, 5.1.3 note 2
 */
export function sensitivities(model: (shifts: Float64Array) => number, steps: readonly number[]): Sensitivities {
  const shifts = new Float64Array(steps.length);
  const value = model(shifts);
  const rounding = 4 * Number.EPSILON * Math.abs(value);
  const found: number[] = [];
  const errorBounds: number[] = [];
  steps.forEach((step, i) => {
    const slope = (h: number) => {
      shifts[i] = h;
      const above = model(shifts);
      shifts[i] = -h;
      const below = model(shifts);
      shifts[i] = 0;
      return (above - below) / (2 * h);
    };
    const [whole, half, quarter] = [slope(step), slope(step / 2), slope(step / 4)];
    const coarse = (4 * half - whole) / 3;
    const fine = (4 * quarter - half) / 3;
    const best = (16 * fine - coarse) / 15;
    found.push(best);
    errorBounds.push(Math.abs(best - fine) + (8 * rounding) / step);
  });
  return { value, sensitivities: found, errorBounds };
}
