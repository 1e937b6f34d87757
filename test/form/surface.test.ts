import { describe, expect, it } from "vitest";
import { compareSurfaces, surface } from "../../kernel-lib/src/form/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import * as survey from "../../kernel-lib/src/survey/index.js";
import type { SurfacePlace } from "../../kernel-lib/src/survey/surface.js";
import { refusal } from "../refusal.js";
import { forms, grid, mapOf, planted } from "./planted.js";

const bow = planted({ form: forms.bow!, noiseUm: 1, passes: 2, seed: 5 }).surface;
const methods = ["gaussian process", "thin-plate spline", "triangulated", "bilinear"] as const;
const placed = (height: (x: number, y: number) => number): SurfacePlace[] =>
  grid.map((place) => ({ ...place, zUm: height(place.xMm, place.yMm), count: 2 }));

describe.each(methods)("a %s surface", (method) => {
  it("reproduces a plane, and counts from it", () => {
    const tilted = mapOf(
      placed((x, y) => 3 + 0.04 * x - 0.02 * y),
      { standardUncertaintyUm: 0.5, degreesOfFreedom: 90 },
    );
    const spot = { x: mm(213), y: mm(87) };
    expect(surface(tilted, { method, reference: "zero" }).at(spot).in("um")).toBeCloseTo(3 + 0.04 * 213 - 0.02 * 87, 6);
    expect(surface(tilted, { method }).at(spot).in("um")).toBeCloseTo(0, 6);
  });

  it("says the height and its doubt at every place on the surface, and nothing else", () => {
    const found = surface(bow, { method });
    const all = found.raster(30).toArray();
    expect(all.length).toBeGreaterThan(500);
    expect(all.every(({ heightUm, uUm }) => Number.isFinite(heightUm) && uUm > 0)).toBe(true);
    const { value, standardUncertainty } = found.at({ x: mm(225), y: mm(100) });
    expect(standardUncertainty.in("um")).toBeLessThan(1.6);
    expect(Math.abs(value.in("um") - found.at({ x: mm(225), y: mm(110) }).in("um"))).toBeLessThan(1.5);
  });

  it("leaves out slots and holes: they stay holes", () => {
    const options = {
      method,
      slots: [{ along: "x", at: mm(100), width: mm(14) }],
      holes: [{ x: mm(225), y: mm(200), diameter: mm(40) }],
    } as const;
    const found = surface(bow, options);
    for (const { xMm, yMm } of found.raster(90)) {
      expect(Math.abs(yMm - 100)).toBeGreaterThanOrEqual(7);
      expect(Math.hypot(xMm - 225, yMm - 200)).toBeGreaterThanOrEqual(20);
    }
    expect(refusal(() => found.at({ x: mm(50), y: mm(103) }))).toEqual({
      code: "no-surface",
      message:
        "surface of planted map: x 50 mm, y 103 mm lies in a slot; ask for a place on the surface, between the places probed",
    });
  });

  it("does not change with the order of the places", () => {
    const { surface: map } = planted({ form: forms.waves!, noiseUm: 1, passes: 2, seed: 8 });
    const turned = { ...map, places: [...map.places].reverse() };
    const spot = { x: mm(180), y: mm(75) };
    const [one, other] = [map, turned].map((m) => surface(m, { method }).at(spot));
    expect(other!.in("um")).toBeCloseTo(one!.in("um"), 2);
  });
});

it("holds volumes above a level that are known: a wedge, and more with a greater doubt", () => {
  const wedge = placed((x) => 0.1 * (x - 225));
  const volume = (u: number) => {
    const found = surface(mapOf(wedge, { standardUncertaintyUm: u, degreesOfFreedom: 90 }), { reference: "zero" });
    return found.volumeAbove(um(0));
  };
  // ½ × 22.5 µm × 225 mm × 320 mm
  const exact = 0.5 * 0.0225 * 225 * 320;
  expect(Math.abs(volume(0.05).in("mm3") / exact - 1)).toBeLessThan(0.005);
  expect(volume(3).in("mm3")).toBeGreaterThan(volume(0.05).in("mm3"));
  expect(volume(3).standardUncertainty.in("mm3")).toBeGreaterThan(volume(0.05).standardUncertainty.in("mm3"));
});

it("puts the chance to stand above a limit at a half where the height is the limit", () => {
  const found = surface(bow);
  const spot = { x: mm(225), y: mm(160) };
  const chance = found.chanceAbove(found.at(spot).value);
  expect(chance.at(spot)).toBeCloseTo(0.5, 9);
  expect(chance.greatest.chance).toBeGreaterThanOrEqual(0.49);
  expect(found.chanceAbove(um(500)).expectedArea.in("mm2")).toBeCloseTo(0, 6);
  expect(found.chanceAbove(um(-500)).expectedArea.in("mm2")).toBeCloseTo(450 * 320, 3);
});

