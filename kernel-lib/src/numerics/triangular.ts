import type { Dense } from "./dense.js";

/** columns taken at a time */
export const block = 64;

/** where a lower triangular factor of `n` rows lies, and where its inverse may go */
export interface FactorPlace {
  readonly l: number;
  readonly ld: number;
  readonly n: number;
  /** n × n numbers */
  readonly inverse: number;
}

/** inverse of the factor, zeros above its diagonal */
export function invertFactor(memory: Float64Array, dense: Dense, { l, ld, n, inverse }: FactorPlace): void {
  memory.fill(0, inverse, inverse + n * n);
  for (let i = 0; i < n; i++) memory[inverse + i * (n + 1)] = 1;
  for (let j = 0; j < n; j += block) {
    // columns j … of the inverse are zero above row j
    dense.solveLower(l + j * (ld + 1), n - j, ld, inverse + j * (n + 1), Math.min(block, n - j), n);
  }
}

/** x := L⁻ᵀ x */
export function solveUpper(memory: Float64Array, l: number, ld: number, x: number, n: number): void {
  for (let i = n - 1; i >= 0; i--) {
    const row = l + i * ld;
    const value = memory[x + i]! / memory[row + i]!;
    memory[x + i] = value;
    for (let j = 0; j < i; j++) memory[x + j] = memory[x + j]! - memory[row + j]! * value;
  }
}

/** the triangle by itself, rows `n` apart */
export function lowerTriangle(memory: Float64Array, at: number, ld: number, n: number): Float64Array {
  const kept = new Float64Array(n * n);
  for (let i = 0; i < n; i++) kept.set(memory.subarray(at + i * ld, at + i * ld + i + 1), i * n);
  return kept;
}

/** sum of squares */
export function squares(memory: Float64Array, at: number, count: number): number {
  let sum = 0;
  for (let i = at; i < at + count; i++) sum += memory[i]! ** 2;
  return sum;
}
