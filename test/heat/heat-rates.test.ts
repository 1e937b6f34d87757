import { expect, it } from "vitest";
import { band, heatRates } from "./heat-rates.js";

it("holds planted time constant, size, wait and change at the claimed rate over 100 records", () => {
  const cases = 100;
  const [low, high] = band(cases);
  for (const [what, count] of Object.entries(heatRates(cases, 9100))) {
    expect(count, `${what}, ${cases} cases`).toBeGreaterThanOrEqual(low);
    expect(count, `${what}, ${cases} cases`).toBeLessThanOrEqual(high);
  }
});
