/** One number an entry, made by a loop: `Float64Array.from` first gathers a list of all of them. */
export function numbersFor(entries: ArrayLike<number>, value: (entry: number, i: number) => number): Float64Array {
  const made = new Float64Array(entries.length);
  for (let i = 0; i < made.length; i++) made[i] = value(entries[i]!, i);
  return made;
}

/** the same for whole numbers */
export function wholeFor(entries: ArrayLike<number>, value: (entry: number, i: number) => number): Int32Array {
  const made = new Int32Array(entries.length);
  for (let i = 0; i < made.length; i++) made[i] = value(entries[i]!, i);
  return made;
}
