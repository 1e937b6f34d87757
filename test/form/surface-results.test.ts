import { describe, expect, it } from "vitest";
import { FittedSurface } from "../../kernel-lib/src/form/fitted-surface.js";
import { surface } from "../../kernel-lib/src/form/index.js";
import { SurfaceComparison } from "../../kernel-lib/src/form/surface-comparison.js";
import { domainOf } from "../../kernel-lib/src/form/surface-domain.js";
import { LeaveOneOut } from "../../kernel-lib/src/form/surface-left-out.js";
import type { FittedMethod } from "../../kernel-lib/src/form/surface-method.js";
import { nextOn } from "../../kernel-lib/src/form/surface-next.js";
import { SurfaceRaster } from "../../kernel-lib/src/form/surface-raster.js";
import { volumeOver } from "../../kernel-lib/src/form/surface-volume.js";
import { deg, mm, um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/surface.js";
import { refusal } from "../refusal.js";
import { budgetLines } from "./budget-lines.js";
import { mapOf } from "./planted.js";

const corners = [0, 40].flatMap((xMm) =>
  [0, 20].map((yMm) => ({ label: `${xMm}/${yMm}`, xMm, yMm, zUm: 0, count: 2 })),
);
const dial = { name: "dial", resolution: um(0.1), maximumPermissibleError: um(3) };
const map: Surface = { ...mapOf(corners, { standardUncertaintyUm: 2, degreesOfFreedom: 30 }), gauge: dial };
const domain = domainOf({ x: corners.map((p) => p.xMm), y: corners.map((p) => p.yMm), z: [] }, {});
/** cells of 10 mm, 4 × 2, each with the height and u given for it */
const rasterOf = (heightsUm: readonly number[], uUm: readonly number[]) =>
  SurfaceRaster.over(domain, 4, () => ({ meanUm: heightsUm, uUm }));
const isNear = (found: number, wanted: number, digits = 9) => expect(found / wanted).toBeCloseTo(1, digits);

describe("the volume above a level", () => {
  // u 2 µm: seven cells far below the level, one at it; then one standard uncertainty above and below
  const only = (first: number, u = 2) => rasterOf([first, ...new Array(7).fill(-1000)], new Array(8).fill(u));
  const volume = (raster: SurfaceRaster, of: () => readonly number[] | undefined = () => undefined) =>
    volumeOver(map, raster, um(6), of);

  it("expects of each cell what the loss function of the normal law says (tables: 0.3989 at 0, 1.0833 at 1, 0.0833 at −1)", () => {
    for (const [height, loss] of [
      [6, "0.3989"],
      [8, "1.0833"],
      [4, "0.0833"],
    ] as const) {
      // µm × mm² is 1e-3 mm³
      expect((volume(only(height)).in("mm3") / (2 * 100 * 1e-3)).toFixed(4)).toBe(loss);
    }
    const two = rasterOf([6, 8, ...new Array(6).fill(-1000)], new Array(8).fill(2));
    expect((volume(two).in("mm3") / 0.2).toFixed(3)).toBe("1.482");
  });

  it("rests on the heights as they go together, and on the gauge in all of them", () => {
    // chances 0.5 and 0.8413; own part of u without the gauge: 2² − 3²/3 = 1
    const raster = rasterOf([6, 8, ...new Array(6).fill(-1000)], new Array(8).fill(2));
    const asked: (readonly number[])[] = [];
    const found = volumeOver(map, raster, um(6), (x, y) => {
      asked.push(x, y);
      return [4, 1, 1, 9];
    });
    expect(asked).toEqual([
      [5, 15],
      [5, 5],
    ]);
    const [p, q] = [0.5, 0.841344746];
    const together = Math.sqrt(4 * p * p + 2 * p * q + 9 * q * q);
    const gauge = (p + q) * (3 / Math.sqrt(3));
    expect(budgetLines(found, 1e9, 6)).toEqual([
      `heights: readings, drift and form between the places: ${Number((together * 0.1).toPrecision(6))}, t, 30, A, surface between the places`,
      `gauge, error of the heights: ${Number((gauge * 0.1).toPrecision(6))}, rectangular, Infinity, B, maximum permissible error of dial, ± over the range used`,
    ]);
    // not known to go together: as if all were one error, the gauge's own part apart
    isNear(volume(raster).terms[0]!.sensitivity * 1e9, (p + q) * 0.1, 8);
  });

  it("has no doubt from the heights where none reaches the level, or where they know less than the gauge", () => {
    expect(volume(only(-1000)).in("mm3")).toBeLessThan(1e-12);
    expect(volume(only(-1000)).terms.map(({ input }) => input.label)).not.toContain(
      "heights: readings, drift and form between the places",
    );
    expect(volume(only(6, 1)).terms.map(({ input }) => input.label)).toEqual(["gauge, error of the heights"]);
    expect(volumeOver(map, only(6), um(6), () => [-1]).terms).toHaveLength(1);
    for (const [level, said] of [
      [10, "10"],
      [deg(10), "10°"],
    ] as const) {
      expect(refusal(() => volumeOver(map, only(6), level as never, () => undefined))).toEqual({
        code: "level",
        message: `volumeAbove: the level is ${said}; give a length, such as um(10)`,
      });
    }
  });
});

describe("where to read next", () => {
  const raster = rasterOf([1, 2, 3, 4, 5, 6, 7, 8], new Array(8).fill(1));
  // eight cells: the third is the least known, cells 5 and 6 go together closely, the rest is known well
  const c = Array.from({ length: 8 }, () => new Array<number>(8).fill(0));
  for (const [i, v] of [1, 1, 12, 1, 9, 9, 1, 1].entries()) c[i]![i] = v;
  c[4]![5] = 8;
  c[5]![4] = 8;
  const next = (count: number) => nextOn(map, "gaussian process", raster, count, () => c.flat());

  it("takes first what lowers the variance of the whole most, then each as if those before were read", () => {
    const { places } = next(3);
    // noise 4: cell 2 gains 144/16 = 9; cell 4 gains (81 + 64)/13 = 11.15 and goes first; before 35/8
    expect(places.map(({ xMm, yMm }) => [xMm, yMm])).toEqual([
      [5, 15],
      [25, 5],
      [15, 15],
    ]);
    const afterFirst = 9 - 64 / 13;
    expect(places.map(({ reason }) => reason)).toEqual([
      `known to 3.0 µm (standard uncertainty, without the gauge); a reading here takes ${((100 * 145) / 13 / 35).toFixed(1)} % off the mean variance of the surface`,
      `known to 3.5 µm (standard uncertainty, without the gauge); a reading here takes ${((100 * 9) / 35).toFixed(1)} % off the mean variance of the surface`,
      `known to ${Math.sqrt(afterFirst).toFixed(1)} µm (standard uncertainty, without the gauge); a reading here takes ${((100 * (afterFirst ** 2 + (8 - 72 / 13) ** 2)) / (afterFirst + 4) / 35).toFixed(1)} % off the mean variance of the surface`,
    ]);
    isNear(places[0]!.gain, 3 / Math.sqrt(35 / 8));
    isNear(places[1]!.gain, Math.sqrt(12) / Math.sqrt(35 / 8));
  });

  it("asks for 1 to 50, no more than there are cells", () => {
    expect(next(50).places).toHaveLength(8);
    expect(next(1).places).toHaveLength(1);
    for (const count of [0, 51, 1.5, Number.NaN]) {
      expect(refusal(() => next(count))).toEqual({
        code: "count",
        message: `nextPlaces: ${count} places; give a whole number from 1 to 50`,
      });
    }
    expect(refusal(() => nextOn(map, "triangulated", raster, 3, () => undefined))).toEqual({
      code: "method",
      message:
        'nextPlaces: a triangulated surface does not know how its errors go together; take "gaussian process" or "thin-plate spline", or survey.whereNext',
    });
  });

  it("gives the covariances the places of the cells", () => {
    nextOn(map, "gaussian process", raster, 1, (x, y) => {
      expect([x, y]).toEqual([
        [5, 15, 25, 35, 5, 15, 25, 35],
        [5, 5, 5, 5, 15, 15, 15, 15],
      ]);
      return c.flat();
    });
  });
});

describe("places left out by turns", () => {
  const found = new LeaveOneOut(map, "triangulated", {
    residualsUm: [3, Number.NaN, -4, 1],
    standardDeviationsUm: [1, 9, 2, 2],
  });

  it("are those that the others surround, with what they miss and how much they should", () => {
    expect(found.places).toEqual([
      { label: "0/0", residualUm: 3, standardDeviationUm: 1 },
      { label: "40/0", residualUm: -4, standardDeviationUm: 2 },
      { label: "40/20", residualUm: 1, standardDeviationUm: 2 },
    ]);
    expect(found.rootMeanSquare.in("um")).toBeCloseTo(Math.sqrt(26 / 3), 12);
    expect(found.ratio).toBeCloseTo(Math.sqrt(13.25 / 3), 12);
    expect(found.farthest.label).toBe("0/0");
  });

  it("are told in one sentence, the farthest by name", () => {
    expect(`${found}`).toBe(
      "triangulated, 3 places of planted map left out by turns: missed by 2.9 µm (root mean square), 2.1 times what its doubt says; farthest 0/0, 3 µm or 3 standard deviations",
    );
    const low = new LeaveOneOut(map, "bilinear", { residualsUm: [3, 2, -5, 1], standardDeviationsUm: [1, 1, 1, 1] });
    expect(`${low}`).toMatch(/; farthest 40\/0, −5 µm or 5 standard deviations$/);
  });

  it("stand method beside method, what misses least first", () => {
    const rows = [
      { method: "bilinear", places: 12, missedUm: 1.234, ratio: 0.98 },
      { method: "triangulated", places: 12, missedUm: 2, ratio: 1.5 },
    ] as const;
    expect(`${new SurfaceComparison(map, rows)}`).toBe(
      "places of planted map left out by turns are missed by, root mean square over 12 places: bilinear 1.2 µm (0.98 times its doubt), triangulated 2.0 µm (1.5 times its doubt)",
    );
  });
});

describe("a surface between the places of a map", () => {
  const rows = [0, 1, 2, 3].flatMap((i) =>
    [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 80 * j, zUm: i * j, count: 2 })),
  );
  const known: Surface = { ...mapOf(rows, { standardUncertaintyUm: 0.5, degreesOfFreedom: 12 }), gauge: dial };
  const bilinear = surface(known, { method: "bilinear", reference: "zero" });
  const statement =
    "bilinear over the cells of the grid; a place left out is missed by 0.0 µm beyond the noise of its readings, a gap half as wide is taken to be missed by a quarter of that";
  const gauge = ", rectangular, Infinity, B, maximum permissible error of dial, ± over the range used";
  const root3 = Number(Math.sqrt(3).toPrecision(6));

  it("says at a place what it rests on, the gauge once", () => {
    const at = bilinear.at({ x: mm(150), y: mm(80) });
    expect(at.in("um")).toBeCloseTo(1.5, 12);
    // two places of u 0.5, half of each
    expect(budgetLines(at)).toEqual([
      `readings, drift and form between the places: ${Number((0.5 * Math.SQRT1_2).toPrecision(6))}, t, 12, A, ${statement}`,
      `gauge, error of the height: ${root3}${gauge}`,
    ]);
  });

  it("says of a difference that both doubts may go against each other where the method knows no better", () => {
    const apart = bilinear.difference({ x: mm(300), y: mm(160) }, { x: mm(150), y: mm(80) });
    expect(apart.in("um")).toBeCloseTo(4.5, 12);
    expect(budgetLines(apart)).toEqual([
      `readings, drift and form between the places, of both: ${Number((0.5 + 0.5 * Math.SQRT1_2).toPrecision(6))}, t, 12, A, ${statement}`,
      `gauge, error between the two heights: ${root3}${gauge}`,
    ]);
    const onRow = bilinear.difference({ x: mm(0), y: mm(0) }, { x: mm(0), y: mm(160) });
    expect(onRow.in("um")).toBeCloseTo(0, 12);
    expect(bilinear.difference({ x: mm(0), y: mm(0) }, { x: mm(300), y: mm(0) }).in("um")).toBeCloseTo(0, 12);
  });

  it("is one sentence with method, doubt, gauge and what it does not hold", () => {
    expect(`${bilinear}`).toMatch(
      /^surface between the 12 places of planted map, relative to gravity: bilinear over the cells of the grid; .+ of that; standard uncertainty 1\.8 µm, the gauge's 1\.7 µm in it; the band does not hold a ding smaller than the pitch, 100 × 80 mm$/,
    );
    expect(bilinear.method).toBe("bilinear");
    expect(bilinear.leaveOneOut().places.map(({ label }) => label)).toEqual([
      ...["P01", "P10", "P11", "P12", "P20", "P21", "P22", "P31"],
    ]);
  });

  it("counts from the least-squares plane of the readings unless said otherwise", () => {
    // plane of i j over 4 × 3 places: mean 1.5, slopes 1 a column and 1.5 a row
    const found = surface(known, { method: "bilinear" });
    expect(found.at({ x: mm(300), y: mm(160) }).in("um")).toBeCloseTo(6 - (1.5 + 1.5 + 1.5), 9);
    expect(found.reference).toEqual({
      name: "plane",
      slopeX: expect.closeTo(0.01, 12),
      slopeY: expect.closeTo(1.5 / 80, 12),
      offset: expect.closeTo(-1.5, 9),
    });
    expect(bilinear.reference).toEqual({ name: "zero", slopeX: 0, slopeY: 0, offset: 0 });
  });

  it("puts the gauge into the raster of its heights, and into that of a picture where it is asked for", () => {
    const [plain, all] = [false, true].map((withGauge) => bilinear.pictureRaster(3, withGauge));
    expect(plain!.xsMm).toEqual([0, 100, 200, 300]);
    expect([plain!.at(1, 1)!.uUm, all!.at(1, 1)!.uUm]).toEqual([
      0.5,
      expect.closeTo(Math.hypot(0.5, Math.sqrt(3)), 12),
    ]);
    expect(bilinear.raster(30).uRange[1]).toBeGreaterThan(Math.sqrt(3));
    expect(bilinear.raster().xsMm).toHaveLength(60);
    const slotted = surface(known, {
      method: "bilinear",
      slots: [{ along: "x", at: mm(100), width: mm(30) }],
    });
    expect(slotted.raster(30).at(10, 10)).toBeUndefined();
    expect(slotted.pictureRaster(30, true).at(10, 10)).toBeDefined();
  });

  it("weighs a place by its number of readings, but never surer than the gauge resolves", () => {
    // usual number: 12/(11/2 + 1/8); u² = 0.25 × usual/count
    const counted = rows.map((p, i) => ({ ...p, count: i === 4 ? 8 : 2 }));
    const usual = 12 / (11 / 2 + 1 / 8);
    const u = (resolution: number) =>
      surface(
        { ...known, places: counted, gauge: { ...dial, resolution: um(resolution) } },
        { method: "bilinear" },
      ).heights([0, 100], [0, 80], false).uUm;
    expect(u(0.1)).toEqual([
      expect.closeTo(Math.sqrt((0.25 * usual) / 2)),
      expect.closeTo(Math.sqrt((0.25 * usual) / 8)),
    ]);
    expect(u(1.2)[1]).toBeCloseTo(1.2 / Math.sqrt(12), 9);
  });

  it("says next to a place not probed that nothing is known", () => {
    const cut = surface({ ...known, places: rows.filter(({ label }) => label !== "P32") }, { method: "bilinear" });
    expect(refusal(() => cut.at({ x: mm(240), y: mm(110) }))).toEqual({
      code: "no-surface",
      message:
        "surface of planted map: x 240 mm, y 110 mm lies next to a place not probed; ask for a place on the surface, between the places probed",
    });
  });

  it("refuses noise of nothing, noise known from nothing, and a map that is too large", () => {
    const of = (noise: Surface["noise"]) => refusal(() => surface({ ...known, noise }, { method: "bilinear" }));
    expect(of({ standardUncertaintyUm: 0, degreesOfFreedom: 12 })).toEqual({
      code: "noise",
      message:
        "surface: the noise of planted map is 0 µm with 12 degrees of freedom; both must be greater than zero, repeat some places",
    });
    expect(of({ standardUncertaintyUm: 1, degreesOfFreedom: 0 }).code).toBe("noise");
    const large = (columns: number, count: number) =>
      mapOf(
        Array.from({ length: count }, (_, i) => ({
          ...{ label: `P${i}`, xMm: i % columns, yMm: Math.floor(i / columns), zUm: 0, count: 1 },
        })),
      );
    expect(refusal(() => surface(large(200, 13_000))).message).toBe(
      "surface: planted map has 13000 places, 3000 are the most; keep one in 3 of each row and column, or take the table in parts",
    );
    expect(refusal(() => surface(large(100, 3001))).message).toContain("keep every second row and column");
  });

  it("names one reading in a gap as one", () => {
    expect(refusal(() => surface(known, { holes: [{ x: mm(100), y: mm(80), diameter: mm(9) }] }))).toEqual({
      code: "in-a-gap",
      message:
        "surface: 1 of 12 places of planted map lies where the table has no surface (P11 in a hole); leave this reading out, or correct the place or what is said of slots, holes and obstacles",
    });
  });
});

