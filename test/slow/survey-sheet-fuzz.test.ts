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

it("reads a damaged sheet or refuses it with a sentence, 100,000 times, as far as a minute reaches", () => {
  // made once and damaged anew each time: making each anew took most of the minute
  const sheets = fc.constantFrom(...fc.sample(goodSheet, { numRuns: 2000, seed: 13 }));
  let count = 0;
  fc.assert(
    fc.property(sheets, damage, (sheet, blows) => {
      count++;
      expect(readsOrRefuses(sheet, blows)).toBe("");
    }),
    { numRuns: 100_000, seed: 12, ...limit },
  );
  console.log(`damaged sheets: ${count} of 100000`);
  expect(count).toBeGreaterThanOrEqual(20_000);
});
