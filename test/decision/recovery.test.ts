import { expect, it } from "vitest";
import { binomialBand } from "../data/workshop.js";
import { recover } from "./recovery.js";

it("recovers what was planted in 20 invented machines: flatness, flatness when stoned, depth", () => {
  const seeds = Array.from({ length: 20 }, (_, i) => 100 + i);
  const results = seeds.map((seed) => recover(seed, 200));
  const [low] = binomialBand(20, 0.95);
  for (const figure of ["found", "stoned", "depth"] as const) {
    const hits = results.filter((r) => r[figure]).length;
    console.log(`${figure}: ${hits} of 20 intervals hold the planted value; at least ${low} are needed`);
    expect(hits).toBeGreaterThanOrEqual(low);
  }
}, 60_000);

it("takes the band of a claim from the binomial law", () => {
  // scipy.stats.binom.ppf([0.0005, 0.9995], 1000, 0.95) = 926, 971
  expect(binomialBand(1000, 0.95)).toEqual([926, 971]);
});
