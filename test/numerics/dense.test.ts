import { describe, expect, it } from "vitest";
import { type DenseUse, withDense, withPlainDense } from "../../kernel-lib/src/numerics/dense.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";

/** a positive definite matrix of n rows, then numbers between −1 and 1 */
function filled(memory: Float64Array, n: number): void {
  const stream = randomStream(n);
  for (let i = 0; i < memory.length; i++) memory[i] = 2 * stream.uniform() - 1;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) memory[i * n + j] = Math.exp(-Math.abs(i - j) / 5) + (i === j ? 0.1 : 0);
  }
}

function bothWays(length: number, n: number, use: DenseUse<unknown>): readonly [Float64Array, Float64Array] {
  const run: DenseUse<Float64Array> = (memory, dense) => {
    filled(memory, n);
    use(memory, dense);
    return memory.slice();
  };
  return [withDense(length, n, run), withPlainDense(length, run)];
}

function worst(a: Float64Array, b: Float64Array, isKept: (i: number) => boolean = () => true): number {
  return a.reduce((most, value, i) => (isKept(i) ? Math.max(most, Math.abs(value - b[i]!)) : most), 0);
}

describe.each([1, 3, 4, 7, 63, 96, 97, 130, 250])("compiled arithmetic on %i rows", (n) => {
  const lower = (i: number) => i < n * n && i % n <= Math.floor(i / n);

  it("factors as the plain one does", () => {
    const [a, b] = bothWays(n * n, n, (_, dense) => expect(dense.factor(0, n, n)).toBe(n));
    expect(worst(a, b, lower)).toBeLessThan(1e-13);
  });

  it("solves and multiplies as the plain one does", () => {
    const m = 5;
    const at = n * n;
    const solved = bothWays(at + n * m, n, (_, dense) => {
      dense.factor(0, n, n);
      dense.solveLower(0, n, n, at, m, m);
    });
    expect(worst(...solved, (i) => i >= at)).toBeLessThan(1e-11);
    const k = 11;
    const gram = bothWays(at + n * k, n, (_, dense) => dense.addGram(at, k, n, n, 0, n));
    expect(worst(...gram, lower)).toBeLessThan(1e-13);
  });
});

it("finds the row where a matrix is not positive definite, at any size", () => {
  for (const n of [5, 100, 200]) {
    const found = (use: typeof withDense) =>
      use(n * n, n, (memory, dense) => {
        filled(memory, n);
        memory[(n - 2) * (n + 1)] = 0.5;
        return dense.factor(0, n, n);
      });
    expect(found(withDense)).toBe(n - 2);
    expect(found((length, _, use) => withPlainDense(length, use))).toBe(n - 2);
  }
});

it("has exponentials and r² ln r to the last digits", () => {
  const values = Float64Array.from({ length: 2001 }, (_, i) => -700 + 0.35 * i);
  withDense(2001, 1, (memory, dense) => {
    memory.set(values);
    dense.exponentials(0, 2001);
    expect(
      worst(
        memory.map((v, i) => v / Math.exp(values[i]!)),
        values.map(() => 1),
      ),
    ).toBeLessThan(4e-16 * 2);
  });
  const [a, b] = bothWays(400, 1, (memory, dense) => {
    // a target upon a source
    memory[90] = memory[0]!;
    memory[190] = memory[30]!;
    memory.fill(0, 300);
    dense.addRadial(0, 30, 60, 30, 88, 188, 300, 100);
  });
  expect(worst(a, b, (i) => i >= 300)).toBeLessThan(2e-14);
});

it("lends memory of its own to whoever asks while it is lent", () => {
  withDense(4, 1, (outer) => {
    outer.fill(5);
    withDense(4, 1, (inner) => inner.fill(7));
    expect([...outer]).toEqual([5, 5, 5, 5]);
  });
});

it("lends the memory of the compiled functions, which begins with their own part of it, and plain memory while that is lent", () => {
  withDense(4, 1, (outer) => {
    expect([outer.length, outer.byteOffset]).toEqual([4, 1024]);
    withDense(4, 1, (inner) => expect([inner.length, inner.byteOffset]).toEqual([4, 0]));
  });
});
