import { describe, expect, it } from "vitest";
import { randomStream, splitmix64, xoshiro128 } from "../../kernel-lib/src/numerics/random.js";

describe("randomStream", () => {
  it("steps as the authors' xoshiro128++ does from the state 1, 2, 3, 4 (reference outputs, from memory)", () => {
    const next = xoshiro128([1, 2, 3, 4]);
    expect(Array.from({ length: 10 }, next)).toEqual([
      641, 1573767, 3222811527, 3517856514, 836907274, 4247214768, 3867114732, 1355841295, 495546011, 621204420,
    ]);
  });

  it("fills its state as splitmix64 does from 1234567 (reference outputs, from memory)", () => {
    expect(splitmix64(1234567n, 5).map(String)).toEqual([
      "6457827717110365317",
      "3203168211198807973",
      "9817491932198370423",
      "4593380528125082431",
      "16408922859458223821",
    ]);
  });

  it("gives the same numbers for the same seed and block, and others for another", () => {
    const take = (seed: number, block?: number) => {
      const stream = randomStream(seed, block);
      return [stream.uniform(), stream.normal(), stream.normal(), stream.uniform()];
    };
    expect(take(5)).toEqual(take(5));
    expect(take(5)).toEqual(take(5, 0));
    expect(take(5, 1)).not.toEqual(take(5));
    expect(take(6)).not.toEqual(take(5));
  });

  it("has the moments of the uniform and the normal law within four standard errors", () => {
    const stream = randomStream(20);
    const n = 200_000;
    let u = 0;
    let sums = [0, 0, 0, 0];
    for (let i = 0; i < n; i++) {
      u += stream.uniform();
      const z = stream.normal();
      sums = sums.map((s, k) => s + z ** (k + 1));
    }
    expect(Math.abs(u / n - 0.5)).toBeLessThan(4 * Math.sqrt(1 / 12 / n));
    const [first, second, third, fourth] = sums.map((s) => s / n) as [number, number, number, number];
    expect(Math.abs(first)).toBeLessThan(4 / Math.sqrt(n));
    expect(Math.abs(second - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
    expect(Math.abs(third)).toBeLessThan(4 * Math.sqrt(15 / n));
    expect(Math.abs(fourth - 3)).toBeLessThan(4 * Math.sqrt(96 / n));
  });

  it("refuses a seed or block that is not a whole number", () => {
    expect(() => randomStream(1.5)).toThrow("randomStream: seed 1.5 is not a whole number from 0 to 9007199254740991");
    expect(() => randomStream(Number.NaN)).toThrow("seed NaN");
    expect(() => randomStream(1, -1)).toThrow("randomStream: block -1 is not a whole number from 0 to 4294967295");
  });
});
