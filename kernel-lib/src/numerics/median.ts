/**
 * Median by selection, without sorting; the mean of the middle two for an even count. The input is left alone.
 *
 * @example
 * numerics.median([5, 1, 4, 2]) // => 3
 */
export function median(values: ArrayLike<number>): number {
  const work = Float64Array.from(values);
  const middle = work.length >> 1;
  const upper = selectInPlace(work, middle);
  if (work.length % 2 === 1) return upper;
  let lower = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < middle; i++) lower = Math.max(lower, work[i]!);
  return (lower + upper) / 2;
}

/** Moves the k-th smallest (from 0) to place k, smaller ones before it, and returns it (Hoare's selection). */
export function selectInPlace(work: Float64Array, k: number): number {
  let low = 0;
  let high = work.length - 1;
  while (low < high) {
    const pivot = middleOfThree(work[low]!, work[(low + high) >> 1]!, work[high]!);
    let i = low;
    let j = high;
    while (i <= j) {
      while (work[i]! < pivot) i++;
      while (work[j]! > pivot) j--;
      if (i > j) break;
      const kept = work[i]!;
      work[i++] = work[j]!;
      work[j--] = kept;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else break;
  }
  return work[k] ?? Number.NaN;
}

function middleOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
