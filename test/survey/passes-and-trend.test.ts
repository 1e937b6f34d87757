import { describe, expect, it } from "vitest";
import { tCdf } from "../../kernel-lib/src/numerics/distributions.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { findOutliers, type OutlierTest } from "../../kernel-lib/src/survey/outlier-test.js";
import { heightsByPass, passDisagreements, passShifts } from "../../kernel-lib/src/survey/pass-test.js";
import { meanUncertainty, passScatter, rowsByPass, visitScatter } from "../../kernel-lib/src/survey/repeatability.js";
import { readingOutliers, spatialOutliers } from "../../kernel-lib/src/survey/spatial-test.js";
import { bestDegree, detrend, leverages, offNeighbours, trendBasis } from "../../kernel-lib/src/survey/trend.js";
import { aHeightTable, type Read } from "./a-height-table.js";

const close = (value: number, digits = 9) => expect.closeTo(value, digits);
/** places of a grid, row by row */
const spots = (columns: number, rows: number, pitchX = 50, pitchY = 40) =>
  Array.from({ length: columns * rows }, (_, i) => ({
    at: `P${i}`,
    x: 100 + pitchX * (i % columns),
    y: -20 + pitchY * Math.floor(i / columns),
  }));
const passesOf = (
  list: readonly { at: string; x: number; y: number }[],
  ...heights: ((i: number, x: number, y: number) => number)[]
) => heights.flatMap((z, k): Read[] => list.map((one, i) => ({ ...one, z: z(i, one.x, one.y), pass: k + 1 })));
const points = (list: readonly { x: number; y: number }[]) => ({
  x: list.map(({ x }) => x),
  y: list.map(({ y }) => y),
});
const all = (n: number) => Array.from({ length: n }, (_, i) => i);
/** a form that scatters like nothing smooth, the same each time */
const noise = (seed: number, n: number, s = 1) => {
  const random = randomStream(seed);
  return Array.from({ length: n }, () => s * random.normal());
};

describe("the trend over the places", () => {
  const list = spots(5, 4);

  it("is an orthonormal basis of the polynomials that the places can tell apart", () => {
    for (const [degree, terms] of [0, 1, 2, 3, 4, 5].map((d) => [d, [1, 3, 6, 10, 14, 17][d]!])) {
      const basis = trendBasis(points(list), all(20), degree!);
      expect(basis).toHaveLength(terms!);
      basis.forEach((a, i) => {
        basis.forEach((b, j) => {
          expect(a.reduce((s, v, k) => s + v * b[k]!, 0)).toBeCloseTo(i === j ? 1 : 0, 9);
        });
      });
    }
    // no more columns than places
    expect(trendBasis(points(list), [0, 6, 13], 3)).toHaveLength(3);
    expect(trendBasis(points(list.slice(0, 5)), all(5), 2)).toHaveLength(3);
    expect(trendBasis({ x: [3], y: [4] }, [0], 2)).toHaveLength(1);
  });

  it("takes out what it spans and leaves what it does not", () => {
    const plane = list.map(({ x, y }) => 3 + 0.1 * x - 0.2 * y);
    const bow = list.map(({ x, y }) => (x - 200) ** 2 / 500 + (x * y) / 900);
    for (const left of detrend(trendBasis(points(list), all(20), 1), plane)) expect(left).toBeCloseTo(0, 9);
    for (const left of detrend(trendBasis(points(list), all(20), 2), bow)) expect(left).toBeCloseTo(0, 9);
    const rest = detrend(trendBasis(points(list), all(20), 1), bow);
    expect(Math.max(...rest.map(Math.abs))).toBeGreaterThan(1);
    expect(rest.reduce((s, v) => s + v, 0)).toBeCloseTo(0, 9);
    expect(rest.reduce((s, v, i) => s + v * list[i]!.x, 0)).toBeCloseTo(0, 6);
    const some = [0, 3, 7, 12, 19];
    expect([
      ...detrend(
        trendBasis(points(list), some, 0),
        some.map((i) => plane[i]!),
      ),
    ]).toEqual(some.map((i) => close(plane[i]! - some.reduce((s, k) => s + plane[k]! / 5, 0))));
  });

  it("has leverages that sum to its terms, largest at the corners", () => {
    const h = leverages(trendBasis(points(list), all(20), 1), 20);
    expect(h.reduce((a, b) => a + b, 0)).toBeCloseTo(3, 9);
    // 1/n + (x − x̄)²/Σ + (y − ȳ)²/Σ on a grid: 1/20 + 4/40 + 2.25/25
    expect(h[0]).toBeCloseTo(0.05 + 0.1 + 0.09, 9);
    expect(h[7]).toBeCloseTo(0.05 + 0 + 0.01, 9);
  });

  it("has the degree that foretells best, not the one that fits best", () => {
    const wide = spots(9, 7);
    const scatter = noise(4, 63, 0.2);
    const form = (of: (u: number, v: number) => number) =>
      wide.map(({ x, y }, i) => of((x - 300) / 200, (y - 100) / 120) + scatter[i]!);
    const degree = (of: (u: number, v: number) => number) => bestDegree(points(wide), form(of));
    expect(degree((u, v) => 9 * u - 4 * v)).toBe(1);
    expect(degree(() => 0)).toBe(1);
    expect(degree((u, v) => 9 * u * u + 5 * u * v)).toBe(2);
    expect(degree((u) => 9 * u ** 3)).toBe(3);
    expect(degree((u, v) => 9 * u ** 3 + 9 * u * u * v * v)).toBe(4);
    // four terms for ten values: 15 values carry 6 terms, 14 do not
    const few = (n: number) => {
      const narrow = spots(5, 3).slice(0, n);
      return bestDegree(
        points(narrow),
        narrow.map(({ x, y }) => (x - 200) ** 2 / 100 + (y * x) / 50 + y * y),
      );
    };
    expect([few(15), few(14)]).toEqual([2, 1]);
  });
});

