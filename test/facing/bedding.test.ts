import { describe, expect, it } from "vitest";
import { cutCautions } from "../../kernel-lib/src/facing/cautions.js";
import { area, bedding, screwPattern } from "../../kernel-lib/src/facing/index.js";
import { mapWeights } from "../../kernel-lib/src/facing/map-weights.js";
import { leastSquaresPlane } from "../../kernel-lib/src/numerics/index.js";
import { mm, newtonMetre, um } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aMap } from "./a-map.js";
import { aHoldDown, aPlate, platePlan, slots } from "./a-plate.js";

const options = { underside: { flatWithin: um(4) }, draws: 20 };
const hollow = aMap((x) => 30 * ((x - 260) / 240) ** 2, { noiseUm: 0.5, gaugeUm: 1 });

/** a plate, its screws in one slot only and at its ends: it has nothing to pull its middle down */
const stiff = aPlate({
  ...platePlan(),
  thickness: mm(60),
  counterboreDepth: mm(13),
  screws: [85, 435].flatMap((x) => [{ x: mm(x), y: mm(120) }]),
});

describe("a plate on a hollow table", () => {
  const got = bedding(hollow, aHoldDown(), options);

  it("follows it when tight, and springs back by the form of the table under it", () => {
    expect(got.says).toBe("follows");
    expect(got.closed).toBeGreaterThan(0.95);
    // the parabola under 400 mm of plate, peak to valley about its plane
    const under = 30 * (200 / 240) ** 2;
    const released = got.released();
    const plane = leastSquaresPlane(
      released.map((p) => p.xMm),
      released.map((p) => p.yMm),
      released.map((p) => p.value.in("um")),
    );
    expect((plane.highest - plane.lowest) / under).toBeCloseTo(1, 1);
    expect(Math.abs(got.gapAt(mm(260), mm(120), "tight").in("um"))).toBeLessThan(1);
    // bent down in the middle while it was faced: stands up there when released
    const middle = released.reduce((a, b) => (Math.abs(b.xMm - 260) < Math.abs(a.xMm - 260) ? b : a));
    expect(middle.value.in("um")).toBeGreaterThan(5);
  });

  it("lets a screw close the 10 µm to 20 µm under it by itself", () => {
    const first = got.screws[0]!;
    expect(first.loose.in("um")).toBeGreaterThan(10);
    expect(first.closesAlone.in("um") / first.loose.in("um")).toBeGreaterThan(0.95);
    expect(first.shim).toBeUndefined();
  });

  it("takes a plate that was laid out in the frame of the map", () => {
    const plate = aPlate({ ...platePlan(), frame: hollow.frame });
    expect(bedding(hollow, aHoldDown({ plate }), options).looseGap.si).toBe(got.looseGap.si);
  });

  it("asks for stock without stress and for a third survey, and for an indicator rather than a pull", () => {
    const notes = got.notes.join("\n");
    expect(notes).toContain("take stress-relieved stock, or skim both sides first");
    expect(notes).toContain("off and on again is a third survey");
    expect(notes).toContain("read an indicator beside each screw while it is tightened");
    expect(notes).toContain("shim under the gap rather than pull");
  });

  it("says so in one line and keeps its cautions", () => {
    expect(String(got)).toMatch(
      /^fixture plate follows the table: gaps up to 1\d µm as it lies, 0 µm when tight; released it springs back by 2\d µm \(interval of the draws \d+ µm to \d+ µm\); off and on again moves the top by up to \d\.\d µm from the torque alone \(95 %\)$/,
    );
    expect(got.cautions).toBe(cutCautions);
    expect(got.notes[0]).toContain("as the travel sees it");
  });

  it("gives the same figures for the same seed and others for another", () => {
    const middle = (seed: number) => bedding(hollow, aHoldDown(), { ...options, seed }).springBack.middle.si;
    expect(middle(1)).toBe(got.springBack.middle.si);
    expect(middle(2)).not.toBe(got.springBack.middle.si);
  });
});