describe("the difference of two places", () => {
  const found = surface(bow, { reference: "zero" });
  const left = { x: mm(100), y: mm(160) };
  const near = { x: mm(104), y: mm(163) };
  const far = { x: mm(400), y: mm(60) };

  it("is that of the heights, the other way round with the sign changed and the doubt the same", () => {
    const there = found.difference(left, far);
    const back = found.difference(far, left);
    expect(there.in("um")).toBeCloseTo(found.at(left).in("um") - found.at(far).in("um"), 9);
    expect(back.in("um")).toBeCloseTo(-there.in("um"), 9);
    expect(back.standardUncertainty.in("um")).toBeCloseTo(there.standardUncertainty.in("um"), 9);
  });

  it("is surer the nearer the places lie, and between far ones about as sure as of two that know nothing of each other", () => {
    const apart = (a: typeof left, b: typeof left) => found.difference(a, b).standardUncertainty.in("um");
    const alone = (a: typeof left) => found.at(a).standardUncertainty.in("um");
    expect(apart(left, near)).toBeLessThan(0.3 * alone(left));
    expect(apart(left, far) / Math.hypot(alone(left), alone(far))).toBeGreaterThan(0.8);
    expect(apart(left, far) / Math.hypot(alone(left), alone(far))).toBeLessThan(1.25);
  });

  it("is refused for one place against itself", () => {
    expect(refusal(() => found.difference(left, left))).toEqual({
      code: "same-place",
      message: "difference on the surface of planted map: both places are x 100 mm, y 160 mm; give two that lie apart",
    });
  });
});

it("leaves out what stood on the table, and all that the plan of the survey names", () => {
  const obstacles = [{ name: "vice", x: [mm(180), mm(260)], y: [mm(120), mm(240)] }] as const;
  const slots = [{ along: "x", at: mm(60), width: mm(14) }] as const;
  const plan = survey.plan({
    table: { x: [mm(-20), mm(470)], y: [mm(-20), mm(340)] },
    pitch: mm(50),
    frame: bow.frame,
    gauge: bow.gauge,
    obstacles,
    slots,
  });
  const clear = { ...bow, places: bow.places.filter(({ label }) => !["E5", "F5", "E6", "F6"].includes(label)) };
  expect(refusal(() => surface(bow, { obstacles }))).toEqual({
    code: "in-a-gap",
    message:
      "surface: 4 of 90 places of planted map lie where the table has no surface (E5 under the vice, F5 under the vice, E6 under the vice, F6 under the vice); leave these readings out, or correct the places or what is said of slots, holes and obstacles",
  });
  for (const options of [{ obstacles, slots }, { plan }]) {
    const found = surface(clear, options);
    const where = (x: number, y: number) => refusal(() => found.at({ x: mm(x), y: mm(y) })).message;
    expect(where(200, 200)).toBe(
      "surface of planted map: x 200 mm, y 200 mm lies under the vice; ask for a place on the surface, between the places probed",
    );
    expect(where(100, 60)).toContain("lies in a slot;");
    expect(where(-15, 100)).toContain("lies outside the places probed;");
    const under = [...found.raster(40)].filter(({ xMm: x, yMm: y }) => x > 180 && x < 260 && y > 120 && y < 240);
    expect(under).toEqual([]);
  }
  expect(refusal(() => surface(bow, { obstacles: [{ name: "vice", x: [mm(9), mm(9)], y: [mm(0), mm(9)] }] }))).toEqual({
    code: "outline",
    message: "surface: x of the vice goes from 9 mm to 9 mm; give the least position first, then the greatest",
  });
});

it("asks next for what lies in a gap, first of all", () => {
  const gap = (x: number, y: number) => Math.abs(x - 325) < 60 && Math.abs(y - 180) < 60;
  const map = { ...bow, places: bow.places.filter(({ xMm, yMm }) => !gap(xMm, yMm)) };
  const [first] = surface(map).nextPlaces(3).places;
  expect(gap(first!.xMm, first!.yMm)).toBe(true);
  expect(refusal(() => surface(bow, { method: "bilinear" }).nextPlaces(3))).toEqual({
    code: "method",
    message:
      'nextPlaces: a bilinear surface does not know how its errors go together; take "gaussian process" or "thin-plate spline", or survey.whereNext',
  });
});

