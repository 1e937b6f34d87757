import type { SampleSummary } from "../numerics/index.js";

/** Counts of simulated values in bars of equal width, SI. */
export interface Histogram {
  readonly from: number;
  readonly to: number;
  readonly counts: readonly number[];
  /** values outside of all bars */
  readonly outside: number;
}

const barCount = 60;

/** Bars over the coverage intervals and as much beyond as is worth a look, never beyond the values themselves. */
export function histogramOf(values: Float64Array, { symmetric, range }: SampleSummary): Histogram {
  const [low, high] = symmetric;
  const [least, most] = range;
  const room = 0.35 * (high - low);
  const from = Math.max(least, low - room);
  const to = Math.min(most, high + room);
  if (!(to > from)) return { from: least, to: most, counts: [values.length], outside: 0 };
  const scale = barCount / (to - from);
  const counts = new Int32Array(barCount + 1);
  let outside = 0;
  for (let i = 0; i < values.length; i++) {
    const place = (values[i]! - from) * scale;
    if (place >= 0 && place <= barCount) counts[place | 0] = counts[place | 0]! + 1;
    else outside++;
  }
  // the highest value of all stands in the last bar
  counts[barCount - 1] = counts[barCount - 1]! + counts[barCount]!;
  return { from, to, counts: Array.from(counts.subarray(0, barCount)), outside };
}

/** probability per SI unit at a value, as the bars have it; 0 outside of them */
export function densityAt({ from, to, counts, outside }: Histogram, value: number): number {
  const width = (to - from) / counts.length;
  const all = counts.reduce((sum, count) => sum + count, outside);
  if (!(width > 0)) return 0;
  const bar = Math.min(Math.floor((value - from) / width), counts.length - 1);
  return (counts[bar] ?? 0) / (all * width);
}
