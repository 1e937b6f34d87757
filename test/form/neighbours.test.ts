import { describe, expect, it } from "vitest";
import { connectedGroups, likeness, pitchOf } from "../../kernel-lib/src/form/neighbours.js";

type Point = readonly [x: number, y: number];
const columns = (points: readonly Point[]) => ({
  x: points.map(([x]) => x),
  y: points.map(([, y]) => y),
  z: points.map(() => 0),
});
const cross = (xs: readonly number[], ys: readonly number[]): Point[] =>
  ys.flatMap((y) => xs.map((x) => [x, y] as const));

describe("the pitch of a map", () => {
  it("is the middle distance of its columns and of its rows, in whatever order they were read", () => {
    const points = cross([200, 0, 100, 50], [90, 0, 30]);
    expect(pitchOf(columns(points))).toEqual({ x: 50, y: 60, grid: true });
  });

  it("is that of rows and columns as long as half of their crossings were read", () => {
    const half = [0, 1, 2, 3].map((i) => [40 * i, 30 * (i % 2)] as const);
    expect(pitchOf(columns(half))).toEqual({ x: 40, y: 30, grid: true });
    // 3 × 3 lines and 4 places: fewer than half of the 9 crossings
    const fewer: Point[] = [
      [0, 0],
      [30, 40],
      [120, 0],
      [120, 112],
    ];
    // nearest neighbours 50, 50, hypot(90, 40) = 98.49 and 112 mm away; the upper of the two in the middle
    const { x, y, grid } = pitchOf(columns(fewer));
    expect(grid).toBe(false);
    expect([x, y]).toEqual([Math.hypot(90, 40), Math.hypot(90, 40)]);
  });
});

describe("groups of places that touch", () => {
  const points = cross([0, 50, 100, 150, 200, 250], [0, 40, 80, 120]);
  const pitch = { x: 50, y: 40, grid: true };
  const at = (...chosen: Point[]) => chosen.map(([i, j]) => i + 6 * j);

  it("hold neighbours along both axes and corner to corner, and whoever touches one of them", () => {
    const chain = at([2, 2], [0, 0], [1, 1], [2, 3]);
    const apart = at([5, 0], [4, 0]);
    expect(connectedGroups(columns(points), [...chain, ...apart], pitch)).toEqual([
      at([0, 0], [1, 1], [2, 2], [2, 3]),
      at([4, 0], [5, 0]),
    ]);
  });

  it("end where a place lies between that does not belong to them, along x and along y", () => {
    expect(connectedGroups(columns(points), at([0, 0], [2, 0]), pitch)).toHaveLength(2);
    expect(connectedGroups(columns(points), at([0, 0], [0, 2]), pitch)).toHaveLength(2);
    expect(connectedGroups(columns(points), at([0, 0], [2, 1]), pitch)).toHaveLength(2);
    expect(connectedGroups(columns(points), [], pitch)).toEqual([]);
  });

  it("do not reach one and a half pitches", () => {
    const of = (dx: number, dy: number) =>
      connectedGroups({ x: [10, 10 + dx], y: [20, 20 + dy], z: [0, 0] }, [0, 1], pitch).length;
    expect([of(74, 0), of(75, 0), of(0, 59), of(0, 60), of(-74, -59), of(-75, 0)]).toEqual([1, 2, 1, 2, 1, 2]);
  });
});

describe("the likeness of neighbours", () => {
  it("is the correlation one pitch on, along x and along y, found by hand", () => {
    const places = columns(cross([0, 50, 100], [0, 40]));
    // rows 1 2 3 and 2 1 −1; variance 20/6; along x (2 + 6 + 2 − 1)/4, along y (2 + 2 − 3)/3
    const { alongX, alongY } = likeness(places, [1, 2, 3, 2, 1, -1]);
    expect(alongX).toBeCloseTo(9 / 4 / (20 / 6), 12);
    expect(alongY).toBeCloseTo(1 / 3 / (20 / 6), 12);
  });

  it("counts neighbours that were both read, is never below 0 and never above 0.9", () => {
    const places = columns([
      [0, 0],
      [100, 0],
      [50, 40],
      [100, 40],
    ]);
    // pairs along x: only 50 → 100 of the second row, −2; along y: 100 mm, 0 → 40
    expect(likeness(places, [9, 1, 2, -1])).toEqual({ alongX: 0, alongY: 0 });
    expect(likeness(columns(cross([0, 50, 100], [0, 40])), [5, 5, 5, 5, 5, 5])).toEqual({ alongX: 0.9, alongY: 0.9 });
    expect(likeness(columns(cross([0, 50], [0, 40])), [0, 0, 0, 0])).toEqual({ alongX: 0, alongY: 0 });
    const { alongX, alongY } = likeness(places, [0, 3, 2, 2]);
    // variance 17/4: 2 × 2 along x, 3 × 2 along y, the latter cut at 0.9
    expect([alongX, alongY]).toEqual([0.9, 0.9]);
    expect(likeness(places, [6, 1, 2, 2]).alongX).toBeCloseTo(4 / (45 / 4), 12);
    expect(likeness(places, [6, 1, 2, 2]).alongY).toBeCloseTo(2 / (45 / 4), 12);
  });
});
