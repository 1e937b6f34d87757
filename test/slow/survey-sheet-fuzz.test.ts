import * as fc from "fast-check";
import { expect, it } from "vitest";
import { damage, goodSheet, readsOrRefuses, staysTheSame } from "../survey/sheet-fuzz.js";

const limit = { interruptAfterTimeLimit: 60_000, markInterruptAsFailure: false };

it("reads again what it wrote, digit for digit, 2,000 times", () => {
  fc.assert(
    fc.property(goodSheet, (sheet) => staysTheSame(sheet)),
    { numRuns: 2000, seed: 11, ...limit },
  );
});

it("reads a damaged sheet or refuses it with a sentence, 10,000 times", () => {
  fc.assert(
    fc.property(goodSheet, damage, (sheet, blows) => {
      expect(readsOrRefuses(sheet, blows)).toBe("");
    }),
    { numRuns: 10_000, seed: 12, ...limit },
  );
});
