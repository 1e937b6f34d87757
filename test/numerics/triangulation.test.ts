import { describe, expect, it } from "vitest";
import { inCircle, turn } from "../../kernel-lib/src/numerics/exact-sign.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { type Triangle, triangulate } from "../../kernel-lib/src/numerics/triangulation.js";
import { refusal } from "../refusal.js";

type Point = { readonly u: number; readonly v: number };

const whole = (random: { uniform(): number }, below: number) => Math.floor(below * random.uniform());
const distinct = (points: readonly Point[]) => [...new Map(points.map((p) => [`${p.u} ${p.v}`, p])).values()];

/** a whole number of steps, exact: each set below lies on a lattice, so that twice an area is a whole number */
const exact = ({ u, v }: Point, step: number) => [BigInt(Math.round(u / step)), BigInt(Math.round(v / step))] as const;

function twiceArea(a: Point, b: Point, c: Point, step: number): bigint {
  const [[au, av], [bu, bv], [cu, cv]] = [exact(a, step), exact(b, step), exact(c, step)];
  return (bu - au) * (cv - av) - (bv - av) * (cu - au);
}

/** convex hull by A. M. Andrew's chains (1979), in whole numbers: no code of the net is used */
function hull(points: readonly Point[], step: number): readonly Point[] {
  const sorted = [...points].sort((a, b) => a.u - b.u || a.v - b.v);
  const chain = (list: readonly Point[]) => {
    const kept: Point[] = [];
    for (const point of list) {
      while (kept.length > 1 && twiceArea(kept.at(-2)!, kept.at(-1)!, point, step) <= 0n) kept.pop();
      kept.push(point);
    }
    return kept.slice(0, -1);
  };
  return [...chain(sorted), ...chain(sorted.reverse())];
}

function areaOfHull(points: readonly Point[], step: number): bigint {
  const rim = hull(points, step);
  return rim.slice(2).reduce((sum, p, k) => sum + twiceArea(rim[0]!, rim[k + 1]!, p, step), 0n);
}

/** how far d lies inside the circle through a, b, c, counter-clockwise, in whole numbers */
function inside(a: Point, b: Point, c: Point, d: Point, step: number): bigint {
  const [du, dv] = exact(d, step);
  const rows = [a, b, c].map((p) => {
    const [u, v] = exact(p, step);
    return [u - du, v - dv, (u - du) ** 2n + (v - dv) ** 2n] as const;
  }) as [readonly [bigint, bigint, bigint], readonly [bigint, bigint, bigint], readonly [bigint, bigint, bigint]];
  const [p, q, r] = rows;
  return p[0] * (q[1] * r[2] - q[2] * r[1]) - p[1] * (q[0] * r[2] - q[2] * r[0]) + p[2] * (q[0] * r[1] - q[1] * r[0]);
}

function needWhole(points: readonly Point[], net: readonly Triangle[], step: number): void {
  const corner = (i: number) => points[i]!;
  const areas = net.map(([a, b, c]) => twiceArea(corner(a), corner(b), corner(c), step));
  expect(areas.every((area) => area > 0n)).toBe(true);
  expect(areas.reduce((sum, area) => sum + area, 0n)).toBe(areaOfHull(points, step));
  expect(new Set(net.flat()).size).toBe(points.length);
  // each inner edge stands in two triangles, once each way, with neither far corner inside the circle of the other
  const across = new Map(net.flatMap(([a, b, c]) => [[`${a} ${b}`, c] as const, [`${b} ${c}`, a], [`${c} ${a}`, b]]));
  expect(across.size).toBe(3 * net.length);
  for (const [edge, apex] of across) {
    const [a, b] = edge.split(" ").map(Number) as [number, number];
    const far = across.get(`${b} ${a}`);
    if (far === undefined) continue;
    expect(inside(corner(a), corner(b), corner(apex), corner(far), step) <= 0n).toBe(true);
  }
}

const sets: { readonly [name: string]: (random: ReturnType<typeof randomStream>) => readonly Point[] } = {
  scattered: (random) => Array.from({ length: 60 }, () => ({ u: whole(random, 900), v: whole(random, 300) })),
  crowded: (random) => Array.from({ length: 80 }, () => ({ u: whole(random, 12), v: whole(random, 9) })),
  grid: (random) => {
    const [columns, rows] = [2 + whole(random, 9), 2 + whole(random, 7)];
    return Array.from({ length: columns * rows }, (_, k) => ({
      u: 50 * (k % columns),
      v: 40 * Math.floor(k / columns),
    }));
  },
  strip: (random) => Array.from({ length: 240 }, () => ({ u: whole(random, 4000), v: whole(random, 3) })),
  "on a circle": (random) => {
    // the whole points of x² + y² = 325², and some inside
    const on = Array.from({ length: 651 }, (_, k) => k - 325).flatMap((u) => {
      const v = Math.round(Math.sqrt(325 ** 2 - u * u));
      return u * u + v * v === 325 ** 2
        ? [
            { u, v },
            { u, v: -v },
          ]
        : [];
    });
    return [...on, ...Array.from({ length: 9 }, () => ({ u: whole(random, 200) - 99, v: whole(random, 200) - 99 }))];
  },
  "nearly on a line": (random) =>
    Array.from({ length: 60 }, () => {
      const u = whole(random, 1_000_000);
      return { u, v: 3 * u + (random.uniform() < 0.3 ? whole(random, 3) - 1 : 0) };
    }),
  "on a line but one": (random) => [
    ...Array.from({ length: 20 }, () => whole(random, 500)).map((u) => ({ u, v: 2 * u })),
    { u: whole(random, 500), v: 1001 },
  ],
  "in steps of a sixteenth, far from the origin": (random) =>
    Array.from({ length: 40 }, () => ({ u: 1e6 + whole(random, 64) / 16, v: -1e6 + whole(random, 16) / 16 })),
};

