import { randomStream } from "./random.js";

/**
 * Some of `count` numbered things, drawn by a seed of its own so that no pattern of their order (rows, columns) is kept.
 *
 * @example
 * numerics.spreadOver(10, 3).length // => 3
 */
export function spreadOver(count: number, most: number): readonly number[] {
  const stream = randomStream(1);
  const order = Array.from({ length: count }, (_, i) => ({ i, key: stream.uniform() }));
  return order
    .sort((a, b) => a.key - b.key)
    .slice(0, most)
    .map(({ i }) => i);
}
