import * as fc from "fast-check";
import { expect, it } from "vitest";
import { damage, goodSheet, readsOrRefuses, staysTheSame } from "./sheet-fuzz.js";

it("reads again what it wrote, digit for digit", () => {
  fc.assert(
    fc.property(goodSheet, (sheet) => staysTheSame(sheet)),
    { numRuns: 200, seed: 1 },
  );
});

it("reads a damaged sheet or refuses it with a sentence, within a second", () => {
  fc.assert(
    fc.property(goodSheet, damage, (sheet, blows) => {
      expect(readsOrRefuses(sheet, blows)).toBe("");
    }),
    { numRuns: 300, seed: 2 },
  );
});
