import { describe, expect, it } from "vitest";
import { binomialBand, coverageOf } from "./coverage.js";
import { forms } from "./planted.js";

describe("flatness of planted forms", () => {
  it("knows the binomial band: 0.95 of 1000 is 926 to 971 at 99.9 %, by the normal law within one", () => {
    const [low, high] = binomialBand(1000, 0.95);
    expect(Math.abs(low - (950 - 3.2905 * Math.sqrt(47.5)))).toBeLessThan(3);
    expect(Math.abs(high - (950 + 3.2905 * Math.sqrt(47.5)))).toBeLessThan(3);
  });

  Object.keys(forms).forEach((name, k) => {
    it(`holds the truth of the form "${name}" as often as 95 % claims, 40 surveys of 90 places read twice`, () => {
      const found = coverageOf(name, 40, 1000 * (k + 1), 3, false);
      const [low, high] = binomialBand(40, 0.95);
      console.log(`${name}: ${JSON.stringify(found)}, band ${low} to ${high}`);
      for (const hits of [found.overall, found.tiltX, found.tiltY]) {
        expect(hits).toBeGreaterThanOrEqual(low);
        expect(hits).toBeLessThanOrEqual(high);
      }
    });
  });
});
