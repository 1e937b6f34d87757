import { describe, expect, it } from "vitest";
import { Draws } from "../../kernel-lib/src/numerics/draws.js";
import { chiSquaredCdf, chiSquaredQuantile } from "../../kernel-lib/src/numerics/index.js";
import { blockWords, xoshiro128 } from "../../kernel-lib/src/numerics/random.js";

/** χ² of so many degrees of freedom, from the factors that turn normal draws into Student's t */
function chiSquared(degreesOfFreedom: number, count: number): Float64Array {
  const [draws, out] = [new Draws(), new Float64Array(count)];
  draws.start(17, 4);
  draws.spread(out, degreesOfFreedom);
  return out.map((factor) => degreesOfFreedom / factor ** 2);
}

it("takes single numbers between 0 and 1 from the same words as the generator gives", () => {
  const [draws, next] = [new Draws(), xoshiro128(blockWords(5, 2))];
  draws.start(5, 2);
  for (let i = 0; i < 50; i++) {
    const [high, low] = [next(), next()];
    expect(draws.unit()).toBe((high * 2 ** 21 + (low >>> 11) + 0.5) / 2 ** 53);
  }
});

describe.each([0.6, 1, 2, 5, 30])("χ² of %d degrees of freedom", (degrees) => {
  const count = 40_000;
  const values = chiSquared(degrees, count);

  it("is drawn alike into twenty parts of equal chance", () => {
    const counts = new Array<number>(20).fill(0);
    for (const v of values) counts[Math.min(19, Math.floor(20 * chiSquaredCdf(v, degrees)))]!++;
    const statistic = counts.reduce((s, n) => s + (n - count / 20) ** 2 / (count / 20), 0);
    expect(statistic).toBeLessThan(chiSquaredQuantile(0.999, 19));
  });

  it("has mean ν and variance 2 ν within four standard errors", () => {
    const mean = values.reduce((s, v) => s + v, 0) / count;
    const variance = values.reduce((s, v) => s + (v - mean) ** 2, 0) / (count - 1);
    expect(Math.abs(mean - degrees)).toBeLessThan(4 * Math.sqrt((2 * degrees) / count));
    // the fourth central moment of χ² is 12 ν (ν + 4)
    const spread = Math.sqrt((12 * degrees * (degrees + 4) - 4 * degrees ** 2) / count);
    expect(Math.abs(variance - 2 * degrees)).toBeLessThan(4 * spread);
  });
});
