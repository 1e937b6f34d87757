import { contours } from "d3-contour";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areasAbove, type Ring } from "../../kernel-lib/src/figure/still/areas-above.js";
import { closedLine } from "../../kernel-lib/src/figure/still/svg.js";

const lines = (count: number): readonly number[] => Array.from({ length: count }, (_, i) => i);
const grid = (columns: number, rows: number, of: (x: number, y: number) => number) => ({
  xs: lines(columns),
  ys: lines(rows),
  values: lines(rows).flatMap((y) => lines(columns).map((x) => of(x, y))),
});

/** twice the signed area */
function doubled(ring: Ring): number {
  let sum = 0;
  for (let i = 0; i < ring.length; i += 2) {
    const [x, y] = [ring[(i + 2) % ring.length]!, ring[(i + 3) % ring.length]!];
    sum += ring[i]! * y - x * ring[i + 1]!;
  }
  return sum;
}
const area = (rings: readonly Ring[]): number => Math.abs(rings.reduce((sum, ring) => sum + doubled(ring), 0)) / 2;

describe("areas above levels", () => {
  it("are as large as those of d3-contour 4.0.3, level by level, where no cell has its high corners opposite", () => {
    const waves = fc.tuple(
      fc.double({ min: 0.05, max: 0.4, noNaN: true }),
      fc.double({ min: 0.05, max: 0.4, noNaN: true }),
      fc.double({ min: 0, max: 6, noNaN: true }),
    );
    fc.assert(
      fc.property(waves, ([p, q, phase]) => {
        const [columns, rows] = [23, 17];
        // nothing at the rim, so that the two close their areas alike
        const wave = (x: number, y: number): number =>
          x === 0 || y === 0 || x === columns - 1 || y === rows - 1 ? -9 : Math.sin(p * x + phase) + Math.cos(q * y);
        const given = grid(columns, rows, wave);
        const levels = [-1.5, -0.7, 0.1, 0.9, 1.7];
        const ours = areasAbove(given, levels).map(area);
        const theirs = levels.map((level) => {
          const { coordinates } = contours()
            .size([columns, rows])
            .contour([...given.values], level);
          return area(coordinates.flat().map((ring) => ring.flat()));
        });
        for (const [i, size] of ours.entries()) expect(size).toBeCloseTo(theirs[i]!, 6);
      }),
      { numRuns: 60, seed: 21 },
    );
  });

  it("of a slope are the strips that a ruler gives, half a cell wider at the rim, their corners cut off there", () => {
    const sizes = areasAbove(
      grid(11, 5, (x) => x),
      [-1, 2.5, 9.75, 10, 10.5],
    ).map(area);
    const corner = 1 / 8;
    const strips = [11 * 5 - 4 * corner, 8 * 5 - 4 * corner, 0.75 * 5 - 2 * corner - 2 / 16, 0.5 * 5 - 2 * corner, 0];
    for (const [i, size] of strips.entries()) expect(sizes[i]!).toBeCloseTo(size, 12);
  });

  it("join two opposite high corners where the mean of the four is above the level, else not", () => {
    const saddle = (high: number) => ({ xs: [0, 1], ys: [0, 1], values: [high, 0, 0, high] });
    const levels = [4];
    expect(areasAbove(saddle(10), levels)[0]).toHaveLength(1);
    expect(areasAbove(saddle(7), levels)[0]).toHaveLength(2);
  });

  it("hold no crossing without a value: they end half a cell before it", () => {
    const given = grid(7, 7, (x, y) => (x === 3 && y === 3 ? Number.NaN : 1));
    const [[outer, hole] = [], none] = areasAbove(given, [0, 2]);
    expect(none).toEqual([]);
    expect(Math.abs(doubled(outer!)) / 2).toBeCloseTo(49 - 4 * 0.125, 12);
    expect(Math.abs(doubled(hole!)) / 2).toBeCloseTo(0.5, 12);
    expect(Math.sign(doubled(outer!))).toBe(-Math.sign(doubled(hole!)));
  });

  it("lie within each other from level to level, whatever the values, and their rings are closed lines of their own", () => {
    const values = fc.array(fc.oneof(fc.integer({ min: -5, max: 5 }), fc.constant(Number.NaN)), {
      minLength: 48,
      maxLength: 48,
    });
    fc.assert(
      fc.property(values, (list) => {
        const found = areasAbove({ xs: lines(8), ys: lines(6), values: list }, [-9, -2.5, 0, 2.5]);
        const sizes = found.map(area);
        for (let i = 1; i < sizes.length; i++) expect(sizes[i]!).toBeLessThanOrEqual(sizes[i - 1]! + 1e-9);
        for (const ring of found.flat()) {
          expect(ring.every(Number.isFinite)).toBe(true);
          expect(ring.length).toBeGreaterThanOrEqual(6);
        }
      }),
      { numRuns: 100, seed: 22 },
    );
  });
});

it("a closed line leaves out what is level or upright between its neighbours, and what repeats itself", () => {
  expect(closedLine([0, 0, 5, 0, 5, 0, 10, 0, 10, 4, 10, 10, 0, 10])).toBe("M0,0L10,0L10,10L0,10Z");
  // out and back along one line is drawn
  expect(closedLine([0, 0, 5, 0, 2, 0, 2, 3])).toBe("M0,0L5,0L2,0L2,3Z");
});
