import { describe, expect, it } from "vitest";
import { flatness } from "../../kernel-lib/src/form/index.js";
import type { SurfacePlace } from "../../kernel-lib/src/survey/surface.js";
import { decimalsOf, fixture } from "../reference/digits.js";
import { forms, grid, mapOf, planted } from "./planted.js";

const { cases } = fixture<{ cases: Record<string, { points: string[]; leastSquares: string; minimumZone: string }> }>(
  "form/flatness.json",
);

const at = (points: readonly (readonly [number, number, number])[]): SurfacePlace[] =>
  points.map(([xMm, yMm, zUm], i) => ({ label: `P${i + 1}`, xMm, yMm, zUm, count: 2 }));

describe("flatness", () => {
  for (const [name, { points, leastSquares, minimumZone }] of Object.entries(cases)) {
    it(`reads the known widths of the ${name}, ${leastSquares} and ${minimumZone} µm, before it corrects them`, () => {
      const places = at(points.map((row) => row.split(" ").map(Number) as [number, number, number]));
      const found = flatness(mapOf(places, { standardUncertaintyUm: 0.001, degreesOfFreedom: 90 }));
      expect(found.peakToValley.raw.in("um").toFixed(decimalsOf(leastSquares))).toBe(leastSquares);
      expect(found.minimumZone.raw.in("um").toFixed(decimalsOf(minimumZone))).toBe(minimumZone);
      expect(found.minimumZonePlane.certificate.gap).toBeLessThan(1e-9);
    });
  }

  it("takes off the bias that order statistics give: of all 90 places on a flat, of the crest and ends on a bow", () => {
    const of = (name: string) =>
      flatness(planted({ form: forms[name]!, noiseUm: 3, passes: 2, seed: 5 }).surface).peakToValley.bias.in("um");
    // on the bow, the 18 places of the crest and the 18 of the two ends vie for each extreme: twice the mean of the
    // largest of 18 normal values, 1.82 (tables of order statistics, from memory), times 3 µm/√2; on the flat 90 places vie
    expect(Math.abs(of("bow") / (2 * 1.82 * (3 / Math.sqrt(2))) - 1)).toBeLessThan(0.15);
    expect(Math.abs(of("flat") / (2 * 2.47 * (3 / Math.sqrt(2))) - 1)).toBeLessThan(0.15);
  });

  it("turns tilt alone when a plane is added, and gives peak, valley and rms that fit together", () => {
    const { surface } = planted({ form: forms.bow!, noiseUm: 1, passes: 2, seed: 2 });
    const tilted = {
      ...surface,
      places: surface.places.map((p) => ({ ...p, zUm: p.zUm + 0.05 * p.xMm - 0.02 * p.yMm })),
    };
    const [a, b] = [flatness(surface), flatness(tilted)];
    expect(b.tiltX.in("um/m") - a.tiltX.in("um/m")).toBeCloseTo(50, 9);
    expect(b.tiltY.in("um/m") - a.tiltY.in("um/m")).toBeCloseTo(-20, 9);
    expect(b.overall.in("um")).toBeCloseTo(a.overall.in("um"), 6);
    expect(a.FLTp.plus(a.FLTv).in("um")).toBeCloseTo(a.peakToValley.raw.in("um"), 12);
    expect(a.FLTq.in("um")).toBeLessThan(a.peakToValley.raw.in("um") / 2);
    expect(a.minimumZone.raw.in("um")).toBeLessThanOrEqual(a.peakToValley.raw.in("um"));
  });

  it("widens with the drift that the datum returns left open, in tilt and in flatness alike", () => {
    const { surface } = planted({ form: forms.bow!, noiseUm: 0.1, passes: 2, seed: 2 });
    const drift = {
      model: "straight line" as const,
      statement: "drift",
      modesUm: [grid.map((p) => 0.01 * p.xMm), grid.map((_, i) => (i === 4 ? 3 : 0))],
    };
    const [without, found] = [flatness(surface), flatness({ ...surface, drift })];
    const more = (b: number, a: number) => Math.sqrt(b * b - a * a);
    const u = (m: typeof found) => m.tiltX.standardUncertainty.in("um/m");
    expect(more(u(found), u(without))).toBeCloseTo(10, 1);
    expect(found.overall.standardUncertainty.in("um")).toBeGreaterThan(without.overall.standardUncertainty.in("um"));
  });

  it("never says flatness of a map against travel without those words", () => {
    const { surface } = planted({ form: forms.bow!, noiseUm: 1, passes: 2, seed: 2 });
    const travel = flatness({ ...surface, frame: { ...surface.frame, relativeTo: "travel" } });
    const text = `${travel}`;
    expect(travel.relative).toBe("relative to travel");
    expect(text).toMatch(
      /^flatness relative to travel \(the table's form and the straightness of its travel together\): \d+\.\d µm ± \d\.\d+ µm \(k = 2\.0\); /,
    );
    expect(text).toContain("at the 90 places probed, a lower bound for what lies between them");
    expect(text).toMatch(
      /highest \w+ \((left|right|middle|back|front|left back|right back)\), lowest [AJ]\d \((left|right)/,
    );
  });

  it("gives the same figures for the same seed and survey", () => {
    const { surface } = planted({ form: forms.waves!, noiseUm: 1, passes: 2, seed: 2 });
    expect(`${flatness(surface)}`).toBe(`${flatness({ surface: () => surface })}`);
  });

  it("refuses what no plane can be told from, in whole sentences", () => {
    const square: [number, number, number][] = [
      [0, 0, 0],
      [100, 0, 1],
      [0, 100, 2],
      [100, 100, 0],
    ];
    const run = (points: [number, number, number][], noise = { standardUncertaintyUm: 1, degreesOfFreedom: 9 }) =>
      flatness(mapOf(at(points), noise));
    expect(() => run(square.slice(0, 3))).toThrow(
      "flatness: planted map has 3 places; 4 are needed at least, measure more",
    );
    expect(() => run([...square, [50, 50, Number.NaN]])).toThrow(
      "flatness: 1 of 5 places of planted map have no height or no place (P5); measure them, or leave them out of the list",
    );
    expect(() => run([...square, [100, 0, 4]])).toThrow(
      "flatness: P2 and P5 of planted map are both at x 100 mm, y 0 mm; give repeats of a place as passes, not as places",
    );
    expect(() => run(square.map(([x, , z]) => [x + z, x + z, z]))).toThrow(
      "flatness: the 4 places of planted map lie on one line; measure at least one place beside it",
    );
    expect(() => run([...square, [50, 50, 30_000]])).toThrow(
      "flatness: the heights of planted map range over 30.0 mm where the places range over 100 mm; heights are in µm and places in mm, look for a wrong unit",
    );
    expect(() => run(square, { standardUncertaintyUm: 0, degreesOfFreedom: 9 })).toThrow(
      "flatness: the noise of planted map is 0 µm with 9 degrees of freedom; both must be greater than zero, repeat some places",
    );
  });
});
