import { type BandMatrix, solveBand } from "../numerics/band-cholesky.js";

/** A plate pressed on a bed that can push and can't pull. */
export interface Contact {
  /** N/mm, free edges */
  readonly stiffness: BandMatrix;
  /** pushed downward at each node, N */
  readonly loadN: Float64Array;
  /** height of the bed under each node, mm */
  readonly bedMm: Float64Array;
  /** area that bears under each node, mm²; 0 over a slot */
  readonly bearingMm2: Float64Array;
  /** deflections to start from */
  readonly start?: Float64Array;
}

/** How hard a bed gives way: 10 nm at 1 N/mm². Stiff, so that a plate lies on it and does not sink in. */
const bedStiffness = 1e5;
const mostSteps = 200;

/**
 * Heights in mm of a plate that rests on a bed, loads pressing it down: least energy, no node below the bed.
 *
 * The energy is convex and made of parabolas; Newton's method with a line search ends when the set of nodes that bear
 * stays the same. The bed is nearly rigid.
 */
export function plateHeights(contact: Contact): Float64Array {
  const { stiffness, bedMm, bearingMm2 } = contact;
  let heights = contact.start?.slice() ?? firstGuess(contact);
  const weak = Float64Array.from(bearingMm2, () => 1e-7 * meanOf(stiffness));
  for (let step = 0; step < mostSteps; step++) {
    const slope = gradient(contact, heights);
    const springs = Float64Array.from(
      bedMm,
      (g, k) => (g > heights[k]! ? bedStiffness * bearingMm2[k]! : 0) + weak[k]!,
    );
    const move = solveBand(stiffness.plusDiagonal(springs), slope);
    const largest = move.reduce((most, m) => Math.max(most, Math.abs(m)), 0);
    if (!(largest > 1e-9)) break;
    const share = lineSearch(contact, heights, move);
    heights = heights.map((h, k) => h - share * move[k]!);
  }
  return heights;
}

/** Push of the bed on each node, N. */
export function bearingForces({ bedMm, bearingMm2 }: Contact, heights: Float64Array): Float64Array {
  return heights.map((h, k) => bedStiffness * bearingMm2[k]! * Math.max(0, bedMm[k]! - h));
}

/** as if all of the bed bore */
function firstGuess({ bedMm }: Contact): Float64Array {
  const mean = bedMm.reduce((a, b) => a + b, 0) / bedMm.length;
  return bedMm.map(() => mean);
}

function gradient(contact: Contact, heights: Float64Array): Float64Array {
  const elastic = contact.stiffness.times(heights);
  const push = bearingForces(contact, heights);
  return elastic.map((f, k) => f + contact.loadN[k]! - push[k]!);
}

/** Least energy along the way: the slope along it only grows, so its zero is found by halving. */
function lineSearch(contact: Contact, heights: Float64Array, move: Float64Array): number {
  const bent = contact.stiffness.times(move);
  const elastic = contact.stiffness.times(heights);
  const slopeAt = (share: number) => {
    let s = 0;
    for (let k = 0; k < move.length; k++) {
      const h = heights[k]! - share * move[k]!;
      const push = bedStiffness * contact.bearingMm2[k]! * Math.max(0, contact.bedMm[k]! - h);
      s -= move[k]! * (elastic[k]! - share * bent[k]! + contact.loadN[k]! - push);
    }
    return s;
  };
  const [before, after] = [slopeAt(0), slopeAt(1)];
  if (Math.abs(after) < 0.1 * Math.abs(before)) return 1;
  return after > 0 ? halved(slopeAt, 0, 1) : halved(slopeAt, 1, 2);
}

function halved(slopeAt: (share: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let k = 0; k < 12; k++) {
    const middle = (low + high) / 2;
    if (slopeAt(middle) > 0) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

function meanOf({ size, width, entries }: BandMatrix): number {
  let sum = 0;
  for (let i = 0; i < size; i++) sum += entries[i * (width + 1) + width]!;
  return sum / size;
}