describe("the chance to stand above a limit", () => {
  const rows = [0, 1, 2].flatMap((i) =>
    [0, 1, 2].map((j) => ({
      label: `P${i}${j}`,
      xMm: 100 * i,
      yMm: 100 * j,
      zUm: i === 2 && j === 2 ? 20 : 0,
      count: 2,
    })),
  );
  const known = mapOf(rows, { standardUncertaintyUm: 2, degreesOfFreedom: 30 });
  const found = surface(known, { method: "triangulated", reference: "zero" });

  it("is a half where the height is the limit, 0.84 one standard uncertainty below it", () => {
    const spot = { x: mm(200), y: mm(200) };
    const u = found.at(spot).standardUncertainty.in("um");
    expect(found.chanceAbove(um(20)).at(spot)).toBeCloseTo(0.5, 9);
    expect(
      found
        .chanceAbove(um(20 - u))
        .at(spot)
        .toFixed(4),
    ).toBe("0.8413");
    expect(found.chanceAbove(um(20)).of({ heightUm: 18, uUm: 2 }).toFixed(4)).toBe("0.1587");
  });

  it("is told with its place, the area to be expected and the sureness at both ends", () => {
    const sentence = (limit: number) => `${found.chanceAbove(um(limit))}`;
    expect(sentence(-100)).toMatch(
      /^chance that planted map stands more than −100 µm high: over 99 % at x \d+ mm, y \d+ mm \(.+\), where it is greatest; 400 cm² to be expected; the band does not hold a ding smaller than the pitch, 100 × 100 mm$/,
    );
    expect(sentence(60)).toContain(
      "stands more than 60 µm high: below 1 % at x 198 mm, y 198 mm (right back), where it is greatest; less than 0.01 cm² to be expected; ",
    );
    const { x, y, chance, where } = found.chanceAbove(um(19)).greatest;
    expect([x.in("mm").toFixed(3), y.in("mm").toFixed(3), where]).toEqual(["198.333", "198.333", "right back"]);
    expect(sentence(19)).toContain(`${(100 * chance).toFixed(0)} % at x 198 mm`);
    const fromPlane = surface(known, { method: "triangulated" }).chanceAbove(um(19));
    expect(`${fromPlane}`).toMatch(
      /^chance that planted map stands more than 19 µm high above the least-squares plane: /,
    );
  });

  it("adds up to the area to be expected", () => {
    const chance = found.chanceAbove(um(5));
    const cells = found.raster(60).toArray();
    const [one] = cells;
    expect(chance.of(one!)).toBeCloseTo(chance.at({ x: mm(one!.xMm), y: mm(one!.yMm) }), 12);
    const sum = cells.reduce((s, cell) => s + chance.of(cell), 0);
    expect(chance.expectedArea.in("mm2")).toBeCloseTo((sum * 200 * 200) / 3600, 6);
  });

  it("asks for a length", () => {
    for (const [limit, said] of [
      [10, "10"],
      [deg(10), "10°"],
    ] as const) {
      expect(refusal(() => found.chanceAbove(limit as never))).toEqual({
        code: "limit",
        message: `chanceAbove: the limit is ${said}; give a length, such as um(10)`,
      });
    }
  });
});

