import { expect, it } from "vitest";
import { blockStacks } from "../../kernel-lib/src/axis/block-stacks.js";

const lengthsOf = (stacks: ReturnType<typeof blockStacks>) => stacks.map(({ lengthMm }) => lengthMm);

it("gives every length of at most so many blocks, rising, the longest block first", () => {
  expect(blockStacks([2.5, 10, 5], 2, 100, [])).toEqual([
    { lengthMm: 2.5, blocksMm: [2.5] },
    { lengthMm: 5, blocksMm: [5] },
    { lengthMm: 7.5, blocksMm: [5, 2.5] },
    { lengthMm: 10, blocksMm: [10] },
    { lengthMm: 12.5, blocksMm: [10, 2.5] },
    { lengthMm: 15, blocksMm: [10, 5] },
  ]);
  expect(lengthsOf(blockStacks([2.5, 10, 5], 1, 100, []))).toEqual([2.5, 5, 10]);
  expect(lengthsOf(blockStacks([2.5, 10, 5], 3, 100, [])).at(-1)).toBe(17.5);
});

it("builds a length of the fewest blocks, and of equally few of the longest", () => {
  const of = (lengthMm: number) =>
    blockStacks([6, 5, 4, 2, 1], 3, 100, []).find((stack) => stack.lengthMm === lengthMm)!.blocksMm;
  // 6 + 2 + 1 comes first
  expect(of(9)).toEqual([5, 4]);
  expect(of(7)).toEqual([6, 1]);
});

it("goes up to the travel and not beyond", () => {
  expect(lengthsOf(blockStacks([10, 5], 2, 15, []))).toEqual([5, 10, 15]);
  expect(lengthsOf(blockStacks([10, 5], 2, 14.999999, []))).toEqual([5, 10]);
  // a block longer than the travel does not keep the shorter ones from being used
  expect(lengthsOf(blockStacks([50, 10, 5], 2, 20, []))).toEqual([5, 10, 15]);
});

it("adds blocks of thousandths without a rest", () => {
  expect(lengthsOf(blockStacks([1.001, 1.002, 1.003], 3, 100, []))).toEqual([
    1.001, 1.002, 1.003, 2.003, 2.004, 2.005, 3.006,
  ]);
});

it("leaves out what is nearer than a tenth of a turn to a whole number of any of the turns", () => {
  const period = (periodMm: number) => ({ name: "turn", periodMm });
  const left = (periods: readonly number[]) =>
    lengthsOf(blockStacks([0.9, 1, 4, 9.2, 10, 10.9, 12], 1, 100, periods.map(period)));
  expect(left([10])).toEqual([1, 4, 12]);
  expect(left([10, 4])).toEqual([1]);
  expect(left([])).toEqual([0.9, 1, 4, 9.2, 10, 10.9, 12]);
});
