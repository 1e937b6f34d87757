import { describe, expect, it } from "vitest";
import { domainOf, type GapOptions, gapAt } from "../../kernel-lib/src/form/surface-domain.js";
import { SurfaceRaster } from "../../kernel-lib/src/form/surface-raster.js";
import { deg, mm, um } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";

/** a table from x 20 to 120 mm, y 10 to 50 mm: corners, places on the sides and inside */
const points = [
  [70, 30],
  [120, 50],
  [20, 10],
  [70, 10],
  [120, 10],
  [20, 50],
  [20, 30],
  [70, 50],
] as const;
const places = { x: points.map(([x]) => x), y: points.map(([, y]) => y), z: points.map(() => 0) };
const domain = (options: GapOptions = {}) => domainOf(places, options);

describe("where a surface is stated", () => {
  it("is the hull of the places, its corners counter-clockwise, places on its sides and inside left out", () => {
    expect(domain().hull).toEqual([
      [20, 10],
      [120, 10],
      [120, 50],
      [20, 50],
    ]);
    const five = [
      [0, 0],
      [4, -3],
      [10, 0],
      [9, 8],
      [-1, 7],
      [5, 4],
      [4, 5],
    ];
    const { hull } = domainOf({ x: five.map((p) => p[0]!), y: five.map((p) => p[1]!), z: [] }, {});
    expect(hull).toEqual([
      [-1, 7],
      [0, 0],
      [4, -3],
      [10, 0],
      [9, 8],
    ]);
  });

  it("its rim belongs to it, a hundredth of a millimetre beyond does not, on any side", () => {
    const { outside, beyond } = domain();
    for (const [x, y] of [
      [20, 30],
      [120, 30],
      [70, 10],
      [70, 50],
      [20, 10],
      [20 - 1e-8, 30],
    ] as const) {
      expect(outside(x, y)).toBeUndefined();
    }
    for (const [x, y] of [
      [19.99, 30],
      [120.01, 30],
      [70, 9.99],
      [70, 50.01],
      [120.01, 50.01],
    ] as const) {
      expect([outside(x, y), beyond(x, y)]).toEqual(["outside the places probed", "outside the places probed"]);
    }
  });

  it("stops at slots along either axis, holes and what stands on the table; their rims are surface", () => {
    const options: GapOptions = {
      slots: [
        { along: "x", at: mm(30), width: mm(4) },
        { along: "y", at: mm(100), width: mm(6) },
      ],
      holes: [{ x: mm(60), y: mm(45), diameter: mm(8) }],
      obstacles: [{ name: "vice", x: [mm(30), mm(50)], y: [mm(11), mm(20)] }],
    };
    const { outside, beyond, gaps } = domain(options);
    const at = (x: number, y: number) => outside(x, y) ?? "surface";
    expect([at(70, 28), at(70, 28.1), at(70, 31.9), at(70, 32)]).toEqual([
      "surface",
      "in a slot",
      "in a slot",
      "surface",
    ]);
    expect([at(97, 40), at(97.1, 40), at(102.9, 40), at(103, 40)]).toEqual([
      "surface",
      "in a slot",
      "in a slot",
      "surface",
    ]);
    expect([at(64, 45), at(63.9, 45), at(60, 41), at(60, 41.1)]).toEqual([
      "surface",
      "in a hole",
      "surface",
      "in a hole",
    ]);
    expect([
      at(30, 15),
      at(30.1, 15),
      at(49.9, 15),
      at(50, 15),
      at(40, 11),
      at(40, 11.1),
      at(40, 19.9),
      at(40, 20),
    ]).toEqual([
      ...["surface", "under the vice", "under the vice", "surface"],
      ...["surface", "under the vice", "under the vice", "surface"],
    ]);
    expect(beyond(70, 30)).toBeUndefined();
    expect(gapAt(gaps, 40, 15)).toBe("under the vice");
    expect(gapAt(gaps, 1000, 30)).toBe("in a slot");
    expect(gaps).toEqual([
      { kind: "slot", along: "x", fromMm: 28, toMm: 32 },
      { kind: "slot", along: "y", fromMm: 97, toMm: 103 },
      { kind: "hole", xMm: 60, yMm: 45, radiusMm: 4 },
      { kind: "obstacle", name: "vice", xMm: [30, 50], yMm: [11, 20] },
    ]);
  });

  it("takes gaps from the plan of the survey too, beside those given", () => {
    const outline = {
      slots: [{ along: "x", span: { fromMm: 12, toMm: 14 } }],
      holes: [{ xMm: 60, yMm: 45, radiusMm: 4 }],
      obstacles: [{ name: "vice", x: { fromMm: 30, toMm: 50 }, y: { fromMm: 16, toMm: 20 } }],
    };
    const { gaps } = domain({ slots: [{ along: "y", at: mm(100), width: mm(6) }], plan: { outline } as never });
    expect(gaps).toEqual([
      { kind: "slot", along: "y", fromMm: 97, toMm: 103 },
      { kind: "slot", along: "x", fromMm: 12, toMm: 14 },
      { kind: "hole", xMm: 60, yMm: 45, radiusMm: 4 },
      { kind: "obstacle", name: "vice", xMm: [30, 50], yMm: [16, 20] },
    ]);
  });

  it("refuses gaps that are none, each in one sentence", () => {
    const of = (options: GapOptions) => refusal(() => domain(options));
    const sentences = [
      of({ slots: [{ along: "z" as never, at: mm(30), width: mm(4) }] }),
      of({ slots: [{ along: "x", at: 30 as never, width: mm(4) }] }),
      of({ slots: [{ along: "y", at: mm(30), width: deg(4) as never }] }),
      of({ slots: [{ along: "y", at: mm(30), width: mm(-4) }] }),
      of({ holes: [{ x: "a" as never, y: mm(45), diameter: mm(8) }] }),
      of({ holes: [{ x: mm(60), y: 45 as never, diameter: mm(8) }] }),
      of({ holes: [{ x: mm(60), y: mm(45), diameter: um(0) }] }),
      of({ obstacles: [{ name: "vice", x: [mm(50), mm(30)], y: [mm(11), mm(20)] }] }),
      of({ obstacles: [{ name: "vice", x: [mm(30), mm(50)], y: [mm(20), mm(20)] }] }),
      of({ obstacles: [{ name: "vice", x: [mm(30), 50 as never], y: [mm(20), mm(30)] }] }),
      of({ obstacles: [{ name: "vice", x: [mm(30), mm(50)], y: [20 as never, mm(30)] }] }),
    ];
    expect(new Set(sentences.map(({ code }) => code))).toEqual(new Set(["outline"]));
    expect(sentences.map(({ message }) => message)).toEqual([
      'surface: a slot runs along z; write "x" or "y"',
      "surface: middle of a slot is 30; give a length, such as mm(40)",
      "surface: width of a slot is 4°; give a length, such as mm(40)",
      "surface: width of a slot is −4 mm; give a length greater than zero, such as mm(14)",
      "surface: x of a hole is a; give a length, such as mm(40)",
      "surface: y of a hole is 45; give a length, such as mm(40)",
      "surface: diameter of a hole is 0 mm; give a length greater than zero, such as mm(14)",
      "surface: x of the vice goes from 50 mm to 30 mm; give the least position first, then the greatest",
      "surface: y of the vice goes from 20 mm to 20 mm; give the least position first, then the greatest",
      "surface: x of the vice is 50; give a length, such as mm(40)",
      "surface: y of the vice is 20; give a length, such as mm(40)",
    ]);
  });
});

