import { expect, it } from "vitest";
import { band, driftFound, falseAlarms, swarfFound } from "./health-rates.js";

// a tenth of the cases of the slow suite

it("alarms on no more than 5 of 100 clean sheets, read in whole micrometres", () => {
  const { cases, hits } = falseAlarms(100);
  expect(hits).toBeLessThanOrEqual(0.05 * cases + band(cases, 0.05));
});

it("names the place of a reading that swarf lifted by 5 to 25 standard deviations, 95 times in 100", () => {
  const { cases, hits } = swarfFound(60, 5, 25);
  expect(hits).toBeGreaterThanOrEqual(0.95 * cases - band(cases, 0.95));
});

it("finds a drift of 2 to 6 standard deviations 95 times in 100", () => {
  const { cases, hits } = driftFound(40, 2, 6);
  expect(hits).toBeGreaterThanOrEqual(0.95 * cases - band(cases, 0.95));
});
