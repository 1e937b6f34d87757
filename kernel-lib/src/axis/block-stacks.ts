import type { NamedPeriod } from "./positioning-targets.js";

/** Blocks put together, and how long they are. */
export interface Stack {
  readonly lengthMm: number;
  /** the longest first */
  readonly blocksMm: readonly number[];
}

/** how far off a whole number of turns a length must lie, in parts of the turn: nearer, the turn's own error hides */
export const offWhole = 0.1;

/**
 * The lengths that a set of blocks gives, each block used once, at most so many together: rising, each length by the fewest blocks.
 * Lengths that are whole multiples of a period, within a tenth of it, are left out.
 */
export function blockStacks(
  blocksMm: readonly number[],
  most: number,
  longestMm: number,
  periods: readonly NamedPeriod[],
): readonly Stack[] {
  const rising = [...blocksMm].sort((a, b) => b - a);
  const found = new Map<number, Stack>();
  const add = (from: number, used: readonly number[], lengthNm: number) => {
    for (let i = from; i < rising.length; i++) {
      const whole = lengthNm + Math.round(rising[i]! * 1e6);
      if (whole > longestMm * 1e6) continue;
      const blocks = [...used, rising[i]!];
      const before = found.get(whole);
      if (before === undefined || before.blocksMm.length > blocks.length) {
        found.set(whole, { lengthMm: whole / 1e6, blocksMm: blocks });
      }
      if (blocks.length < most) add(i + 1, blocks, whole);
    }
  };
  add(0, [], 0);
  return [...found.values()]
    .filter(({ lengthMm }) => periods.every(({ periodMm }) => !isWhole(lengthMm / periodMm)))
    .sort((a, b) => a.lengthMm - b.lengthMm);
}

function isWhole(turns: number): boolean {
  return Math.abs(turns - Math.round(turns)) < offWhole;
}
