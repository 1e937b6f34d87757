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

/**
 * Median of values that are not below zero, where it is known to lie near a guess: only what lies around the guess is
 * looked at closely. Falls back to a selection of all. `work` is overwritten.
 *
 * Upper halves of doubles that are not below zero stand in the order of the doubles: compared as integers they cost no
 * branch that half of the values would take unforeseen.
 */
export function medianNear(values: Float64Array, guess: number, work: Float64Array): number {
  const { length } = values;
  const middle = length >> 1;
  const upperHalf = upperHalves(values);
  const from = upperHalfOf(0.95 * guess);
  const width = upperHalfOf(1.05 * guess) - from;
  let below = 0;
  let count = 0;
  for (let i = 0; i < length; i++) {
    const off = upperHalf[2 * i + upperAt]! - from;
    below -= off >> 31;
    if (off >>> 0 < width) work[count++] = values[i]!;
  }
  const rank = middle - below;
  // the one before the middle is wanted too where the count is even
  if (length < 64 || !(rank >= 1 && rank < count)) return median(values);
  const near = work.subarray(0, count);
  const found = selectInPlace(near, rank);
  if (length % 2 === 1) return found;
  let lower = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < rank; i++) if (near[i]! > lower) lower = near[i]!;
  return (lower + found) / 2;
}

/** where in each pair of 32-bit words the upper half of a double stands */
export const upperAt = new Uint8Array(new Float64Array([-0]).buffer)[7] === 0x80 ? 1 : 0;

/** The doubles as 32-bit words, two each. */
export function upperHalves(values: Float64Array): Int32Array {
  return new Int32Array(values.buffer, values.byteOffset, 2 * values.length);
}

/** The upper half of a double. */
export function upperHalfOf(value: number): number {
  return upperHalves(Float64Array.of(value))[upperAt]!;
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
