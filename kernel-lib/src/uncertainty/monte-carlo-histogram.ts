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
  // neighbours are counted apart: a bar is then seldom counted twice in a row, which would have to wait
  const row = barCount + 1;
  const counts = new Int32Array(4 * row);
  let outside = 0;
  for (let i = 0; i < values.length; i++) {
    const place = (values[i]! - from) * scale;
    if (place >= 0 && place <= barCount) {
      const bar = (i & 3) * row + (place | 0);
      counts[bar] = counts[bar]! + 1;
    } else outside++;
  }
  const sums = Array.from(
    { length: row },
    (_, k) => counts[k]! + counts[row + k]! + counts[2 * row + k]! + counts[3 * row + k]!,
  );
  // the highest value of all stands in the last bar
  const beyond = sums.pop()!;
  sums[barCount - 1] = sums[barCount - 1]! + beyond;
  return { from, to, counts: sums, outside };
}

/** probability per SI unit at a value, as the bars have it; 0 outside of them */
export function densityAt({ from, to, counts, outside }: Histogram, value: number): number {
  const width = (to - from) / counts.length;
  const all = counts.reduce((sum, count) => sum + count, outside);
  if (!(width > 0 && value <= to)) return 0;
  const bar = Math.min(Math.floor((value - from) / width), counts.length - 1);
  return (counts[bar] ?? 0) / (all * width);
}