describe("what stands off its neighbours", () => {
  const list = spots(5, 5);
  const tilted = list.map(({ x, y }) => 0.3 * x - 0.2 * y);

  it("is the height above the plane through the eight nearest", () => {
    for (const at of [12, 0, 4, 22]) {
      const lifted = tilted.map((z, i) => (i === at ? z + 7 : z));
      expect(offNeighbours(points(list), lifted, at)).toBeCloseTo(7, 9);
      expect(offNeighbours(points(list), tilted, at)).toBeCloseTo(0, 9);
    }
    // 24 is none of the eight nearest of 12, 13 is one: by 1/8 of it, less what the plane takes
    const far = tilted.map((z, i) => (i === 24 || i === 2 ? z + 80 : z));
    expect(offNeighbours(points(list), far, 12)).toBeCloseTo(0, 9);
    const near = tilted.map((z, i) => (i === 13 ? z + 80 : z));
    expect(offNeighbours(points(list), near, 12)).toBeCloseTo(-10, 9);
  });

  it("leaves out readings at its own spot, and says nothing of fewer than five or of a line that ends", () => {
    const twice = [...list, list[12]!];
    expect(offNeighbours(points(twice), [...tilted, 500], 12)).toBeCloseTo(0, 9);
    const five = list.slice(0, 5).map((one, i) => ({ ...one, y: i % 2 }));
    expect(offNeighbours(points(five), [1, 2, 3, 4, 5], 0)).toBeUndefined();
    const six = list.slice(0, 6).map((one, i) => ({ ...one, y: (i * i) % 3 }));
    expect(offNeighbours(points(six), [0, 0, 0, 9, 0, 0], 3)).toBeDefined();
    // all others on one line: nothing tells the plane at a place beside it
    const beside = [...list.slice(0, 5), { at: "Q", x: 200, y: 500 }].concat(
      [30, 60].map((x) => ({ at: `x${x}`, x, y: -20 })),
    );
    expect(
      offNeighbours(
        points(beside),
        beside.map(() => 1),
        5,
      ),
    ).toBeUndefined();
  });
});

