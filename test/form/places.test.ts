import { describe, expect, it } from "vitest";
import { listed, needMiddle, placesOf, range, surfaceOf } from "../../kernel-lib/src/form/places.js";
import type { SurfacePlace } from "../../kernel-lib/src/survey/surface.js";
import { refusal } from "../refusal.js";
import { mapOf } from "./planted.js";

const at = (points: readonly (readonly [number, number, number])[]): SurfacePlace[] =>
  points.map(([xMm, yMm, zUm], i) => ({ label: `P${i + 1}`, xMm, yMm, zUm, count: 2 }));
const square: readonly (readonly [number, number, number])[] = [
  [0, 0, 1],
  [100, 0, 2],
  [0, 50, 3],
  [100, 50, 4],
];
const of = (points: readonly (readonly [number, number, number])[], least?: number) =>
  refusal(() => placesOf("here", mapOf(at(points)), least));

describe("the places of a map", () => {
  it("are its columns, four at least unless said otherwise", () => {
    expect(placesOf("here", mapOf(at(square)))).toEqual({ x: [0, 100, 0, 100], y: [0, 0, 50, 50], z: [1, 2, 3, 4] });
    expect(of(square, 5)).toEqual({
      code: "too-few-places",
      message: "here: planted map has 4 places; 5 are needed at least, measure more",
    });
  });

  it("each have x, y and height; of more than five that have none the rest is counted", () => {
    const bad = (k: 0 | 1 | 2) =>
      square.map((p, i) =>
        i === 1 ? ([0, 1, 2].map((n) => (n === k ? Number.NaN : p[n]!)) as [number, number, number]) : p,
      );
    for (const k of [0, 1, 2] as const) {
      expect(of(bad(k))).toEqual({
        code: "not-finite",
        message:
          "here: 1 of 4 places of planted map have no height or no place (P2); measure them, or leave them out of the list",
      });
    }
    const many = [...square, ...[1, 2, 3, 4, 5, 6].map((i) => [i, i, Number.POSITIVE_INFINITY] as const)];
    expect(of(many).message).toBe(
      "here: 6 of 10 places of planted map have no height or no place (P5, P6, P7, P8, P9 and 1 more); measure them, or leave them out of the list",
    );
    expect(listed(["a", "b", "c", "d", "e"])).toBe("a, b, c, d, e");
  });

  it("are each read once", () => {
    expect(of([...square, [100, 50, 9]])).toEqual({
      code: "same-place",
      message:
        "here: P4 and P5 of planted map are both at x 100 mm, y 50 mm; give repeats of a place as passes, not as places",
    });
  });

  it("do not lie on one line, whichever way it runs; a place a few millimetres beside it is enough", () => {
    const message = "here: the 4 places of planted map lie on one line; measure at least one place beside it";
    for (const [ux, uy] of [
      [1, 0],
      [0, 1],
      [0.6, -0.8],
    ] as const) {
      const line = [0, 1, 3, 7].map((t) => [20 + 50 * t * ux, 300 + 50 * t * uy, t] as const);
      expect(of(line)).toEqual({ code: "on-a-line", message });
      const beside = line.map(([x, y, z], i) =>
        i === 1 ? ([x - 3 * uy, y + 3 * ux, z] as const) : ([x, y, z] as const),
      );
      expect(placesOf("here", mapOf(at(beside))).z).toEqual([0, 1, 3, 7]);
    }
  });

  it("range in height by less than a tenth of the longer side", () => {
    const steep = (heightUm: number) => square.map(([x, y], i) => [x, y, i === 2 ? heightUm : 0] as const);
    expect(placesOf("here", mapOf(at(steep(9999)))).z[2]).toBe(9999);
    expect(of(steep(10_000))).toEqual({
      code: "steep",
      message:
        "here: the heights of planted map range over 10.0 mm where the places range over 100 mm; heights are in µm and places in mm, look for a wrong unit",
    });
    const along = steep(10_000).map(([x, y, z]) => [y, x, z] as const);
    expect(of(along).code).toBe("steep");
  });

  it("come from a map, or from a survey that gives one", () => {
    const map = mapOf(at(square));
    expect(surfaceOf(map)).toBe(map);
    expect(surfaceOf({ surface: () => map })).toBe(map);
  });
});

describe("a hole across the middle of a map", () => {
  /** places in two columns (or rows), and one of a third one at `between` */
  const map = (between: number, turned: boolean) =>
    at(
      [0, 300]
        .flatMap((a) => [0, 100, 200].map((b) => [a, b] as const))
        .concat([[between, 0]])
        .map(([a, b]) => (turned ? ([b, a, 0] as const) : ([a, b, 0] as const))),
    );
  const found = (between: number, turned: boolean) => {
    const surface = mapOf(map(between, turned));
    return () => needMiddle("here", surface, placesOf("here", surface));
  };

  it("is refused along x and along y, and one place on the border of the middle third closes it", () => {
    for (const [turned, axis] of [
      [false, "x"],
      [true, "y"],
    ] as const) {
      for (const between of [100, 150, 200]) expect(found(between, turned)).not.toThrow();
      for (const between of [99, 201]) {
        expect(refusal(found(between, turned))).toEqual({
          code: "hole",
          message: `here: planted map has no place between ${axis} 100 and 200 mm, its places fall apart into two groups; bow ${axis} cannot be told across the hole, probe places in it or take the groups one by one`,
        });
      }
    }
  });

  it("is where it is when the map does not begin at zero", () => {
    const surface = mapOf(map(99, false).map((p) => ({ ...p, xMm: p.xMm - 1000 })));
    expect(refusal(() => needMiddle("here", surface, placesOf("here", surface))).message).toContain(
      "no place between x -900 and -800 mm",
    );
  });
});

it("a range is greatest less least, of negative values too", () => {
  expect(range([-3, -10, -4])).toBe(7);
  expect(range([5])).toBe(0);
});
