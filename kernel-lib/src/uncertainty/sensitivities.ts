/** First-order behaviour of a model about its estimates, on plain numbers. */
export interface Sensitivities {
  readonly value: number;
  /** ∂f/∂x_i */
  readonly sensitivities: readonly number[];
  /** bound of the error of each by the differences taken */
  readonly errorBounds: readonly number[];
}

/**
 * Sensitivities by central differences: steps of one and of half a standard uncertainty, combined so that the cubic
 * part cancels. The bound is what the combination changed, and the rounding of the model's value over the step.
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
    const whole = slope(step);
    const half = slope(step / 2);
    found.push((4 * half - whole) / 3);
    errorBounds.push(Math.abs(half - whole) / 3 + rounding / step);
  });
  return { value, sensitivities: found, errorBounds };
}

/**
 * What the second-order terms add to the variance: Σ Σ [½ f_ij² + f_i f_ijj] u_i² u_j², derivatives by differences.
 *
 * @see JCGM 100:2008, 5.1.2 note
 */
export function secondOrderVariance(model: (shifts: Float64Array) => number, steps: readonly number[]): number {
  const shifts = new Float64Array(steps.length);
  const at = (i: number, p: number, j = i, q = 0) => {
    shifts[i] = p * steps[i]!;
    if (j !== i) shifts[j] = q * steps[j]!;
    const result = model(shifts);
    shifts[i] = shifts[j] = 0;
    return result;
  };
  const centre = at(0, 0);
  // differences that are no more than rounding of the value are none
  const floor = 32 * Number.EPSILON * Math.abs(centre);
  const real = (difference: number) => (Math.abs(difference) > floor ? difference : 0);
  let sum = 0;
  for (let i = 0; i < steps.length; i++) {
    const [up, down] = [at(i, 1), at(i, -1)];
    const first = (up - down) / 2;
    const bend = real(up - 2 * centre + down);
    sum += 0.5 * bend ** 2 + first * real((at(i, 2) - 2 * up + 2 * down - at(i, -2)) / 2);
    for (let j = 0; j < steps.length; j++) {
      if (j === i) continue;
      const [pp, pm, mp, mm] = [at(i, 1, j, 1), at(i, 1, j, -1), at(i, -1, j, 1), at(i, -1, j, -1)];
      const mixed = real((pp - pm - mp + mm) / 4);
      const third = real((pp - 2 * up + pm - (mp - 2 * down + mm)) / 2);
      sum += 0.5 * mixed ** 2 + first * third;
    }
  }
  return sum;
}
