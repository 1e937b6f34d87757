import * as fc from "fast-check";
import { expect, it } from "vitest";
import { bothWays, longSheet } from "../survey/two-readers.js";

it("reads 20,000 sheets from their bytes as it does cell by cell, or refuses them in the same words", () => {
  let quick = 0;
  let cases = 0;
  fc.assert(
    fc.property(longSheet, (text) => {
      const both = bothWays(text);
      cases++;
      if (both.quick) quick++;
      expect(both.same, both.said).toBe(true);
    }),
    { numRuns: 20_000, seed: 31, interruptAfterTimeLimit: 60_000, markInterruptAsFailure: false },
  );
  console.log(`${cases} sheets, ${quick} read the quick way, all others refused or read with care, all alike`);
  expect(quick).toBeGreaterThan(0.1 * cases);
});