describe("a surface of any method", () => {
  const asked: number[] = [];
  const own: FittedMethod = {
    name: "thin-plate spline",
    statement: "as given",
    heights: (x, y) => ({ meanUm: x.map((v, i) => 2 * v + y[i]!), uUm: x.map(() => 0.3) }),
    leftOut: () => ({ residualsUm: [1, 2, 3, 4], standardDeviationsUm: [1, 1, 1, 1] }),
    covariances: (x) => {
      asked.push(x.length);
      return x.length === 2 ? [4, 1, 0.5, 9] : x.flatMap((_, i) => x.map((__, j) => (i === j ? 0.09 : 0)));
    },
  };
  const reference = { name: "plane", slopeX: 0.5, slopeY: -1, offset: 7 } as const;
  const found = new FittedSurface(map, domain, reference, { x: 40, y: 20, grid: true }, own);

  it("counts heights from its reference, and takes off a difference what both heights share", () => {
    const [a, b] = [
      { x: mm(30), y: mm(10) },
      { x: mm(10), y: mm(20) },
    ];
    // 2 x + y less 0.5 x − y + 7
    expect(found.at(a).in("um")).toBeCloseTo(1.5 * 30 + 2 * 10 - 7, 9);
    const apart = found.difference(a, b);
    expect(apart.in("um")).toBeCloseTo(1.5 * 20 - 2 * 10, 9);
    expect(budgetLines(apart)[0]).toBe(
      `readings, drift and form between the places, of both: ${Number(Math.sqrt(4 + 9 - 1.5).toPrecision(6))}, t, 30, A, as given`,
    );
    const same = { x: mm(30), y: mm(10) };
    expect(refusal(() => found.difference(a, same)).code).toBe("same-place");
  });

  it("asks the method how errors go together for volumes and for what to read next, six places unless said otherwise", () => {
    asked.length = 0;
    expect(found.nextPlaces().places).toHaveLength(6);
    expect(found.nextPlaces(2).places).toHaveLength(2);
    // 26 × 13 and 40 × 20 cells
    expect(asked).toEqual([338, 338]);
    const volume = found.volumeAbove(um(-1000));
    expect(asked[2]).toBe(800);
    // all of it stands above: the mean height over the table is 1.5 × 20 + 2 × 10 − 7 µm
    expect(volume.in("mm3")).toBeCloseTo((43 + 1000) * 1e-3 * 40 * 20, 6);
    // independent cells of 1 mm²: 0.3 µm × √800
    expect(budgetLines(volume, 1e9)[0]).toBe(
      `heights: readings, drift and form between the places: ${Number((0.3e-3 * Math.sqrt(800)).toPrecision(6))}, t, 30, A, surface between the places`,
    );
  });

  it("knows its method, its words and what it leaves out", () => {
    expect([found.method, found.statement, found.gaugeUm.toFixed(6)]).toEqual([
      "thin-plate spline",
      "as given",
      "1.732051",
    ]);
    expect(found.leaveOneOut().places.map(({ residualUm }) => residualUm)).toEqual([1, 2, 3, 4]);
    const u = Math.hypot(0.3, Math.sqrt(3)).toFixed(1);
    expect(`${found}`).toBe(
      `surface between the 4 places of planted map, relative to gravity: as given; standard uncertainty ${u} µm, the gauge's 1.7 µm in it; the band does not hold a ding smaller than the pitch, 40 × 20 mm`,
    );
  });
});
