import { MeasurementError } from "../measurement-error.js";
import { counted } from "../words.js";
import { withWorkArray } from "./work-array.js";

/** What a sample of simulated values says. */
export interface SampleSummary {
  readonly count: number;
  readonly mean: number;
  /** with n − 1 */
  readonly standardDeviation: number;
  /** as much of the sample below as above it */
  readonly symmetric: readonly [number, number];
  /** the shortest that holds so much of the sample; the lowest of several */
  readonly shortest: readonly [number, number];
  /** least and greatest value */
  readonly range: readonly [number, number];
}

/**
 * Mean, standard deviation, probabilistically symmetric and shortest coverage interval of a sample of any order, without
 * sorting more than its tails. The sample is left as it is.
 *
 * The shortest interval runs from the r-th to the (r + q)-th value of the sorted sample, q = ⌊p M + ½⌋, and is the
 * shortest of all r.
 *
 * @param values in any one unit, finite
 * @param level p, between 0 and 1
 * @throws MeasurementError `sample` when there are too few values for the level, or one that is no number
 * @see JCGM 101:2008, 7.6 and 7.7
 * @example
 * numerics.summariseSample([3, 1, 2, 9, 4], 0.6).shortest.join() // => "1,4"
 */
export function summariseSample(values: ArrayLike<number>, level = 0.95): SampleSummary {
  const count = values.length;
  const within = Math.floor(level * count + 0.5);
  if (!(within >= 1 && within < count)) {
    throw new MeasurementError(
      "sample",
      `summariseSample: ${counted(count, "value has", "values have")} no interval of ${level}; give a level between 0 and 1 and values enough to leave some outside`,
    );
  }
  const { mean, standardDeviation } = momentsOfSample(values);
  if (!Number.isFinite(standardDeviation)) {
    throw new MeasurementError("sample", "summariseSample: a value is not a finite number; look for what made it");
  }
  const below = Math.floor((count - within + 1) / 2);
  return withWorkArray(2 * count, (work) => {
    const { low, high } = tails(values, count - within, work);
    let first = 0;
    for (let r = 1; r < low.length; r++) if (high[r]! - low[r]! < high[first]! - low[first]!) first = r;
    return {
      count,
      mean,
      standardDeviation,
      symmetric: [low[below - 1]!, high[below - 1]!],
      shortest: [low[first]!, high[first]!],
      range: [low[0]!, high[high.length - 1]!],
    };
  });
}

/** Mean and standard deviation (n − 1); squares are taken from the first value, so that no digits go. */
export function momentsOfSample(values: ArrayLike<number>): {
  readonly mean: number;
  readonly standardDeviation: number;
} {
  const origin = values[0]!;
  let sum = 0;
  let squares = 0;
  // block by block, so that the rounding of a long sum stays small
  for (let start = 0; start < values.length; start += 4096) {
    const end = Math.min(start + 4096, values.length);
    let part = 0;
    let partSquares = 0;
    for (let i = start; i < end; i++) {
      const off = values[i]! - origin;
      part += off;
      partSquares += off * off;
    }
    sum += part;
    squares += partSquares;
  }
  const n = values.length;
  return { mean: origin + sum / n, standardDeviation: Math.sqrt(Math.max(squares - (sum * sum) / n, 0) / (n - 1)) };
}

/** The `size` smallest and the `size` largest values, each in rising order, in an array of twice the sample's length. */
function tails(values: ArrayLike<number>, size: number, work: Float64Array) {
  const count = values.length;
  const step = Math.max(1, Math.floor(count / 8192));
  const probe = Float64Array.from({ length: Math.ceil(count / step) }, (_, i) => values[i * step]!).sort();
  // a little beyond where the probe sees the end of a tail; far more where that was too little
  for (let more = 0.008; ; more *= 4) {
    const cut = Math.ceil((size / count + more) * probe.length);
    const lowLimit = probe.at(cut) ?? Number.POSITIVE_INFINITY;
    const highLimit = probe.at(-1 - cut) ?? Number.NEGATIVE_INFINITY;
    let lows = 0;
    let highs = 2 * count;
    for (let i = 0; i < count; i++) {
      const value = values[i]!;
      if (value <= lowLimit) work[lows++] = value;
      if (value >= highLimit) work[--highs] = value;
    }
    if (lows < size || 2 * count - highs < size) continue;
    return {
      low: work.subarray(0, lows).sort().subarray(0, size),
      high: work
        .subarray(highs)
        .sort()
        .subarray(2 * count - highs - size),
    };
  }
}