describe("the scatter of passes", () => {
  const list = spots(4, 3);
  const form = (i: number) => (i * 7) % 5;

  it("is that about places and passes, offset and tilt of each pass taken out", () => {
    const plane = (_: number, x: number, y: number) => 4 + 0.02 * x - 0.03 * y;
    const smooth = aHeightTable(passesOf(list, form, (i, x, y) => form(i) + plane(i, x, y)));
    // ν = 24 readings − 12 places − 3 of the plane
    expect(passScatter(smooth)).toEqual({
      standardDeviation: close(0),
      degreesOfFreedom: 9,
      source: "passes against each other",
    });
    const e = noise(1, 12);
    const rough = aHeightTable(passesOf(list, form, (i, x, y) => form(i) + plane(i, x, y) + e[i]!));
    // two passes: half the differences, their plane taken out, on either side of the mean
    const left = detrend(trendBasis(points(list), all(12), 1), e);
    const sum = left.reduce((s, v) => s + v * v, 0) / 2;
    expect(passScatter(rough)!.standardDeviation).toBeCloseTo(Math.sqrt(sum / 9), 9);
    const three = aHeightTable(
      passesOf(
        list,
        form,
        (i) => form(i) + e[i]!,
        (i) => form(i) - 3,
      ),
    );
    expect(passScatter(three)!.degreesOfFreedom).toBe(36 - 12 - 6);
  });

  it("takes out an offset alone where fewer than six places were read twice", () => {
    const few = list.slice(0, 5);
    const tilted = aHeightTable(passesOf(few, form, (i, x) => form(i) + 0.01 * x));
    expect(passScatter(tilted)!.degreesOfFreedom).toBe(10 - 5 - 1);
    // differences rise by 0.5 from place to place over four, then one 0: about their mean, half of it
    const d = few.map(({ x }) => 0.01 * x);
    const mean = d.reduce((a, b) => a + b, 0) / 5;
    expect(passScatter(tilted)!.standardDeviation).toBeCloseTo(
      Math.sqrt(d.reduce((s, v) => s + (v - mean) ** 2, 0) / 2 / 4),
      9,
    );
    const six = list.slice(0, 6);
    expect(passScatter(aHeightTable(passesOf(six, form, (i, x) => form(i) + 0.01 * x)))!.standardDeviation).toBeCloseTo(
      0,
      9,
    );
    expect(passScatter(aHeightTable(passesOf(list, form)))).toBeUndefined();
    expect(passScatter(aHeightTable(passesOf(list.slice(0, 1), form, form)))).toBeUndefined();
  });

  it("of one pass read again is about the means alone", () => {
    const again = aHeightTable([...passesOf(list, form), ...passesOf(list.slice(0, 2), (i) => form(i) + 2)]);
    // two pairs 2 µm apart: 2 · 2 over two degrees of freedom
    expect(passScatter(again)).toMatchObject({ standardDeviation: close(Math.SQRT2), degreesOfFreedom: 2 });
  });

  it("holds with gaps too", () => {
    const e = noise(2, 24);
    const readings = passesOf(
      list,
      (i) => form(i) + e[i]!,
      (i, x) => form(i) + 5 + 0.1 * x + e[12 + i]!,
    ).filter(({ at, pass }) => !(at === "P3" && pass === 2) && !(at === "P7" && pass === 1));
    const found = passScatter(aHeightTable(readings))!;
    expect(found.degreesOfFreedom).toBe(22 - 12 - 3);
    // places read once say nothing: the ten others alone
    const both = all(12).filter((i) => i !== 3 && i !== 7);
    const d = both.map((i) => e[12 + i]! - e[i]!);
    const left = detrend(trendBasis(points(list), both, 1), d);
    expect(found.standardDeviation).toBeCloseTo(Math.sqrt(left.reduce((s, v) => s + v * v, 0) / 2 / 7), 6);
  });

  it("of visits is that within each", () => {
    expect(visitScatter([{ z: [1, 3] }, { z: [7] }, { z: [0, 3, 6] }])).toEqual({
      standardDeviation: close(Math.sqrt((2 + 18) / 3)),
      degreesOfFreedom: 3,
      source: "repeats at the datum",
    });
    expect(visitScatter([{ z: [1] }])).toBeUndefined();
    expect(visitScatter([])).toBeUndefined();
  });

  it("makes the doubt of a mean, not below step/√12 where repeats scatter by less than half a step", () => {
    const scatter = (standardDeviation: number) => ({ standardDeviation, degreesOfFreedom: 7, source: "s" });
    const u = (s: number, n: number, step: number) => meanUncertainty(scatter(s), n, step);
    expect(u(2, 4, 1)).toEqual({ standardUncertaintyUm: 1, degreesOfFreedom: 7, source: "s" });
    // half a step is believed, a hair less is not
    expect(u(0.5, 100, 1).standardUncertaintyUm).toBeCloseTo(0.05, 12);
    expect(u(0.49, 100, 1)).toEqual({
      standardUncertaintyUm: 1 / Math.sqrt(12),
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      source: "the resolution of the gauge, as repeats scatter by less than half a step",
    });
    // one reading that scatters by more than step/√12 is no better than that
    expect(u(0.49, 1, 1).standardUncertaintyUm).toBe(0.49);
    expect(u(2 / Math.sqrt(12), 1, 2).source).toBe("s");
    expect(meanUncertainty(undefined, 4, 3)).toEqual({
      standardUncertaintyUm: 3 / Math.sqrt(12),
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      source: "the resolution of the gauge alone, as nothing was read twice",
    });
  });

  it("rows of a pass are found by its number", () => {
    expect(rowsByPass(Int32Array.from([7, 2, 7, 2, 2]), [2, 7]).map((rows) => [...rows])).toEqual([
      [1, 3, 4],
      [0, 2],
    ]);
  });
});

