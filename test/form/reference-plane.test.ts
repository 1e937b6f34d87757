import { describe, expect, it } from "vitest";
import { plane } from "../../kernel-lib/src/form/index.js";
import type { Surface } from "../../kernel-lib/src/survey/surface.js";
import { forms, grid, mapOf, planted } from "./planted.js";

/** a flat, tilted table with the twelve places of the right back corner 60 µm low */
function damaged(seed: number): Surface {
  const { surface } = planted({ form: forms.flat!, noiseUm: 1, passes: 2, seed });
  const low = (x: number, y: number) => x >= 300 && y >= 240;
  return {
    ...surface,
    places: surface.places.map((p) => (low(p.xMm, p.yMm) ? { ...p, zUm: p.zUm - 60 - 0.05 * p.xMm } : p)),
  };
}

describe("plane", () => {
  it("keeps to the table where a corner is damaged when trimmed, which least squares does not", () => {
    const found = plane(damaged(3), { by: "trimmed" });
    const off = Math.abs(found.tiltX.in("um/m") - 20);
    expect(off).toBeLessThan(found.tiltX.expandedUncertainty().in("um/m"));
    expect(found.setApart.filter((p) => p.xMm >= 300 && p.yMm >= 240)).toHaveLength(12);
    expect(found.setApart.length).toBeLessThan(15);
    expect(Math.abs(plane(damaged(3)).tiltX.in("um/m") - 20)).toBeGreaterThan(30);
    expect(plane(damaged(3), { by: "bisquare" }).setApart).toHaveLength(12);
  });

  it("holds the tilt of clean tables within U by every way of fitting, 60 tables each", () => {
    for (const by of ["least squares", "orthogonal", "huber", "bisquare"] as const) {
      let held = 0;
      for (let seed = 1; seed <= 60; seed++) {
        const { tiltX } = plane(planted({ form: forms.flat!, noiseUm: 3, passes: 2, seed }).surface, { by });
        held += Math.abs(tiltX.in("um/m") - 20) <= tiltX.expandedUncertainty().in("um/m") ? 1 : 0;
      }
      // 99.9 % band of 60 at 0.95
      expect(held, by).toBeGreaterThanOrEqual(50);
    }
  });

  it("gives no FLT name to a robust plane and says what it set apart", () => {
    const text = `${plane(damaged(4), { by: "trimmed", share: 0.85 })}`;
    expect(text).toMatch(/^robust plane \(least trimmed squares\), relative to gravity: tilt along x /);
    expect(text).toContain("its width bears no FLT name; set apart: ");
    expect(`${plane(damaged(4))}`).not.toContain("FLT");
  });

  it("differs between distances along z and square to the plane by next to nothing on a table", () => {
    const { surface } = planted({ form: forms.bow!, noiseUm: 3, passes: 2, seed: 9 });
    const [along, square] = [plane(surface), plane(surface, { by: "orthogonal" })];
    expect(Math.abs(along.tiltX.in("um/m") - square.tiltX.in("um/m"))).toBeLessThan(1e-4);
    expect(Math.abs(along.width.in("um") - square.width.in("um"))).toBeLessThan(1e-4);
  });

  it("refuses heights that range like the places, and a share that can hide a second plane", () => {
    const steep = grid.map((p) => ({ ...p, zUm: 300 * p.xMm, count: 2 }));
    expect(() => plane(mapOf(steep), { by: "orthogonal" })).toThrow("look for a wrong unit");
    expect(() => plane(damaged(1), { by: "trimmed", share: 0.4 })).toThrow(
      "plane: a share of 0.4 of the places; give a number from 0.5 to 1, less than half can hide a second plane",
    );
  });
});
