import { randomStream } from "../numerics/index.js";

/** What the noise of the readings does to a peak-to-valley figure. */
export interface NoiseBias {
  /** by how much the figure comes out too high, on average */
  readonly bias: number;
  /** standard deviation of the figure from one survey to the next */
  readonly spread: number;
  /** change of the bias for a change of the noise by its own size: d bias / d ln noise; of the first form only */
  readonly growth: number;
}

/** How a figure is found from heights at fixed places. */
export interface FigureOfHeights {
  /** a linear first step, done once for each form and each draw of noise; none where it is left out */
  readonly reduce?: (heights: Float64Array) => void;
  /** the figure of heights that went through `reduce` */
  readonly figure: (heights: Float64Array) => number;
}

/** what the figure is at a form, more or less noise added */
interface Tally {
  readonly form: Float64Array;
  readonly without: number;
  sum: number;
  squares: number;
  growth: number;
}

/**
 * Bias of a peak-to-valley figure at smooth forms, by seeded simulation: each form as a survey with the same noise would
 * find it, again and again. All forms meet the same noise; those after the first meet a quarter of the draws.
 *
 * @param forms heights without noise, at the same places
 * @param noise standard deviation of one place
 */
export function noiseBiases(
  forms: readonly (readonly number[])[],
  noise: number,
  { reduce = () => undefined, figure }: FigureOfHeights,
  { seed, draws }: { readonly seed: number; readonly draws: number },
): readonly NoiseBias[] {
  const stream = randomStream(seed);
  const tallies = forms.map((heights): Tally => {
    const form = Float64Array.from(heights);
    reduce(form);
    return { form, without: figure(form.slice()), sum: 0, squares: 0, growth: 0 };
  });
  const few = Math.ceil(draws / 4);
  const [first] = tallies;
  const error = new Float64Array(first?.form.length ?? 0);
  const heights = new Float64Array(error.length);
  for (let draw = 0; draw < draws; draw++) {
    for (let i = 0; i < error.length; i++) error[i] = noise * stream.normal();
    reduce(error);
    for (const tally of draw < few ? tallies : tallies.slice(0, 1))
      meet(tally, error, heights, figure, tally === first);
  }
  return tallies.map(({ sum, squares, growth }, k) => {
    const count = k === 0 ? draws : few;
    const bias = sum / count;
    return { bias, spread: Math.sqrt(Math.max(squares / count - bias * bias, 0)), growth: growth / count };
  });
}

function meet(
  tally: Tally,
  error: Float64Array,
  heights: Float64Array,
  figure: FigureOfHeights["figure"],
  larger: boolean,
): void {
  const step = 0.1;
  const { form, without } = tally;
  for (let i = 0; i < form.length; i++) heights[i] = form[i]! + error[i]!;
  const over = figure(heights) - without;
  tally.sum += over;
  tally.squares += over * over;
  if (!larger) return;
  // the same numbers for both sizes of noise, so that their difference is no accident of the draw
  for (let i = 0; i < form.length; i++) heights[i] = form[i]! + (1 + step) * error[i]!;
  tally.growth += (figure(heights) - without - over) / step;
}
