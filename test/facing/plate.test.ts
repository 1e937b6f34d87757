import { describe, expect, it } from "vitest";
import { area, plateMaterial, screwPattern } from "../../kernel-lib/src/facing/index.js";
import { mm } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aPlate, platePlan, slots } from "./a-plate.js";

describe("a plate", () => {
  it("says size, material, mass, place and screws in one line", () => {
    expect(String(aPlate())).toBe(
      "fixture plate: 400 mm × 180 mm × 25 mm, aluminium 6061-T651, 4.9 kg, at x 60 mm to 460 mm, y 30 mm to 210 mm; 12 screws M10",
    );
  });

  it("knows what is left under the head, above it and where the cut is deepest", () => {
    const got = aPlate();
    expect([got.web, got.headBelow, got.thicknessLeft].map((v) => v.text())).toEqual(["12 mm", "2.5 mm", "24.5 mm"]);
  });

  it("numbers its screws middle outward", () => {
    const { screws } = aPlate();
    const far = screws.map(({ x, y }) => Math.round(Math.hypot(x.in("mm") - 260, y.in("mm") - 120)));
    expect(far).toEqual(far.toSorted((a, b) => a - b));
    expect(screws.map(({ label }) => label).slice(0, 3)).toEqual(["S1", "S2", "S3"]);
  });

  const at = (x: number, y: number) => ({ x: mm(x), y: mm(y) });
  it.each([
    [
      { thickness: mm(15) },
      "plate-too-thin",
      "a plate of 15 mm is too thin: head 10 mm, deepest cut 0.5 mm and half a diameter of plate under the head need more than 15.5 mm; take a thicker plate, smaller screws or less cut",
    ],
    [
      { deepestCut: mm(3.2) },
      "counterbore",
      "counterbores 13 mm deep allow a cut below 3 mm over heads of 10 mm, and 3.2 mm is planned; deepen the counterbores or cut less",
    ],
    [
      { counterboreDepth: mm(21) },
      "plate-too-thin",
      "counterbores 21 mm deep leave 4 mm of a plate of 25 mm; half a diameter is needed under the head, make them shallower or take a thicker plate",
    ],
    [
      { screws: [at(100, 62), at(300, 120)] },
      "off-slot",
      "S2 (x 100 mm, y 62 mm) lie more than the play of the hole, 0.5 mm, off the middle of a slot; move the screws or the plate",
    ],
    [
      { screws: [at(66, 60)] },
      "screw-edge",
      "S1 (x 66 mm, y 60 mm) come nearer to the edge of the plate than 12 mm, half the counterbore and 3 mm; move them in",
    ],
    [
      { screws: [at(100, 60), at(118, 60)] },
      "screws-meet",
      "S2 (x 100 mm, y 60 mm) leave less than 3 mm to the counterbore of another; space them wider",
    ],
    [
      { screws: [] },
      "no-screws",
      "no screw was given; list their places, facing.screwPattern makes a list over the slots",
    ],
    [{ thicknessWithin: mm(0) }, "not-positive", "thicknessWithin is 0 mm; give a length above zero"],
    [
      { area: area(mm(9), mm(9), mm(0), mm(9)), screws: [at(1, 1)] },
      "area",
      "the plate lies at x 9 mm to 9 mm, y 0 mm to 9 mm, which has no size; give xFrom below xTo and yFrom below yTo",
    ],
  ])("refuses %o", (wrong, code, message) => {
    expect(refusal(() => aPlate({ ...platePlan(), ...wrong }))).toEqual({ code, message: `facing.plate: ${message}` });
  });

  it("refuses a material it has no figures for", () => {
    expect(refusal(() => plateMaterial("oak" as "mild steel")).message).toBe(
      'facing.plateMaterial: "oak" is not in the table; use aluminium 6061-T651, aluminium 5083-O, mild steel, grey iron, or give the figures of your certificate',
    );
  });
});

describe("a screw pattern", () => {
  it("stands on the slots, evenly, no farther apart than asked for", () => {
    const screws = screwPattern({
      area: area(mm(60), mm(460), mm(30), mm(210)),
      slots,
      spacing: mm(120),
      fromEnd: mm(25),
    });
    expect(new Set(screws.map(({ y }) => y.in("mm")))).toEqual(new Set([60, 120, 180]));
    const xs = [...new Set(screws.map(({ x }) => Number(x.in("mm").toFixed(6))))].toSorted((a, b) => a - b);
    expect(xs[0]).toBe(85);
    expect(xs.at(-1)).toBe(435);
    expect(Math.max(...xs.slice(1).map((x, i) => x - xs[i]!))).toBeLessThanOrEqual(120);
  });

  it("refuses a plate that lies beside the slots, and one too short for its screws", () => {
    const beside = area(mm(60), mm(460), mm(130), mm(170));
    expect(refusal(() => screwPattern({ area: beside, slots, spacing: mm(120), fromEnd: mm(25) }))).toEqual({
      code: "no-slots",
      message:
        "facing.screwPattern: none of 3 slots runs under the plate 25 mm or more from its sides; move the plate or give the slots as they lie",
    });
    const short = area(mm(60), mm(100), mm(30), mm(210));
    expect(refusal(() => screwPattern({ area: short, slots, spacing: mm(120), fromEnd: mm(25) }))).toEqual({
      code: "pattern",
      message:
        "facing.screwPattern: between screws 25 mm from both ends −10 mm are left for a spacing of 120 mm; give a shorter distance from the ends and a spacing above zero",
    });
  });
});
