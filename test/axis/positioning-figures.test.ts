import { expect, it } from "vitest";
import { type PositioningFigures, positioningFigures } from "../../kernel-lib/src/axis/positioning-figures.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { decimalsOf, fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

interface Exact {
  readonly up: readonly (readonly number[])[];
  readonly down: readonly (readonly number[])[];
  readonly published: { readonly [figure: string]: string | readonly string[] };
}
const exact = fixture<Exact>("axis/iso230-2-exact.json");

/** cells of readings, up before down, as unordered arrays */
function figuresOfCells(up: readonly (readonly number[])[], down: readonly (readonly number[])[]): PositioningFigures {
  const rows = [up, down].flatMap((cells, direction) =>
    cells.flatMap((values, position) => values.map((value) => ({ position, direction, value }))),
  );
  return positioningFigures(
    rows.map((row) => row.position),
    rows.map((row) => row.direction),
    rows.map((row) => row.value),
    up.length,
  );
}

it("agrees with the exact set of three targets and five runs, ISO 230-2", () => {
  const found = figuresOfCells(exact.up, exact.down) as unknown as { [name: string]: number | readonly number[] };
  for (const [name, printed] of Object.entries(exact.published)) {
    const values = [found[name]!].flat();
    for (const [i, digits] of [printed].flat().entries()) {
      expect(values[i]!.toFixed(decimalsOf(digits)), name).toBe(digits);
    }
  }
});

/** a test drawn from the seed */
function drawn(seed: number) {
  const { normal } = randomStream(seed);
  const cells = () => Array.from({ length: 6 }, (_, i) => Array.from({ length: 4 }, () => 3 * i + normal()));
  return { up: cells(), down: cells() };
}

it("turns the sign of the reversals, and nothing else, when the directions are exchanged", () => {
  for (let seed = 1; seed <= 20; seed++) {
    const { up, down } = drawn(seed);
    const [straight, turned] = [figuresOfCells(up, down), figuresOfCells(down, up)];
    expect(turned.reversals).toEqual(straight.reversals.map((b) => -b));
    expect(turned.meanReversal).toBe(-straight.meanReversal);
    expect(turned.accuracy).toBe(straight.accuracy);
    expect(turned.repeatability).toBe(straight.repeatability);
  }
});

it("scales with the unit and does not see a common shift", () => {
  const { up, down } = drawn(7);
  const before = figuresOfCells(up, down);
  const after = figuresOfCells(
    up.map((cell) => cell.map((v) => 1000 * v + 5)),
    down.map((cell) => cell.map((v) => 1000 * v + 5)),
  );
  for (const name of ["accuracy", "systematic", "meanDeviation", "repeatability", "reversal"] as const) {
    expect(after[name]).toBeCloseTo(1000 * before[name], 6);
  }
});

it("does not depend on the order of the readings", () => {
  const { up, down } = drawn(11);
  const reversed = figuresOfCells(
    up.map((cell) => cell.toReversed()),
    down.map((cell) => cell.toReversed()),
  );
  expect(reversed.accuracy).toBeCloseTo(figuresOfCells(up, down).accuracy, 12);
});

it("keeps its order: M ≤ E ≤ A, B ≤ E, B ≤ R", () => {
  for (let seed = 1; seed <= 50; seed++) {
    const { up, down } = drawn(seed);
    const found = figuresOfCells(up, down);
    expect(found.meanDeviation).toBeLessThanOrEqual(found.systematic);
    expect(found.systematic).toBeLessThanOrEqual(found.accuracy);
    expect(found.reversal).toBeLessThanOrEqual(found.systematic);
    expect(found.reversal).toBeLessThanOrEqual(found.repeatability);
  }
});

it("refuses what is no target, no direction, no number, or one reading alone", () => {
  expect(refusal(() => positioningFigures([0, 0.5], [0, 0], [1, 2], 1))).toEqual({
    code: "positioning-readings",
    message:
      "positioningFigures: reading 2 is of target 0.5, direction 0; number the targets from 0 and give 0 for up, 1 for down",
  });
  expect(refusal(() => positioningFigures([0, 0, 0], [0, 0, 1], [1, 2, 3], 1)).message).toBe(
    "positioningFigures: target 1 has 1 reading downwards; at least 2 are needed each way, 5 are usual",
  );
  expect(refusal(() => positioningFigures([0, 0, 0, 0], [0, 0, 1, 1], [1, Number.NaN, 3, 3], 1)).message).toBe(
    "positioningFigures: a deviation is not a finite number; leave the reading out if it was not taken",
  );
});
