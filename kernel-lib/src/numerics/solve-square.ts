/** Solution of a small square system by elimination with row pivoting; a singular one gives non-finite numbers, which
 * the callers' guards refuse. */
export function solveSquare(matrix: readonly (readonly number[])[], rhs: readonly number[]): readonly number[] {
  const n = rhs.length;
  const rows = matrix.map((row, i) => [...row, rhs[i]!]);
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[pivot]![k]!)) pivot = i;
    const top = rows[pivot]!;
    rows[pivot] = rows[k]!;
    rows[k] = top;
    for (let i = k + 1; i < n; i++) {
      const row = rows[i]!;
      const factor = row[k]! / top[k]!;
      for (let j = k; j <= n; j++) row[j] = row[j]! - factor * top[j]!;
    }
  }
  const x: number[] = new Array(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    const row = rows[i]!;
    let s = row[n]!;
    for (let j = i + 1; j < n; j++) s -= row[j]! * x[j]!;
    x[i] = s / row[i]!;
  }
  return x;
}