describe("a triangulation", () => {
  it.each(Object.keys(sets))(
    "%s: covers the convex hull exactly, every edge Delaunay, every place a corner",
    (name) => {
      const step = name.includes("sixteenth") ? 1 / 16 : 1;
      for (let seed = 1; seed <= 25; seed++) {
        const points = distinct(sets[name]!(randomStream(seed)));
        needWhole(points, triangulate(points), step);
      }
    },
  );

  it("keeps all of a strip of 4000 × 3 places, of which 1.7 % of the area once went missing", () => {
    const points = Array.from({ length: 12_000 }, (_, k) => ({ u: k % 4000, v: Math.floor(k / 4000) }));
    const net = triangulate(points);
    expect(net).toHaveLength(2 * 3999 * 2);
    needWhole(points, net, 1);
    const wide = Array.from({ length: 400 }, (_, k) => ({ u: whole(randomStream(k), 4000), v: k % 4 }));
    needWhole(distinct(wide), triangulate(distinct(wide)), 1);
  });

  it("of decimal places on a slant, exact in their last bit, overlaps nowhere and leaves nothing out", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const random = randomStream(seed);
      const [c, s] = [Math.cos(seed), Math.sin(seed)];
      const points = Array.from({ length: 77 }, (_, k) => [0.1 * (k % 11), 0.1 * Math.floor(k / 11)] as const).map(
        ([u, v]) => ({ u: c * u - s * v + 1e-17 * random.uniform(), v: s * u + c * v }),
      );
      const net = triangulate(points);
      const sum = net.reduce((total, [a, b, d]) => {
        const [p, q, r] = [points[a]!, points[b]!, points[d]!];
        expect(turn(p.u, p.v, q.u, q.v, r.u, r.v)).toBeGreaterThan(0);
        return total + ((q.u - p.u) * (r.v - p.v) - (q.v - p.v) * (r.u - p.u)) / 2;
      }, 0);
      expect(sum).toBeCloseTo(0.6, 12);
      expect(new Set(net.flat()).size).toBe(77);
    }
  });

  it("has as many triangles for the same places in any order, and as many in inches", () => {
    const points = distinct(sets.scattered!(randomStream(3)));
    const count = triangulate(points).length;
    expect(triangulate([...points].reverse())).toHaveLength(count);
    expect(triangulate(points.map(({ u, v }) => ({ u: u / 25.4, v: v / 25.4 })))).toHaveLength(count);
  });

  it("is none of places on one line, or of fewer than three", () => {
    expect(triangulate([0, 1, 2, 3].map((u) => ({ u, v: 2 * u })))).toEqual([]);
    expect(triangulate([0.1, 0.2, 0.3].map((v) => ({ u: 7, v })))).toEqual([]);
    expect(triangulate([{ u: 1, v: 1 }])).toEqual([]);
    expect(triangulate([])).toEqual([]);
  });

  it("refuses a spot given twice, and a place that is no place", () => {
    const spots = [0, 5, 5, 0].map((u, k) => ({ u, v: k === 3 ? 5 : 0 }));
    expect(refusal(() => triangulate(spots))).toEqual({
      code: "same-place",
      message: "triangulate: places 1 and 2 are both at u 5, v 0; give each spot once",
    });
    expect(refusal(() => triangulate([{ u: 0, v: Number.NaN }]))).toEqual({
      code: "not-finite",
      message: "triangulate: place 0 is at u 0, v NaN; give finite coordinates",
    });
  });
});

describe("the sign of a turn and of a circle", () => {
  it("is right in the last bit, where rounding alone would decide", () => {
    // 0.1, 0.2, 0.3 as doubles: three tenths is less than the sum of one and two
    expect(Math.sign(turn(0, 0, 0.1, 0.1, 0.3, 0.3))).toBe(0);
    const next = 0.5 + 2 ** -53;
    expect(Math.sign(turn(12, 12, 24, 24, 0.5, next))).toBe(1);
    expect(Math.sign(turn(12, 12, 24, 24, next, 0.5))).toBe(-1);
    expect(Math.sign(inCircle([1, 0, 0, 1, -1, 0, 0, -1]))).toBe(0);
    expect(Math.sign(inCircle([1, 0, 0, 1, -1, 0, 0, -1 - 2 ** -52]))).toBe(-1);
    expect(Math.sign(inCircle([1, 0, 0, 1, -1, 0, 2 ** -1074, 0]))).toBe(1);
  });

  it("turns over when two corners change places", () => {
    const random = randomStream(5);
    for (let k = 0; k < 500; k++) {
      const at = Array.from({ length: 8 }, () => Math.round(4 * random.uniform()) / 10);
      const [a, b, c, d, e, f, g, h] = at as [number, number, number, number, number, number, number, number];
      const sum = (one: number, other: number) => Math.sign(one) + Math.sign(other);
      expect(sum(turn(a, b, c, d, e, f), turn(c, d, a, b, e, f))).toBe(0);
      expect(sum(inCircle([a, b, c, d, e, f, g, h]), inCircle([c, d, a, b, e, f, g, h]))).toBe(0);
    }
  });
});