describe("passes against each other", () => {
  const list = spots(6, 5);
  const form = (_: number, x: number, y: number) => (x / 60) ** 2 - y / 30 + (x * y) / 9000;
  const e = noise(11, 90, 0.6);
  const pass =
    (k: number, change: (i: number) => number = () => 0) =>
    (i: number, x: number, y: number) =>
      Math.round(form(i, x, y) + e[30 * k + i]! + change(i));
  const table = (...changes: ((i: number) => number)[]) =>
    aHeightTable(passesOf(list, ...changes.map((change, k) => pass(k, change))));
  const none = () => 0;
  const lift = (at: number, by: number) => (i: number) => (i === at ? by : 0);

  it("have mean heights, and none where a place was not read", () => {
    const made = aHeightTable([
      { at: "A", z: 1 },
      { at: "A", z: 4 },
      { at: "B", x: 1, z: 7, pass: 3 },
    ]);
    expect(heightsByPass(made)).toEqual([
      [2.5, undefined],
      [undefined, 7],
    ]);
  });

  it("disagree nowhere where nothing is wrong, and there is nothing to say of one pass", () => {
    expect(passDisagreements(table(none, none), 0.02)).toEqual([]);
    expect(passDisagreements(table(none, none, none), 0.02)).toEqual([]);
    expect(passDisagreements(table(none), 0.02)).toEqual([]);
  });

  it.each([
    [lift(14, 20), none, 1, "it stands off its neighbours, and swarf reads high"],
    [none, lift(14, 20), 2, "it stands off its neighbours, and swarf reads high"],
    [lift(14, -20), none, 1, "it stands off its neighbours; it reads low, so think of a slip or a slot before swarf"],
    [none, lift(14, -20), 2, "it stands off its neighbours; it reads low, so think of a slip or a slot before swarf"],
  ])("of two the one that stands off is likelier wrong: %#", (first, second, wrong, why) => {
    const [found, ...more] = passDisagreements(table(first, second), 0.02);
    expect(more).toEqual([]);
    expect(found).toMatchObject({ place: 14, pass: 2, against: [1], likelierWrong: wrong, why });
    const sign = second(14) - first(14) > 0 ? 1 : -1;
    expect(sign * found!.difference).toBeGreaterThan(16);
    expect(sign * found!.difference).toBeLessThan(24);
    expect(found!.chance).toBeLessThan(0.001);
  });

  it("of two nothing speaks for one where both stand off alike", () => {
    const [found] = passDisagreements(table(lift(14, 12), lift(14, -12)), 0.02);
    expect(found).toMatchObject({
      place: 14,
      likelierWrong: undefined,
      why: "the neighbours fit both equally well",
    });
  });

  it("of two the one that stands off is found along a line of places too", () => {
    // places on one line know no plane beside it, but one along it
    const row = Array.from({ length: 12 }, (_, i) => ({ at: `P${i}`, x: 20 * i, y: 0 }));
    const lifted = (by: number) =>
      passDisagreements(
        aHeightTable([
          ...row.map((one, i): Read => ({ ...one, z: i % 2 })),
          ...row.map((one, i): Read => ({ ...one, z: (i % 2) + (i === 5 ? by : 0) + ((i * 5) % 3) - 1, pass: 2 })),
        ]),
        0.02,
      )[0];
    expect(lifted(40)).toMatchObject({ place: 5, likelierWrong: 2 });
    expect(lifted(-40)).toMatchObject({ place: 5, likelierWrong: 2 });
  });

  it("of two the higher is likelier wrong where the neighbours of one cannot say", () => {
    // the second pass read two rows far apart and one place between them: its eight nearest lie on one row
    const grid = spots(10, 9, 20, 40);
    const alone = 15;
    const part = grid.filter((_, i) => i < 10 || i >= 80 || i === alone);
    const lifted = (by: number) =>
      passDisagreements(
        aHeightTable([
          ...grid.map((one, i): Read => ({ ...one, z: Math.round(e[i]!) })),
          ...part.map(
            (one, i): Read => ({ ...one, z: Math.round(e[89 - i]!) + (one === grid[alone] ? by : 0), pass: 2 }),
          ),
        ]),
        0.02,
      );
    const why = "swarf reads high; the neighbours cannot say";
    expect(lifted(25)).toMatchObject([{ place: alone, likelierWrong: 2, why }]);
    expect(lifted(-25)).toMatchObject([{ place: alone, likelierWrong: 1, why }]);
  });

  it("of three the one that stands out is wrong, by as much as the mean of the others", () => {
    for (const k of [0, 1, 2]) {
      const changes = [none, none, none].map((change, j) => (j === k ? lift(8, -15) : change));
      const [found, ...more] = passDisagreements(table(...changes), 0.02);
      expect(more).toEqual([]);
      expect(found).toMatchObject({
        place: 8,
        pass: k + 1,
        against: [1, 2, 3].filter((j) => j !== k + 1),
        likelierWrong: k + 1,
        why: "the other passes agree",
      });
      expect(found!.difference).toBeLessThan(-12);
      expect(found!.difference).toBeGreaterThan(-18);
    }
  });

  it("a place that lacks a pass is not judged", () => {
    const made = table(none, lift(14, 30));
    const rows = [...made.place.keys()].filter((i) => !(made.place[i] === 14 && made.pass[i] === 1));
    const less = aHeightTable(rows.map((i) => ({ ...list[made.place[i]!]!, z: made.z[i]!, pass: made.pass[i]! })));
    expect(passDisagreements(less, 0.02)).toEqual([]);
  });

  it("are shifted and tilted by what a plane through their differences says", () => {
    const tilted = aHeightTable(
      passesOf(list, form, (i, x, y) => form(i, x, y) - 7 + 0.02 * (x - 225) + 0.05 * (y - 60)),
    );
    const [found, ...more] = passShifts(tilted, 2);
    expect(more).toEqual([]);
    // 250 mm at 0.02 and 160 mm at 0.05 µm/mm from corner to corner
    expect(found).toEqual({
      pass: 2,
      offset: close(-7),
      standardUncertainty: close((2 * Math.SQRT2) / Math.sqrt(30)),
      tiltRange: close(5 + 8),
      degreesOfFreedom: 2,
      places: 30,
      tiltChiSquared: close(list.reduce((s, { x, y }) => s + (0.02 * (x - 225) + 0.05 * (y - 60)) ** 2, 0) / 8),
    });
    const three = aHeightTable(
      passesOf(
        list,
        form,
        (i, x, y) => form(i, x, y) + 1,
        (i, x, y) => form(i, x, y) + 2,
      ),
    );
    expect(passShifts(three, 1).map(({ pass: p, offset }) => [p, offset])).toEqual([
      [2, close(1)],
      [3, close(2)],
    ]);
  });

  it("are compared only over six places or more that both read", () => {
    const two = (n: number) =>
      passShifts(
        aHeightTable([
          ...passesOf(list, form),
          ...passesOf(list.slice(0, n), form).map((one) => ({ ...one, pass: 2 })),
        ]),
        1,
      );
    expect(two(5)).toEqual([]);
    expect(two(6)).toHaveLength(1);
  });
});

