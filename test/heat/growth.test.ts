import { describe, expect, it } from "vitest";
import { boltedPair, gradientBow, growth, material, ownMaterial } from "../../kernel-lib/src/heat/index.js";
import { kelvin, mm, perKelvin } from "../../kernel-lib/src/quantity/index.js";
import { input } from "../../kernel-lib/src/uncertainty/index.js";
import { fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

const { handbook } = fixture<{
  handbook: { rows: { name: string; expansion: string; modulus?: [string, string] }[] };
}>("heat/growth.json");

const piece = (alpha: number) =>
  ownMaterial({
    name: "bar",
    expansion: input.normal({
      label: "α",
      estimate: perKelvin(alpha),
      standardUncertainty: perKelvin(1e-7),
    }),
  });

describe("growth and bow by warmth", () => {
  it("holds every handbook figure within the limits of its row", () => {
    for (const { name, expansion, modulus } of handbook.rows) {
      const found = material(name);
      const half = found.expansion.standardUncertainty.in("um/(m.K)") * Math.sqrt(3);
      expect(Math.abs(found.expansion.estimate.in("um/(m.K)") - Number(expansion))).toBeLessThanOrEqual(half + 1e-9);
      if (!modulus) continue;
      const [centre, reach] = [found.modulus!.estimate.si, found.modulus!.standardUncertainty.si * Math.sqrt(3)];
      for (const gpa of modulus) expect(Math.abs(centre - Number(gpa) * 1e9)).toBeLessThanOrEqual(reach * (1 + 1e-9));
    }
  });

  it("agrees with the plain sums: a metre of steel, and half a metre of spindle (common practice, no source)", () => {
    const warming = kelvin(10);
    expect(
      growth({ length: mm(1000), material: material("steel"), warming })
        .in("um")
        .toFixed(0),
    ).toBe("115");
    expect(
      growth({ length: mm(500), material: piece(9e-6), warming: kelvin(1) })
        .in("um")
        .toFixed(1),
    ).toBe("4.5");
    expect(
      growth({ length: mm(500), material: material("steel"), warming: kelvin(1) })
        .in("um")
        .toFixed(2),
    ).toBe("5.75");
  });

  it("bows half a metre of aluminium, 20 mm thick, by 37 µm a kelvin through it (common practice, no source)", () => {
    const spec = { length: mm(500), thickness: mm(20), difference: kelvin(1) };
    expect(
      gradientBow({ ...spec, material: material("aluminium 6061") })
        .in("um")
        .toFixed(0),
    ).toBe("37");
  });

  it("bows two layers of equal thickness and stiffness by 3 Δα ΔT L² / (16 h), as Timoshenko's formula has it", () => {
    const like = (name: string) => ({ material: material(name), thickness: mm(10) });
    const pair = boltedPair({
      upper: like("aluminium 6061"),
      lower: {
        material: ownMaterial({ ...piece(13.6e-6), modulus: material("aluminium 6061").modulus! }),
        thickness: mm(10),
      },
      length: mm(500),
      width: mm(100),
      warming: kelvin(3),
    });
    expect(pair.bondedBow.in("um")).toBeCloseTo((3 * 10e-6 * 3 * 0.25 * 1e6) / (16 * 0.02), 6);
    expect(pair.differentialLength.in("um")).toBeCloseTo(15, 6);
  });

  it("refuses a name that is not in the table, and a length of nothing", () => {
    expect(refusal(() => material("cheese")).code).toBe("material");
    expect(refusal(() => growth({ length: mm(0), material: material("steel"), warming: kelvin(1) })).message).toBe(
      "growth: length is 0 µm; give a length greater than zero",
    );
  });
});
