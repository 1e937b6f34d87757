import { withDense } from "./dense.js";
import { treeSums } from "./radial-tree.js";

/** Places with a weight each. */
export interface Sources {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly weights: Float64Array;
}

/** Σ w r² ln r at each target, r its distance from a source. */
export function radialSums(sources: Sources, x: Float64Array, y: Float64Array): Float64Array {
  if (sources.x.length * x.length > 3e5) return treeSums(sources, x, y);
  return directSums(sources, x, y);
}

/** Term by term. */
export function directSums({ x: sx, y: sy, weights }: Sources, x: Float64Array, y: Float64Array): Float64Array {
  const n = sx.length;
  const padded = Math.ceil(x.length / 4) * 4;
  return withDense(3 * n + 3 * padded, n, (memory, dense) => {
    const [px, py, out] = [3 * n, 3 * n + padded, 3 * n + 2 * padded];
    memory.set(sx, 0);
    memory.set(sy, n);
    memory.set(weights, 2 * n);
    memory.fill(0, px, out + padded);
    memory.set(x, px);
    memory.set(y, py);
    dense.addRadial(0, n, 2 * n, n, px, py, out, padded);
    return memory.slice(out, out + x.length);
  });
}