describe("values that stand out", () => {
  const list = spots(8, 5);
  const e = noise(21, 40);
  const test = (values: readonly number[], more: Partial<OutlierTest> = {}): OutlierTest => ({
    points: points(list),
    values,
    degree: 1,
    step: 0,
    roundingVariance: 0,
    leastSpread: 0,
    familyRate: 0.02,
    family: 40,
    ...more,
  });
  const lifted = (at: number, by: number) => e.map((z, i) => (i === at ? z + by : z));

  it("are found with their distance from the trend of the others, and the chance of as much", () => {
    const [found, ...more] = findOutliers(test(lifted(17, 9)));
    expect(more).toEqual([]);
    // deleted residual: the plane through the other 39, by itself
    const rest = all(40).filter((i) => i !== 17);
    const basis = trendBasis(points(list), all(40), 1);
    const residual = detrend(basis, lifted(17, 9));
    const h = leverages(basis, 40)[17]!;
    expect(found).toMatchObject({ index: 17, size: close(residual[17]! / (1 - h)) });
    const others = detrend(
      trendBasis(points(list), rest, 1),
      rest.map((i) => e[i]!),
    );
    const s = Math.sqrt(others.reduce((sum, r) => sum + r * r, 0) / 36);
    // externally studentised residual: Student's t with n − p − 1, for either side of each of 40 values
    const t = residual[17]! / Math.sqrt(1 - h) / s;
    expect(found!.chance).toBeCloseTo(80 * tCdf(-t, 36), 9);
  });

  it("are found low too, unless high ones alone are looked for", () => {
    expect(findOutliers(test(lifted(17, -9)))[0]!.size).toBeLessThan(-7);
    expect(findOutliers(test(lifted(17, -9), { highOnly: true }))).toEqual([]);
    const high = findOutliers(test(lifted(17, 6.5), { highOnly: true }))[0]!;
    expect(high.index).toBe(17);
    // one side only: half the chance
    expect(findOutliers(test(lifted(17, 6.5)))[0]!.chance / high.chance).toBeCloseTo(2, 6);
  });

  it("are found together, though each hides the other", () => {
    const three = e.map((z, i) => ([3, 21, 33].includes(i) ? z + 9 : z));
    expect(
      findOutliers(test(three))
        .map(({ index }) => index)
        .sort((a, b) => a - b),
    ).toEqual([3, 21, 33]);
    expect(findOutliers(test(e))).toEqual([]);
  });

  it("are not looked for where fewer than three degrees of freedom are left, nor more than a quarter of them", () => {
    const few = (n: number) =>
      findOutliers(
        test(
          list.slice(0, n).map((_, i) => (i === 1 ? 999 : 0.001 * ((i * 7) % 3))),
          { points: points(spots(3, 4).slice(0, n)), family: n },
        ),
      ).length;
    // the farthest of n values stands off by √(n − 3) spreads at most, and 2.2 are asked for: from 8 on
    expect([few(6), few(7), few(8)]).toEqual([0, 0, 1]);
    const many = e.map((z, i) => (i % 2 === 0 ? z + 900 * (1 + i) : z));
    expect(findOutliers(test(many)).length).toBeLessThanOrEqual(10);
  });

  it("have their chance averaged over one step, which is taken out of the spread", () => {
    const rounded = lifted(17, 9).map((z) => 2 * Math.round(z / 2));
    const plain = findOutliers(test(rounded))[0]!;
    const stepped = findOutliers(test(rounded, { step: 2 }))[0]!;
    const basis = trendBasis(points(list), all(40), 1);
    const residual = detrend(basis, rounded);
    const h = leverages(basis, 40)[17]!;
    const r = residual[17]! / Math.sqrt(1 - h);
    const variance = (residual.reduce((s, v) => s + v * v, 0) - r * r) / 36;
    const tail = (spread: number) => {
      // the mean of the tail from r − 2 to r by the midpoint rule
      const parts = 2000;
      let sum = 0;
      for (let k = 0; k < parts; k++) sum += tCdf(-(r - 2 + (2 * (k + 0.5)) / parts) / spread, 36);
      return (80 * sum) / parts;
    };
    expect(plain.chance / (80 * tCdf(-r / Math.sqrt(variance), 36))).toBeCloseTo(1, 6);
    expect(stepped.chance / tail(Math.sqrt(variance))).toBeCloseTo(1, 3);
    const less = findOutliers(test(rounded, { step: 2, roundingVariance: 1 / 3 }))[0]!;
    expect(less.chance / tail(Math.sqrt(variance - 1 / 3))).toBeCloseTo(1, 3);
    const more = findOutliers(test(rounded, { step: 2, leastSpread: 3 }));
    expect(more).toEqual([]);
    const least = findOutliers(test(rounded, { step: 2, leastSpread: 1.6, familyRate: 1 }))[0]!;
    expect(least.chance / tail(1.6)).toBeCloseTo(1, 3);
  });
});

