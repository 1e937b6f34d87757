const kept: Float64Array[] = [];

/**
 * Lends an array for the time of a calculation and keeps it for the next: memory that was never touched costs more than
 * the arithmetic in it. It holds what the last user left. Nothing of it may be kept beyond `use`.
 */
export function withWorkArray<T>(length: number, use: (work: Float64Array) => T): T {
  const last = kept.pop();
  const array = last !== undefined && last.length >= length ? last : new Float64Array(length);
  const result = use(array.subarray(0, length));
  if (kept.length < 2) kept.push(array);
  return result;
}
