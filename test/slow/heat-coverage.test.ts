import { expect, it } from "vitest";
import { heatRates } from "../heat/heat-rates.js";

it("holds planted time constant, size, wait and change at the claimed rate over 1,000 records", () => {
  const cases = 1000;
  const [low, high] = [936, 963];
  const hits = heatRates(cases, 4100);
  for (const [what, count] of Object.entries(hits)) {
    console.log(
      `${what}: ${count} of ${cases} (${((100 * count) / cases).toFixed(1)} %), claimed 95 %, band ${low} to ${high}`,
    );
  }
  for (const [what, count] of Object.entries(hits)) {
    expect(count, what).toBeGreaterThanOrEqual(low);
    expect(count, what).toBeLessThanOrEqual(high);
  }
}, 120_000);
