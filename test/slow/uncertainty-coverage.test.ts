import { describe, expect, it } from "vitest";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { measuredCoverage } from "../../kernel-lib/src/uncertainty/index.js";
import { coverageCases, coverageOf, measurement } from "../uncertainty/coverage-cases.js";

const repeats = 20_000;
/** binomial 99.9 % band of the count about a rate */
const band = (rate: number) => 3.29 * Math.sqrt((rate * (1 - rate)) / repeats);

describe("intervals of budgets", () => {
  it.each(coverageCases)("of $name hold the truth as often as is said", (one) => {
    const rate = coverageOf(one, repeats, 29);
    console.log(
      `${one.name}: ${(100 * rate).toFixed(1)} % of ${repeats}, ${one.claimed ? `claimed 94 to 96 %, band ± ${(100 * band(0.95)).toFixed(1)} %` : "no claim, measured"}`,
    );
    if (one.claimed) {
      expect(rate).toBeGreaterThan(0.94 - band(0.94));
      expect(rate).toBeLessThan(0.96 + band(0.96));
    } else {
      // what the budget prints beside U is the rate counted here, its inputs as in one measurement
      const said = /they hold it ([\d.]+) times in 100/.exec(measurement(one.sources, randomStream(7)).coverageNote());
      expect(said).not.toBeNull();
    }
  });

  it("are counted by the package as by measurements made anew, where the spreads are known", () => {
    for (const one of coverageCases) {
      if (one.sources.some((source) => "readings" in source)) continue;
      const counted = measuredCoverage(measurement(one.sources, randomStream(1)), { seed: 3, repeats });
      const made = coverageOf(one, repeats, 29);
      expect(Math.abs(counted.rate - made), one.name).toBeLessThanOrEqual(Math.SQRT2 * band(made) + 1e-9);
    }
  });
});
