/**
 * Least squares by a function that never falls (pool adjacent violators): steps over the sorted places, each at the mean of its own
 * values.
 *
 * @returns the fitted function; beyond the ends it stays level
 * @see Barlow, Bartholomew, Bremner, Brunk: Statistical Inference under Order Restrictions, 1972 (from memory)
 */
export function isotonicFit(x: readonly number[], y: readonly number[]): (at: number) => number {
  const order = x.map((_, i) => i).sort((a, b) => x[a]! - x[b]!);
  const blocks: { from: number; sum: number; count: number }[] = [];
  for (const i of order) {
    const before = blocks.at(-1);
    // equal places are one place
    if (before?.from === x[i]!) {
      before.sum += y[i]!;
      before.count++;
    } else {
      blocks.push({ from: x[i]!, sum: y[i]!, count: 1 });
    }
    while (blocks.length > 1 && mean(blocks.at(-2)!) >= mean(blocks.at(-1)!)) {
      const last = blocks.pop()!;
      const into = blocks.at(-1)!;
      into.sum += last.sum;
      into.count += last.count;
    }
  }
  return (at) => {
    let [low, high] = [0, blocks.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (blocks[middle]!.from <= at) low = middle;
      else high = middle - 1;
    }
    return mean(blocks[low]!);
  };
}

const mean = ({ sum, count }: { readonly sum: number; readonly count: number }): number => sum / count;