it("compares the methods on places left out, and the smooth ones win on a smooth form", () => {
  const { rows } = compareSurfaces(planted({ form: forms.waves!, noiseUm: 0.3, passes: 2, seed: 3 }).surface);
  expect(rows.map(({ method }) => method).slice(0, 2)).toContain("gaussian process");
  expect(rows.map(({ method }) => method).sort()).toEqual([...methods].sort());
  const gaussian = rows.find(({ method }) => method === "gaussian process")!;
  expect(gaussian.ratio).toBeGreaterThan(0.7);
  expect(gaussian.ratio).toBeLessThan(1.4);
});

it("is less sure of drifted heights, and of places with one reading than with four", () => {
  const spot = { x: mm(400), y: mm(300) };
  const u = (map: typeof bow) => surface(map).at(spot).standardUncertainty.in("um");
  const modesUm = [bow.places.map(({ xMm }) => ((xMm - 225) / 225) ** 2 * 5)];
  const drift = { model: "settling", statement: "drift", modesUm } as const;
  expect(u({ ...bow, drift })).toBeGreaterThan(1.5 * u(bow));
  const counts = (count: number) => ({
    ...bow,
    places: bow.places.map((place, i) => ({ ...place, count: i % 2 === 0 ? 2 : count })),
  });
  expect(surface(counts(1)).leaveOneOut().places[1]!.standardDeviationUm).toBeGreaterThan(
    surface(counts(4)).leaveOneOut().places[1]!.standardDeviationUm,
  );
});

describe("refuses", () => {
  it("more than 3,000 places, with the way to thin them", () => {
    const places = Array.from({ length: 3600 }, (_, i) => ({
      label: `P${i}`,
      xMm: i % 60,
      yMm: Math.floor(i / 60),
      zUm: 0,
      count: 1,
    }));
    expect(refusal(() => surface(mapOf(places)))).toEqual({
      code: "too-many-places",
      message:
        "surface: planted map has 3600 places, 3000 are the most; keep every second row and column, or take the table in parts",
    });
  });

  it("scattered places for bilinear, a hole across the table, too few places, steep heights, an unknown method", () => {
    const scattered = bow.places.map((place, i) => ({ ...place, xMm: place.xMm + 0.1 * i }));
    expect(refusal(() => surface({ ...bow, places: scattered }, { method: "bilinear" }))).toEqual({
      code: "no-grid",
      message:
        'surface: the 90 places of planted map stand in no rows and columns, bilinear needs them; take "triangulated", or "gaussian process"',
    });
    const across = [{ x: mm(225), y: mm(160), diameter: mm(2000) }];
    expect(refusal(() => surface(bow, { holes: across }))).toEqual({
      code: "in-a-gap",
      message:
        "surface: 90 of 90 places of planted map lie where the table has no surface (A1 in a hole, B1 in a hole, C1 in a hole, D1 in a hole, E1 in a hole and 85 more); leave these readings out, or correct the places or what is said of slots, holes and obstacles",
    });
    // a rim about a hole is all that was read
    const rim = Array.from({ length: 12 }, (_, i) => {
      const angle = (Math.PI * i) / 6;
      return { label: `R${i}`, xMm: 100 * Math.cos(angle), yMm: 100 * Math.sin(angle), zUm: i % 3, count: 2 };
    });
    const holes = [{ x: mm(0), y: mm(0), diameter: mm(199.9) }];
    expect(refusal(() => surface({ ...bow, places: rim }, { holes }))).toEqual({
      code: "no-surface",
      message:
        "surface: slots and holes leave nothing of the surface between the places; look for a wrong size or position of one",
    });
    const ends = bow.places.filter(({ xMm }) => xMm < 100 || xMm > 350);
    expect(refusal(() => surface({ ...bow, places: ends })).code).toBe("hole");
    expect(refusal(() => surface({ ...bow, places: bow.places.slice(0, 5) })).code).toBe("too-few-places");
    expect(refusal(() => surface({ ...bow, places: bow.places.slice(0, 10) })).code).toBe("on-a-line");
    const steep = bow.places.map((place) => ({ ...place, zUm: place.zUm * 1e4 }));
    expect(refusal(() => surface({ ...bow, places: steep })).code).toBe("steep");
    expect(refusal(() => surface(bow, { method: "nearest" as never }))).toEqual({
      code: "method",
      message:
        'surface: method nearest; take one of "gaussian process", "thin-plate spline", "triangulated", "bilinear"',
    });
    const slots = [{ along: "x", at: mm(100), width: mm(0) }] as const;
    expect(refusal(() => surface(bow, { slots }))).toEqual({
      code: "outline",
      message: "surface: width of a slot is 0 mm; give a length greater than zero, such as mm(14)",
    });
  });
});
