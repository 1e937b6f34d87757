import { describe, expect, it } from "vitest";
import { binomialBand, coverageOf } from "../form/coverage.js";
import { forms, slightForms } from "../form/planted.js";

describe("flatness of planted forms, the long run", () => {
  Object.keys({ ...forms, ...slightForms }).forEach((name, k) => {
    it(`holds the truth of the form "${name}" as often as 95 % claims, 1000 surveys`, { timeout: 400_000 }, () => {
      const found = coverageOf(name, 1000, 100_000 * (k + 1), 3, false);
      const [low, high] = binomialBand(1000, 0.95);
      console.log(`${name}: ${JSON.stringify(found)}, band ${low} to ${high}`);
      for (const hits of [found.overall, found.tiltX, found.tiltY]) {
        expect(hits).toBeGreaterThanOrEqual(low);
        expect(hits).toBeLessThanOrEqual(high);
      }
    });
  });

  it("holds the true minimum zone of a bow as often as claimed, 100 surveys", { timeout: 240_000 }, () => {
    const found = coverageOf("bow", 100, 900_000, 3, true);
    const [low, high] = binomialBand(100, 0.95);
    console.log(`bow, minimum zone: ${JSON.stringify(found)}, band ${low} to ${high}`);
    expect(found.zone).toBeGreaterThanOrEqual(low);
    expect(found.zone).toBeLessThanOrEqual(high);
  });

  it("holds a ding of about the least size that can be told in about 89 of 100 surveys, not in 95", {
    timeout: 240_000,
  }, () => {
    const found = coverageOf("ding", 300, 700_000, 3, true);
    const [low] = binomialBand(300, 0.89);
    console.log(`ding: ${JSON.stringify(found)}, at least ${low}`);
    expect(found.overall).toBeGreaterThanOrEqual(low);
    expect(found.zone).toBeGreaterThanOrEqual(low);
  });
});
