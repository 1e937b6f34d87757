import { expect, it } from "vitest";
import "../../kernel-lib/src/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { budget, input } from "../../kernel-lib/src/uncertainty/index.js";
import { blocksUntilStable, simulateAll } from "../../kernel-lib/src/uncertainty/simulate.js";

const bent = budget({
  measurand: "a bent result",
  inputs: { a: input.normal({ label: "a", estimate: mm(1), standardUncertainty: um(200), degreesOfFreedom: 4 }) },
  model: ({ a }) => a.times(a.in("mm") ** 2),
});

it("an adaptive simulation says how many trials it will come to, and comes near it", () => {
  const expected: number[] = [];
  let done = 0;
  const progress = () => ({
    tick: (count: number) => {
      done += count;
    },
    expect: (total: number) => expected.push(total),
    done: () => undefined,
  });
  simulateAll([bent], { seed: 1 }, progress, () => undefined);
  expect(done).toBeGreaterThan(100_000);
  expect(expected[0]).toBe(20_000);
  expect(expected.at(-1)).toBeGreaterThanOrEqual(done);
  // the root law holds: half way through, the number is known within a factor of two
  const halfWay = expected[Math.floor(expected.length / 2)]!;
  expect(halfWay / done).toBeGreaterThan(0.5);
  expect(halfWay / done).toBeLessThan(2);
});

it("the estimate follows the root law: four times the blocks for half the scatter", () => {
  const blocks = (spread: number) =>
    Array.from({ length: 4 }, (_, i) => ({
      mean: spread * (i % 2 === 0 ? 1 : -1),
      standardDeviation: 10,
      low: -20,
      high: 20,
    }));
  // twice the standard deviation of the mean of ±s over 4 blocks is 2 s/√3; the limit of u = 10 to two digits is 0.5
  expect(blocksUntilStable(blocks(0.4), 2, false)).toBe(4);
  expect(blocksUntilStable(blocks(Math.sqrt(3)), 2, false)).toBe(64);
  expect(blocksUntilStable(blocks(2 * Math.sqrt(3)), 2, false)).toBe(256);
});

it("a simulation that is cancelled ends with the sentence", () => {
  const progress = () => ({
    tick: () => {
      throw new Error("stopped");
    },
    done: () => undefined,
  });
  expect(() => simulateAll([bent], { seed: 1 }, progress, () => undefined)).toThrow("stopped");
});
