/** What a model does beyond first order, on plain numbers. */
export interface SecondOrder {
  /** what the second-order terms add to the variance; may be below zero */
  readonly variance: number;
  /** for each input: whether any run of the model moved when it did */
  readonly moves: readonly boolean[];
}

/**
 * What the second-order terms add to the variance: Σ Σ [½ f_ij² + f_i f_ijj] u_i² u_j², derivatives by differences within
 * one standard uncertainty of each estimate.
 *
 * @param model the value for shifts of the inputs from their estimates
 * @param steps standard uncertainties of the inputs, in their units, greater than zero
 * @see JCGM 100:2008, 5.1.2 note
 */
export function secondOrder(model: (shifts: Float64Array) => number, steps: readonly number[]): SecondOrder {
  const shifts = new Float64Array(steps.length);
  const at = (i: number, p: number, j = i, q = p) => {
    shifts[i] = p * steps[i]!;
    shifts[j] = q * steps[j]!;
    const result = model(shifts);
    shifts[i] = shifts[j] = 0;
    return result;
  };
  const centre = model(shifts);
  const up = steps.map((_, i) => at(i, 1));
  const down = steps.map((_, i) => at(i, -1));
  const moves = steps.map((_, i) => up[i] !== centre || down[i] !== centre);
  const first = steps.map((_, i) => (up[i]! - down[i]!) / 2);
  // differences that are no more than rounding of the value are none
  const floor = 32 * Number.EPSILON * Math.abs(centre);
  const real = (difference: number) => (Math.abs(difference) > floor ? difference : 0);
  let variance = 0;
  for (let i = 0; i < steps.length; i++) {
    const bend = real(up[i]! - 2 * centre + down[i]!);
    const third = real(up[i]! - 2 * at(i, 0.5) + 2 * at(i, -0.5) - down[i]!);
    variance += 0.5 * bend ** 2 + 4 * first[i]! * third;
    for (let j = 0; j < i; j++) {
      const [pp, pm, mp, mm] = [at(i, 1, j, 1), at(i, 1, j, -1), at(i, -1, j, 1), at(i, -1, j, -1)];
      const mixed = real((pp - pm - mp + mm) / 4);
      const ijj = real((pp - 2 * up[i]! + pm - (mp - 2 * down[i]! + mm)) / 2);
      const jii = real((pp - 2 * up[j]! + mp - (pm - 2 * down[j]! + mm)) / 2);
      variance += mixed ** 2 + first[i]! * ijj + first[j]! * jii;
      moves[i] ||= pp !== up[j] || mm !== down[j];
      moves[j] ||= pp !== up[i] || mm !== down[i];
    }
  }
  return { variance, moves };
}
