import { randomStream } from "../numerics/index.js";

/** What the noise of the readings does to a peak-to-valley figure. */
export interface NoiseBias {
  /** by how much the figure comes out too high, on average */
  readonly bias: number;
  /** standard deviation of the figure from one survey to the next */
  readonly spread: number;
  /** change of the bias for a change of the noise by its own size: d bias / d ln noise */
  readonly growth: number;
}

/**
 * Bias of a peak-to-valley figure at a smooth form, by seeded simulation: the form as a survey with the same noise would
 * find it, again and again.
 *
 * @param form heights without noise
 * @param noise standard deviation of one place
 * @param figure the figure of a set of heights
 */
export function noiseBias(
  form: readonly number[],
  noise: number,
  figure: (heights: Float64Array) => number,
  { seed, draws }: { readonly seed: number; readonly draws: number },
): NoiseBias {
  const stream = randomStream(seed);
  const step = 0.1;
  const heights = new Float64Array(form.length);
  const larger = new Float64Array(form.length);
  const without = figure(Float64Array.from(form));
  let sum = 0;
  let squares = 0;
  let growth = 0;
  for (let draw = 0; draw < draws; draw++) {
    // the same numbers for both sizes of noise, so that their difference is no accident of the draw
    for (let i = 0; i < form.length; i++) {
      const error = noise * stream.normal();
      heights[i] = form[i]! + error;
      larger[i] = form[i]! + (1 + step) * error;
    }
    const over = figure(heights) - without;
    sum += over;
    squares += over * over;
    growth += (figure(larger) - without - over) / step;
  }
  const bias = sum / draws;
  return { bias, spread: Math.sqrt(Math.max(squares / draws - bias * bias, 0)), growth: growth / draws };
}
