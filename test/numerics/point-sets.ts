import { randomStream } from "../../kernel-lib/src/numerics/random.js";

export type Columns = [x: number[], y: number[], z: number[]];

/** Sets of points that are random, or on a coarse grid, or on few lines, or twice at one place, or all but flat. */
export function pointSet(seed: number, count: number): Columns {
  const stream = randomStream(seed);
  const kind = seed % 5;
  const on = (steps: number) => Math.floor(steps * stream.uniform());
  const place = () => (kind === 0 ? 100 * stream.uniform() : kind === 2 ? 10 * on(2) : 10 * on(4));
  const height = () => (kind === 0 ? stream.normal() : kind === 3 ? 0 : on(4));
  const x = Array.from({ length: count }, place);
  const y = Array.from({ length: count }, place);
  const z = Array.from({ length: count }, height);
  // three that span an area, so that a plane can be told
  [x[0], x[1], x[2]] = [0, 50, 0];
  [y[0], y[1], y[2]] = [0, 0, 50];
  if (kind === 4) [x[3], y[3]] = [50, 0];
  if (kind === 3) z[count - 1] = 1;
  return [x, y, z];
}