describe("a plate on other tables", () => {
  it("does not care how the table is tilted", () => {
    const tilted = aMap((x, y) => 30 * ((x - 260) / 240) ** 2 + x / 5 - y / 3, { noiseUm: 0.5, gaugeUm: 0 });
    const level = aMap((x) => 30 * ((x - 260) / 240) ** 2, { noiseUm: 0.5, gaugeUm: 0 });
    const [a, b] = [tilted, level].map((map) => bedding(map, aHoldDown(), options));
    expect(a!.looseGap.in("um")).toBeCloseTo(b!.looseGap.in("um"), 1);
    expect(a!.springBack.middle.in("um")).toBeCloseTo(b!.springBack.middle.in("um"), 1);
  });

  it("lies flat on a flat one and moves by nothing to speak of", () => {
    const got = bedding(
      aMap((x) => x / 10),
      aHoldDown(),
      { ...options, underside: { flatWithin: um(1) } },
    );
    expect(got.says).toBe("lies flat");
    expect(got.springBack.high.in("um")).toBeLessThan(1.2);
  });

  it("bridges a hollow where it is thick and its screws stand at the ends", () => {
    const down = aHoldDown({ plate: stiff, screwLength: mm(65), torque: newtonMetre(5) });
    const got = bedding(hollow, down, options);
    expect(got.says).toBe("bridges");
    expect(got.gapAt(mm(260), mm(120), "tight").in("um")).toBeGreaterThan(10);
    expect(String(got)).toContain("fixture plate bridges the table");
  });

  it("takes more from the torque the thicker the plate, and none from it where it follows", () => {
    const moved = (thickness: number, screwLength: number) => {
      const plate = aPlate({ ...platePlan(), thickness: mm(thickness), screws: stiff.screws });
      const down = aHoldDown({ plate, screwLength: mm(screwLength), torque: newtonMetre(5) });
      return bedding(hollow, down, options).causes[2]!.change.in("um");
    };
    expect(moved(60, 65)).toBeGreaterThan(0.05);
    expect(bedding(hollow, aHoldDown(), options).causes[2]!.change.in("um")).toBeLessThan(0.2);
  });

  it("puts shims under gaps above 20 µm", () => {
    const deep = aMap((x) => 60 * ((x - 260) / 240) ** 2, { noiseUm: 0.5, gaugeUm: 0 });
    const first = bedding(deep, aHoldDown(), options).screws[0]!;
    expect(first.loose.in("um")).toBeGreaterThan(20);
    expect(first.shim!.in("um")).toBe(Math.floor(first.loose.in("um") / 10) * 10);
  });

  it("adds the map of the underside to that of the table", () => {
    const flat = aMap(() => 0, { noiseUm: 0.5 });
    const proud = aMap((x) => 30 * ((x - 260) / 240) ** 2, { noiseUm: 0.5 });
    const got = bedding(flat, aHoldDown(), { underside: { map: proud }, draws: 20 });
    const same = bedding(proud, aHoldDown(), { underside: { map: flat }, draws: 20 });
    expect(got.looseGap.in("um")).toBeCloseTo(same.looseGap.in("um"), 1);
  });
});

describe("refused", () => {
  it.each([
    [
      () => {
        const plate = aPlate({
          ...platePlan(),
          frame: { ...hollow.frame, front: "y+", plusX: "left", plusY: "front" },
        });
        return bedding(hollow, aHoldDown({ plate }), options);
      },
      "different-frames",
      "facing.bedding: fixture plate was laid out with FRONT y+, +X left, +Y front and a map has FRONT y−, +X right, +Y back; lay the plate out in the coordinates of the map",
    ],
    [
      () =>
        bedding(hollow, aHoldDown(), {
          underside: {
            map: { ...hollow, name: "underside", frame: { ...hollow.frame, relativeTo: "artefact" as const } },
          },
        }),
      "different-frames",
      "facing.bedding: a map is relative to travel, FRONT y−, +X right, +Y back and underside is relative to artefact, FRONT y−, +X right, +Y back; heights of two frames are not added: survey both against the same, or give flatWithin for the underside",
    ],
    [
      () => {
        const where = area(mm(0), mm(400), mm(30), mm(210));
        const screws = screwPattern({ area: where, slots, spacing: mm(120), fromEnd: mm(25) });
        return bedding(hollow, aHoldDown({ plate: aPlate({ ...platePlan(), area: where, screws }) }), options);
      },
      "not-probed",
      "facing.bedding: the plate lies at x 0 mm to 400 mm, y 30 mm to 210 mm, up to 20 mm beyond the places of a map (x 20 mm to 500 mm, y 20 mm to 220 mm); probe the table there or move the plate",
    ],
    [
      () => bedding(hollow, aHoldDown(), { ...options, draws: 5 }),
      "draws",
      "facing.bedding: 5 draws are too few for an interval; give 20 or more, 100 where it counts",
    ],
    [
      () => bedding(hollow, aHoldDown(), { underside: { flatWithin: um(0) } }),
      "not-positive",
      "facing.bedding: an underside flat within 0 µm is not known so well; give what a rock test with feelers or a surface plate says",
    ],
  ])("%#", (act, code, message) => {
    expect(refusal(act)).toEqual({ code, message });
  });
});

describe("between the places of a map", () => {
  it("is exact for a warped plane on a grid, and adds up to one everywhere", () => {
    const form = (x: number, y: number) => 3 + x / 7 - y / 5 + (x * y) / 900;
    const map = aMap(form);
    const weights = mapWeights(map);
    for (const [x, y] of [
      [20, 20],
      [333, 77],
      [500, 220],
      [41, 219],
    ] as const) {
      const shares = weights(x, y);
      expect(shares.reduce((s, { weight }) => s + weight, 0)).toBeCloseTo(1, 12);
      const height = shares.reduce((s, { index, weight }) => s + weight * map.places[index]!.zUm, 0);
      expect(height).toBeCloseTo(form(x, y), 9);
    }
  });

  it("carries the outermost height on, and copes with a blank", () => {
    const map = aMap((x) => x);
    const at = (source: typeof map, x: number, y: number) =>
      mapWeights(source)(x, y).reduce((s, { index, weight }) => s + weight * source.places[index]!.zUm, 0);
    expect(at(map, 510, 100)).toBeCloseTo(500, 9);
    const blank = { ...map, places: map.places.filter(({ label }) => label !== "C5") };
    expect(Math.abs(at(blank, 181, 101) - 181)).toBeLessThan(40);
  });
});