describe("places that stand off the smooth run of the others", () => {
  const list = spots(9, 6);
  const bow = (x: number, y: number) => ((x - 300) / 60) ** 2 - ((y - 80) / 50) ** 2;
  const e = noise(31, 54, 0.4);
  const heights = (at: number, by: number) =>
    list.map(({ x, y }, i) => Math.round(10 * (bow(x, y) + e[i]! + (i === at ? by : 0))) / 10);
  const table = aHeightTable(
    passesOf(list, (i, x, y) => bow(x, y) + e[i]!),
    { step: 0.1 },
  );

  it("are found high or low, with how far", () => {
    for (const by of [9, -9]) {
      const [found, ...more] = spatialOutliers(table, heights(22, by), undefined, 0.006);
      expect(more).toEqual([]);
      expect(found!.index).toBe(22);
      expect(Math.abs(found!.size - by)).toBeLessThan(1.5);
    }
    expect(spatialOutliers(table, heights(22, 0), undefined, 0.006)).toEqual([]);
  });

  it("are not believed below what repeats scatter by", () => {
    const scatter = (standardDeviation: number) => ({ standardDeviation, degreesOfFreedom: 50, source: "s" });
    expect(spatialOutliers(table, heights(22, 4), scatter(0.4), 0.006)).toHaveLength(1);
    expect(spatialOutliers(table, heights(22, 4), scatter(3), 0.006)).toEqual([]);
    // means of 36 readings scatter by a sixth of it
    const often = aHeightTable(passesOf(list, ...all(36).map(() => (i: number) => e[i]!)), { step: 0.1 });
    expect(spatialOutliers(often, heights(22, 4), scatter(3), 0.006)).toHaveLength(1);
  });

  it("are no corner that falls away smoothly", () => {
    const worn = list.map(
      ({ x, y }, i) => bow(x, y) + e[i]! - 40 * Math.exp(-(((x - 100) / 70) ** 2) - ((y + 20) / 70) ** 2),
    );
    expect(spatialOutliers(table, worn, undefined, 0.006).map(({ index }) => index)).not.toContain(0);
  });

  it("single readings are asked about where they are high alone", () => {
    const rows = passesOf(
      list,
      (i, x, y) => bow(x, y) + e[i]!,
      (i, x, y) => bow(x, y) + e[53 - i]!,
    );
    const made = aHeightTable(rows, { step: 0.1 });
    const changed = (at: number, by: number) => made.z.map((z, i) => (i === at ? z + by : z));
    const found = readingOutliers(made, changed(54 + 22, 6), 0.025);
    expect(found.map(({ index }) => index)).toEqual([76]);
    expect(Math.abs(found[0]!.size - 6)).toBeLessThan(1.5);
    expect(readingOutliers(made, changed(54 + 22, -6), 0.025)).toEqual([]);
    expect(readingOutliers(made, made.z, 0.025)).toEqual([]);
  });
});