describe("a raster over it", () => {
  const heights = (x: readonly number[], y: readonly number[]) => ({
    meanUm: x.map((v, i) => v + 1000 * y[i]!),
    uUm: x.map((v) => v / 10),
  });

  it("stands in the middles of square cells, as many as asked for along the longer side", () => {
    const raster = SurfaceRaster.over(domain(), 10, heights);
    expect(raster.xsMm).toEqual([25, 35, 45, 55, 65, 75, 85, 95, 105, 115]);
    expect(raster.ysMm).toEqual([15, 25, 35, 45]);
    expect(raster.cellMm2).toBe(100);
    expect(raster.at(2, 3)).toEqual({ xMm: 45, yMm: 45, heightUm: 45_045, uUm: 4.5 });
    expect(raster.toArray()).toHaveLength(40);
    expect([...raster][1]).toEqual({ xMm: 35, yMm: 15, heightUm: 15_035, uUm: 3.5 });
    expect(raster.uRange).toEqual([2.5, 11.5]);
    const turned = domainOf({ x: places.y, y: places.x, z: [] }, {});
    expect(SurfaceRaster.over(turned, 10, heights).xsMm).toEqual([15, 25, 35, 45]);
  });

  it("has two lines each way at least, and reaches the edges for a picture", () => {
    const raster = SurfaceRaster.over(domain(), 2, heights);
    expect([raster.xsMm, raster.ysMm]).toEqual([
      [45, 95],
      [20, 40],
    ]);
    expect(raster.cellMm2).toBe(1000);
    const edges = SurfaceRaster.over(domain(), 5, heights, true);
    expect([edges.xsMm, edges.ysMm]).toEqual([
      [20, 40, 60, 80, 100, 120],
      [10, 30, 50],
    ]);
  });

  it("has nothing in a gap and where the method says nothing, and each height at its own place", () => {
    const cut = domain({ slots: [{ along: "y", at: mm(35), width: mm(2) }] });
    const raster = SurfaceRaster.over(cut, 10, (x, y) => {
      const all = heights(x, y);
      const blank = (values: readonly number[], at: number) => values.map((v, i) => (x[i] === at ? Number.NaN : v));
      return { meanUm: blank(all.meanUm, 45), uUm: blank(all.uUm, 55) };
    });
    const row = raster.xsMm.map((_, i) => raster.at(i, 1)?.heightUm);
    expect(row).toEqual([
      25_025,
      undefined,
      undefined,
      undefined,
      ...[65, 75, 85, 95, 105, 115].map((x) => 25_000 + x),
    ]);
    expect(raster.toArray()).toHaveLength(28);
    expect(raster.toArray().every(({ xMm, yMm, heightUm }) => heightUm === xMm + 1000 * yMm)).toBe(true);
  });

  it("is refused where nothing is left of the surface", () => {
    const whole = domain({ holes: [{ x: mm(70), y: mm(30), diameter: mm(500) }] });
    expect(refusal(() => SurfaceRaster.over(whole, 10, heights))).toEqual({
      code: "no-surface",
      message:
        "surface: slots and holes leave nothing of the surface between the places; look for a wrong size or position of one",
    });
  });
});
