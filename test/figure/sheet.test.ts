import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { raster } from "../../kernel-lib/src/figure/raster.js";
import { sheetOf, valueAt } from "../../kernel-lib/src/figure/sheet.js";
import { roundStep, roundUp, ticks } from "../../kernel-lib/src/figure/ticks.js";
import type { ViewPlace } from "../../kernel-lib/src/figure/view.js";
import { wrap } from "../../kernel-lib/src/figure/wrap.js";
import { triangulate } from "../../kernel-lib/src/numerics/triangulation.js";

function place(u: number, v: number, value: number): ViewPlace {
  return { label: `${u} ${v}`, u, v, value, where: "" };
}

const spots = fc
  .uniqueArray(fc.tuple(fc.integer({ min: 0, max: 1000 }), fc.integer({ min: 0, max: 250 })), {
    minLength: 6,
    maxLength: 40,
    selector: ([u, v]) => `${u} ${v}`,
  })
  .filter((list) => new Set(list.map(([u]) => u)).size > 2 && new Set(list.map(([, v]) => v)).size > 2);

/** area of the convex hull (monotone chain) */
function hullArea(points: readonly (readonly [number, number])[]): number {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly (readonly [number, number])[]): (readonly [number, number])[] => {
    const chain: (readonly [number, number])[] = [];
    for (const p of list) {
      while (chain.length >= 2) {
        const [a, b] = [chain[chain.length - 2]!, chain[chain.length - 1]!];
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  const hull = [...half(sorted), ...half([...sorted].reverse())];
  return (
    Math.abs(
      hull.reduce((sum, [x, y], i) => {
        const [p, q] = hull[(i + 1) % hull.length]!;
        return sum + x * q - p * y;
      }, 0),
    ) / 2
  );
}

describe("a net of triangles", () => {
  it("covers the hull of the places once", () => {
    fc.assert(
      fc.property(spots, (list) => {
        const points = list.map(([u, v]) => ({ u, v }));
        const area = triangulate(points).reduce((sum, [i, j, k]) => {
          const [a, b, c] = [points[i]!, points[j]!, points[k]!];
          return sum + Math.abs((b.u - a.u) * (c.v - a.v) - (b.v - a.v) * (c.u - a.u)) / 2;
        }, 0);
        const whole = hullArea(list);
        expect(Math.abs(area / whole - 1)).toBeLessThan(1e-12);
      }),
      { numRuns: 60, seed: 11 },
    );
  });

  it("takes the first of two names for one spot, and draws both", () => {
    const places = [place(0, 0, 1), place(50, 3, 2), place(50, 3, 9), place(7, 40, 3), place(70, 60, 4)];
    const { facets, places: drawn } = sheetOf(places, "map");
    expect(drawn).toHaveLength(5);
    expect([...new Set(facets.flat())].sort()).toEqual([0, 1, 3, 4]);
  });

  it("holds no place inside the circle of a triangle", () => {
    fc.assert(
      fc.property(spots, (list) => {
        const points = list.map(([u, v]) => ({ u, v }));
        for (const [i, j, k] of triangulate(points)) {
          const [a, b, c] = [points[i]!, points[j]!, points[k]!];
          const d = 2 * (a.u * (b.v - c.v) + b.u * (c.v - a.v) + c.u * (a.v - b.v));
          const s = [a, b, c].map(({ u, v }) => u * u + v * v);
          const cu = (s[0]! * (b.v - c.v) + s[1]! * (c.v - a.v) + s[2]! * (a.v - b.v)) / d;
          const cv = (s[0]! * (c.u - b.u) + s[1]! * (a.u - c.u) + s[2]! * (b.u - a.u)) / d;
          const r = Math.hypot(a.u - cu, a.v - cv);
          for (const p of points) expect(Math.hypot(p.u - cu, p.v - cv)).toBeGreaterThan(r * (1 - 1e-6) - 1e-6);
        }
      }),
      { numRuns: 30, seed: 12 },
    );
  });

  it("is empty for places on one line", () => {
    expect(triangulate([0, 1, 2, 3].map((i) => ({ u: i, v: 2 * i })))).toEqual([]);
  });
});

describe("values between the places", () => {
  it("follow a plane exactly, on a grid and on triangles", () => {
    fc.assert(
      fc.property(spots, fc.integer({ min: -9, max: 9 }), fc.integer({ min: -9, max: 9 }), (list, a, b) => {
        const sheet = sheetOf(
          list.map(([u, v]) => place(u, v, 3 + a * u + b * v)),
          "plane",
        );
        for (const [u, v] of list.slice(0, 5)) {
          const value = valueAt(sheet, u * 0.9 + 50, v * 0.9 + 12);
          if (value !== undefined) expect(value).toBeCloseTo(3 + a * (u * 0.9 + 50) + b * (v * 0.9 + 12), 6);
        }
      }),
      { numRuns: 60, seed: 13 },
    );
  });

  it("are missing next to a blank and outside the places", () => {
    const grid = [0, 1, 2].flatMap((v) => [0, 1, 2].map((u) => place(u, v, 1))).filter(({ label }) => label !== "0 0");
    const sheet = sheetOf(grid, "table");
    expect(sheet.grid).toBeDefined();
    expect(valueAt(sheet, 0.5, 0.5)).toBeUndefined();
    expect(valueAt(sheet, 1.5, 0.5)).toBe(1);
    expect(valueAt(sheet, 2.1, 0.5)).toBeUndefined();
    expect(
      raster(sheet, 5)
        .at.flat()
        .filter((value) => value === undefined),
    ).toHaveLength(4);
  });

  it("are refused where the places span no area", () => {
    expect(() => sheetOf([place(0, 0, 1), place(1, 1, 1), place(2, 2, 1)], "edge")).toThrow(
      "figure of edge: the 3 places span no area; a surface needs three that are not on one line",
    );
  });
});

describe("ticks", () => {
  it("stand at round values inside the span and say the sheet's own coordinate on a turned axis", () => {
    expect(ticks(-980, 0, 5, -1).map(({ at, text }) => [at, text])).toEqual([
      [-800, "800"],
      [-600, "600"],
      [-400, "400"],
      [-200, "200"],
      [0, "0"],
    ]);
    expect(ticks(-0.025, 0.02, 4).map(({ text }) => text)).toEqual(["−0.02", "−0.01", "0.00", "0.01", "0.02"]);
  });

  it("have a step of 1, 2 or 5 and a limit that holds the value", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (value) => {
        const lead = roundStep(value, 7) / 10 ** Math.floor(Math.log10(roundStep(value, 7) * 1.0000001));
        expect([1, 2, 5]).toContain(Math.round(lead));
        expect(roundUp(value)).toBeGreaterThanOrEqual(value * (1 - 1e-8));
        expect(roundUp(value)).toBeLessThanOrEqual(value * 1.5);
      }),
      { numRuns: 200, seed: 14 },
    );
  });
});

it("lines are broken at spaces and never longer than asked", () => {
  expect(wrap("the head is lowered onto a block", 14)).toEqual(["the head is", "lowered onto a", "block"]);
  expect(wrap("x".repeat(25), 10)).toEqual(["x".repeat(10), "x".repeat(10), "x".repeat(5)]);
  expect(wrap("", 10)).toEqual([]);
});
