import * as fc from "fast-check";
import { expect, it } from "vitest";
import { parseSheet, sourceOfText } from "../../kernel-lib/src/survey/parse-sheet.js";
import { inventSurvey } from "./invented-survey.js";
import { goodSheet } from "./sheet-fuzz.js";
import { bothWays, longSheet } from "./two-readers.js";

it("reads a sheet from its bytes as it does cell by cell, or refuses it in the same words", () => {
  let quick = 0;
  fc.assert(
    fc.property(longSheet, (text) => {
      const both = bothWays(text);
      if (both.quick) quick++;
      expect(both.same, both.said).toBe(true);
    }),
    { numRuns: 700, seed: 21 },
  );
  expect(quick).toBeGreaterThan(80);
});

it("reads whatever a person wrote into a sheet both ways the same", () => {
  fc.assert(
    fc.property(goodSheet, (text) => {
      for (const written of [text, text.replaceAll(/^"|"$/gm, "").replaceAll('","', ",")]) {
        const both = bothWays(written);
        expect(both.same, both.said).toBe(true);
      }
    }),
    { numRuns: 80, seed: 22 },
  );
});

it("reads a usual sheet the quick way, every number the double nearest to its digits", () => {
  expect(bothWays(inventSurvey({ seed: 1, scatter: 1, step: 0.1 }).text)).toMatchObject({ same: true, quick: true });
  const head = inventSurvey({ seed: 1, scatter: 1, step: 1 }).text.split("\n").slice(0, 8).join("\n");
  fc.assert(
    fc.property(
      fc.bigInt({ min: -(10n ** 17n), max: 10n ** 17n }),
      fc.integer({ min: 0, max: 17 }),
      (digits, point) => {
        const text = String(digits < 0n ? -digits : digits).padStart(point + 1, "0");
        const written = `${digits < 0n ? "-" : ""}${text.slice(0, text.length - point)}.${text.slice(text.length - point)}`;
        const { columns } = parseSheet(sourceOfText(`${head}\nA1,0,0,${written},1\n`), {});
        expect(columns.z[0]).toBe(Number(written) + 0);
      },
    ),
    { numRuns: 300, seed: 23 },
  );
});
