import * as fc from "fast-check";

/**
 * Numbers spread evenly over a range, in millionths of it. `fc.double` is even over the bits of a number instead: of what
 * it draws between 0 and 1, nine in ten lie below 0.001.
 */
export function evenly(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 1_000_000 }).map((n) => min + (max - min) * (n / 1_000_000));
}
