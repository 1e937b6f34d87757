import { describe, expect, it } from "vitest";
import { cutCautions } from "../../kernel-lib/src/facing/cautions.js";
import {
  area,
  bolt,
  capScrew,
  greatestPreload,
  type PlateMaterialName,
  plateMaterial,
  preload,
  preloadByNutFactor,
  preloadFromTorque,
  type ScrewClearanceInput,
  screwClearance,
  screwPattern,
  tighteningTorque,
  tSlot,
} from "../../kernel-lib/src/facing/index.js";
import { needPlateFrame } from "../../kernel-lib/src/facing/plate.js";
import { bearingAreaMm2, drawnPreloadN, mostTorque, preloadPerTorque } from "../../kernel-lib/src/facing/preload.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { kN, type Length, MPa, mm, newton, newtonMetre, um } from "../../kernel-lib/src/quantity/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { refusal } from "../refusal.js";
import { aMap } from "./a-map.js";
import { aHoldDown, aPlate, holdDownPlan, platePlan, slots } from "./a-plate.js";

const at = (x: number, y: number) => ({ x: mm(x), y: mm(y) });

describe("a plate at its limits", () => {
  it("needs more than head, cut and half a diameter, and half a diameter under the head", () => {
    // M10: head 10 mm, half a diameter 5 mm
    const deep = (thickness: number, bore: number, cut: number) =>
      aPlate({ thickness: mm(thickness), counterboreDepth: mm(bore), deepestCut: mm(cut) });
    expect(deep(15.8, 10.7, 0.5).web.in("mm")).toBeCloseTo(5.1, 9);
    expect(refusal(() => deep(15.5, 10.6, 0.5)).code).toBe("plate-too-thin");
    expect(refusal(() => deep(25, 10.5, 0.5)).code).toBe("counterbore");
    expect(deep(25, 20, 0.5).web.in("mm")).toBeCloseTo(5, 9);
    expect(refusal(() => deep(25, 20.01, 0.5)).message).toBe(
      "facing.plate: counterbores 20.01 mm deep leave 4.99 mm of a plate of 25 mm; half a diameter is needed under the head, make them shallower or take a thicker plate",
    );
  });

  it.each(["thickness", "thicknessWithin", "counterboreDepth", "deepestCut"] as const)(
    "has its %s above zero",
    (name) => {
      expect(refusal(() => aPlate({ ...platePlan(), [name]: mm(0) })).message).toBe(
        `facing.plate: ${name} is 0 mm; give a length above zero`,
      );
    },
  );

  it("has a size along both sides", () => {
    const flat = area(mm(60), mm(460), mm(30), mm(30));
    expect(refusal(() => aPlate({ ...platePlan(), area: flat })).message).toBe(
      "facing.plate: the plate lies at x 60 mm to 460 mm, y 30 mm to 30 mm, which has no size; give xFrom below xTo and yFrom below yTo",
    );
  });

  it("keeps its screws on the slots, off the edges and apart, each at its limit", () => {
    const plate = (...screws: ReturnType<typeof at>[]) => aPlate({ ...platePlan(), screws }).screws.length;
    // the hole of 11 mm gives a screw of 10 mm half a millimetre of play; counterbore 18 mm and 3 mm: 12 mm from the edge
    expect(plate(at(100, 60.5), at(300, 119.5))).toBe(2);
    for (const off of [60.51, 59.49]) expect(refusal(() => plate(at(100, off))).code).toBe("off-slot");
    expect(plate(at(72, 60), at(448, 60))).toBe(2);
    for (const near of [71.99, 448.01]) expect(refusal(() => plate(at(near, 60))).code).toBe("screw-edge");
    expect(plate(at(100, 60), at(121, 60))).toBe(2);
    expect(refusal(() => plate(at(100, 60), at(120.99, 60))).code).toBe("screws-meet");
    const edges = (y: number, yFrom: number, yTo: number) =>
      aPlate({ ...platePlan(), area: area(mm(60), mm(460), mm(yFrom), mm(yTo)), screws: [at(200, y)] }).screws.length;
    expect([edges(60, 48, 210), edges(180, 30, 192)]).toEqual([1, 1]);
    expect(refusal(() => edges(60, 48.01, 210)).code).toBe("screw-edge");
    expect(refusal(() => edges(180, 30, 191.99)).code).toBe("screw-edge");
  });

  it("counts screws beyond five instead of naming them", () => {
    const many = Array.from({ length: 7 }, (_, i) => at(100 + 40 * i, 62));
    expect(refusal(() => aPlate({ ...platePlan(), screws: many })).message).toBe(
      "facing.plate: S1 (x 260 mm, y 62 mm), S2 (x 300 mm, y 62 mm), S3 (x 220 mm, y 62 mm), S4 (x 340 mm, y 62 mm), S5 (x 180 mm, y 62 mm) and 2 more lie more than the play of the hole, 0.5 mm, off the middle of a slot; move the screws or the plate",
    );
    expect(refusal(() => aPlate({ ...platePlan(), screws: many.slice(0, 5) })).message).not.toContain("more lie");
  });

  it("is held against the frame of a map only where it states one", () => {
    const map = aMap(() => 0);
    const framed = (more: object) => aPlate({ ...platePlan(), frame: { ...map.frame, ...more } });
    expect(() => needPlateFrame("here", aPlate(), map)).not.toThrow();
    expect(() => needPlateFrame("here", framed({}), map)).not.toThrow();
    for (const other of [{ front: "y+" }, { plusX: "left" }, { plusY: "front" }]) {
      expect(refusal(() => needPlateFrame("here", framed(other), map)).code).toBe("different-frames");
    }
    expect(refusal(() => needPlateFrame("here", framed({ front: "y+" }), map)).message).toBe(
      "here: fixture plate was laid out with FRONT y+, +X right, +Y back and a map has FRONT y−, +X right, +Y back; lay the plate out in the coordinates of the map",
    );
  });

  it("weighs its volume", () => {
    expect(aPlate().mass.in("kg")).toBeCloseTo(0.4 * 0.18 * 0.025 * 2700, 9);
    expect(() => Object.assign(aPlate(), { name: "" })).toThrow(TypeError);
  });
});

// modulus GPa, its limits, Poisson's ratio, density g/cm³, proof stress N/mm²: Callister, appendix B (moduli of 6061, mild
// steel and grey iron G3000); EN 485-2 and EN 10025-2 for the least proof stresses; all from memory
it.each<[PlateMaterialName, number, number, number, number, number]>([
  ["aluminium 6061-T651", 69, 0.03, 0.33, 2.7, 240],
  ["aluminium 5083-O", 70, 0.03, 0.33, 2.66, 115],
  ["mild steel", 207, 0.02, 0.3, 7.85, 235],
  ["grey iron", 101, 0.11, 0.26, 7.15, 100],
])("has the figures of %s", (name, modulus, within, poisson, density, proof) => {
  const got = plateMaterial(name);
  expect([
    got.name,
    got.modulus.in("GPa"),
    got.modulusWithin,
    got.poisson,
    got.density.in("g/cm3"),
    got.proofStress.in("MPa"),
  ]).toEqual([name, modulus, within, poisson, density, proof]);
  expect(got.source).toBe("handbook values; modulus of 6061, steel and grey iron: Callister B.2, the rest from memory");
});

// ISO 261 and ISO 724: d2 = d − 0.649519 P, d3 = d − 1.226869 P, printed to a micrometre
it.each([
  ["M5", "0.80", "4.480", "4.019"],
  ["M6", "1.00", "5.350", "4.773"],
  ["M8", "1.25", "7.188", "6.466"],
  ["M10", "1.50", "9.026", "8.160"],
  ["M12", "1.75", "10.863", "9.853"],
])("has pitch, pitch diameter and root diameter of %s as tabled", (thread, pitch, d2, d3) => {
  const got = bolt(thread, "8.8");
  expect([
    got.pitch.in("mm").toFixed(2),
    got.pitchDiameter.in("mm").toFixed(3),
    got.rootDiameter.in("mm").toFixed(3),
  ]).toEqual([pitch, d2, d3]);
  expect([got.thread, got.propertyClass, got.diameter.in("mm")]).toEqual([thread, "8.8", Number(thread.slice(1))]);
  expect((["8.8", "10.9", "12.9"] as const).map((name) => bolt(thread, name).yieldStrength.in("MPa"))).toEqual([
    640, 900, 1080,
  ]);
});

describe("a screw pattern at its limits", () => {
  const where = area(mm(60), mm(460), mm(30), mm(210));

  it("lies even along the slots and runs from the middle outward, opposite screws after each other", () => {
    const got = screwPattern({
      area: area(mm(0), mm(200), mm(0), mm(100)),
      slots: [{ along: "x", at: mm(50), width: mm(12) }],
      spacing: mm(50),
      fromEnd: mm(20),
    });
    // 160 mm in four gaps of 40 mm
    expect(got.map(({ label, x, y }) => [label, Number(x.in("mm").toFixed(9)), y.in("mm")])).toEqual([
      ["S1", 100, 50],
      ["S2", 140, 50],
      ["S3", 60, 50],
      ["S4", 180, 50],
      ["S5", 20, 50],
    ]);
  });

  it("goes along y where the slots do", () => {
    const along = [{ along: "y" as const, at: mm(50), width: mm(12) }];
    const got = screwPattern({
      area: area(mm(0), mm(100), mm(10), mm(210)),
      slots: along,
      spacing: mm(80),
      fromEnd: mm(20),
    });
    expect(got.map(({ x, y }) => [x.in("mm"), Number(y.in("mm").toFixed(9))])).toEqual([
      [50, 110],
      [50, 30],
      [50, 190],
    ]);
  });

  it("takes slots 20 mm inside the plate, or as far as the screws from its ends", () => {
    const count = (yFrom: number, yTo: number, fromEnd: number) =>
      screwPattern({ area: area(mm(60), mm(460), mm(yFrom), mm(yTo)), slots, spacing: mm(400), fromEnd: mm(fromEnd) })
        .length;
    // slots at y 60, 120 and 180 mm, two screws each
    expect([count(40, 200, 25), count(40.1, 200, 25), count(40, 199.9, 25)]).toEqual([6, 4, 4]);
    expect([count(50, 190, 10), count(50.1, 189.9, 10)]).toEqual([6, 2]);
  });

  it("needs a length and a spacing above zero", () => {
    const made = (fromEnd: number, spacing: number) =>
      screwPattern({ area: where, slots, spacing: mm(spacing), fromEnd: mm(fromEnd) });
    expect(made(199, 2)).toHaveLength(6);
    for (const [fromEnd, spacing] of [
      [200, 2],
      [25, 0],
    ] as const) {
      expect(refusal(() => made(fromEnd, spacing)).code).toBe("pattern");
    }
    // just so many gaps as fit
    expect(made(25, 175)).toHaveLength(9);
    expect(made(25, 174.9)).toHaveLength(12);
  });
});

describe("the clearance of screw heads at its limits", () => {
  const none = (label: string) => input.normal({ label, estimate: mm(0), standardUncertainty: um(1e-9) });
  const doubts = {
    touchOff: none("touch-off"),
    toolLength: none("tool"),
    lockShift: none("lock"),
    deflection: none("deflection"),
  };
  const given: ScrewClearanceInput = {
    thread: "M10",
    leastCounterboreDepth: mm(12),
    plateThickness: mm(25),
    webNeeded: mm(8),
    margin: mm(0.5),
    screws: [{ label: "S1", cut: mm(0.4) }],
    doubts,
  };

  it("counts an own head height, no washer, and an estimate that is not zero as cut deeper", () => {
    expect(screwClearance(given).nearest.clearance.in("mm")).toBeCloseTo(12 - 10 - 0.4, 9);
    expect(screwClearance({ ...given, headHeight: mm(6), thread: "UNC" }).nearest.clearance.in("mm")).toBeCloseTo(
      12 - 6 - 0.4,
      9,
    );
    const deeper = input.rectangular({ label: "touch-off", estimate: mm(0.07), halfWidth: mm(0.03) });
    const wear = input.rectangular({ label: "wear", estimate: mm(-0.02), halfWidth: mm(0.01) });
    const got = screwClearance({ ...given, doubts: { ...doubts, touchOff: deeper, wear } });
    expect(got.nearest.clearance.in("mm")).toBeCloseTo(12 - 10 - 0.4 - 0.07 + 0.02, 9);
    expect(got.doubts.map(({ label }) => label)).toEqual(["touch-off", "tool", "lock", "deflection", "wear"]);
    expect(got.doubts[0]!.standardUncertainty.in("mm")).toBeCloseTo(0.03 / Math.sqrt(3), 12);
  });

  it("is safe where just the margin stays, at the worst screw", () => {
    const cut = (...cuts: number[]) =>
      screwClearance({ ...given, screws: cuts.map((c, i) => ({ label: `S${i + 1}`, cut: mm(c) })) });
    expect(cut(1.499).safe).toBe(true);
    expect(cut(1.501).safe).toBe(false);
    const several = cut(0.2, 1.6, 0.3);
    expect([several.nearest.label, several.safe, several.rows.map(({ safe }) => safe)]).toEqual([
      "S2",
      false,
      [true, false, true],
    ]);
    expect(String(several)).toBe(
      `nearest head S2: ${several.nearest.clearance.text("mm")} below the finished surface, at least 0.40 mm; not safe: deepen the counterbores or cut less`,
    );
    expect(several.margin.in("mm")).toBe(0.5);
  });

  it("takes a cut that is itself in doubt", () => {
    const doubt = input.normal({ label: "map", estimate: um(0), standardUncertainty: um(30) });
    const cut = Measured.of<"length">(mm(0.4), [{ input: doubt, sensitivity: 1 }]);
    const got = screwClearance({ ...given, screws: [{ label: "S1", cut }] });
    expect(got.nearest.clearance.standardUncertainty.in("um")).toBeCloseTo(30, 6);
    expect(got.nearest.clearance.in("mm")).toBeCloseTo(1.6, 9);
    expect(
      refusal(() => screwClearance({ ...given, plateThickness: mm(18.8), screws: [{ label: "S1", cut }] })).code,
    ).toBe("plate-too-thin");
  });

  it("needs plate for web, head, washer, cut and margin, and a web under the counterbore", () => {
    const of = (thickness: number, bore: number) =>
      screwClearance({ ...given, washer: mm(1), plateThickness: mm(thickness), leastCounterboreDepth: mm(bore) });
    // 8 + 10 + 1 + 0.4 + 0.5
    expect(of(19.9, 11.9).web.in("mm")).toBeCloseTo(8, 9);
    expect(refusal(() => of(19.89, 11)).code).toBe("plate-too-thin");
    expect(of(25, 17).web.in("mm")).toBeCloseTo(8, 9);
    expect(refusal(() => of(25, 17.01)).code).toBe("counterbore");
    for (const name of ["plateThickness", "leastCounterboreDepth", "webNeeded", "margin"] as const) {
      expect(refusal(() => screwClearance({ ...given, [name]: mm(0) })).message).toBe(
        `facing.screwClearance: ${name} is 0 mm; give a length above zero`,
      );
    }
  });
});

describe("torque and preload at their limits", () => {
  const screw = { thread: "M10", propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 } as const;
  /** torque over preload of M10, head of 16 mm over a hole of 11 mm, in mm */
  const lever = (thread: number, head: number) =>
    0.16 * 1.5 + 0.58 * (10 - 0.649519 * 1.5) * thread + (13.5 * head) / 2;

  it("has its middle at the middles of friction and wrench, and its ends where all limits meet", () => {
    const got = preload(screw, newtonMetre(30));
    expect(got.force.value.in("N")).toBeCloseTo(30_000 / lever(0.13, 0.13), 6);
    expect(got.low.in("N")).toBeCloseTo((30_000 * 0.94) / lever(0.16, 0.16), 6);
    expect(got.high.in("N")).toBeCloseTo((30_000 * 1.06) / lever(0.1, 0.1), 6);
    const { high, low } = preloadPerTorque(screw);
    expect(high * 30).toBeCloseTo(got.high.in("N"), 6);
    expect(low * 30).toBeCloseTo(got.low.in("N"), 6);
    expect(got.force.measurand).toBe("preload of M10 at 30 N·m");
    expect(got.force.terms.map(({ input: { label, source } }) => [label, source])).toEqual([
      ["friction in the thread", "limits given by the reader"],
      ["friction under the head", "limits given by the reader"],
      ["wrench", "limits given by the reader"],
    ]);
  });

  it("is given at the greatest torque and at none beyond, and for more than nothing", () => {
    const most = mostTorque(screw);
    expect(most.in("N.m")).toBeCloseTo((greatestPreload(bolt("M10", "8.8"), 0.1).in("N") * lever(0.1, 0.1)) / 1060, 9);
    expect(preload(screw, most).useOfScrew).toBeCloseTo(1, 9);
    for (const wrong of [most.times(1.0001), newtonMetre(0)])
      expect(refusal(() => preload(screw, wrong)).code).toBe("overtightened");
    for (const friction of [
      [0, 0.1],
      [0.1, 0.1],
      [0.1, 1],
    ] as const) {
      expect(refusal(() => mostTorque({ ...screw, friction })).code).toBe("friction");
    }
    for (const wrench of [0, 1]) expect(refusal(() => mostTorque({ ...screw, wrench })).code).toBe("wrench");
  });

  it("draws friction all over its limits, thread and head by themselves", () => {
    const one = preload(screw, newtonMetre(30));
    const random = randomStream(3, 0);
    const drawn = Array.from({ length: 500 }, () => drawnPreloadN(one, 1, random));
    const ends = [30_000 / lever(0.16, 0.16), 30_000 / lever(0.1, 0.1)] as const;
    expect(Math.min(...drawn)).toBeGreaterThan(ends[0]);
    expect(Math.max(...drawn)).toBeLessThan(ends[1]);
    expect(Math.min(...drawn)).toBeLessThan(ends[0] * 1.04);
    expect(Math.max(...drawn)).toBeGreaterThan(ends[1] * 0.95);
    expect(drawnPreloadN(one, 1.06, randomStream(3, 0)) / drawn[0]!).toBeCloseTo(1.06, 12);
  });

  it("bears on the ring between hole and head, or washer", () => {
    expect(bearingAreaMm2(screw)).toBeCloseTo((Math.PI / 4) * (16 ** 2 - 11 ** 2), 9);
    expect(bearingAreaMm2({ ...screw, washerDiameter: mm(20) })).toBeCloseTo((Math.PI / 4) * (20 ** 2 - 11 ** 2), 9);
  });

  it("refuses coefficients of nothing and of one, each where it stands", () => {
    const steel = bolt("M8", "8.8");
    for (const mu of [0, 1]) {
      const said = `a coefficient of friction of ${mu}; give a number between 0 and 1, such as 0.12 for oiled steel`;
      expect(refusal(() => greatestPreload(steel, mu)).message).toBe(`facing.greatestPreload: ${said}`);
      for (const friction of [
        { thread: mu, head: 0.1 },
        { thread: 0.1, head: mu },
      ]) {
        expect(refusal(() => tighteningTorque(steel, kN(1), friction, mm(10))).message).toBe(
          `facing.tighteningTorque: ${said}`,
        );
        expect(refusal(() => preloadFromTorque(steel, newtonMetre(1), friction, mm(10))).code).toBe("friction");
      }
      expect(refusal(() => preloadByNutFactor(mm(8), newtonMetre(1), mu)).message).toBe(
        `facing.preloadByNutFactor: a factor of ${mu}; give K of the short formula, between 0 and 1, such as 0.2`,
      );
    }
  });
});

describe("a hold-down at its limits", () => {
  const plan = holdDownPlan();
  const length = (screwLength: number, more: Partial<typeof plan> = {}) =>
    aHoldDown({ ...more, screwLength: mm(screwLength) });

  it("takes a diameter of thread and a millimetre above the floor of the slot, and a washer off both", () => {
    // 12 mm of plate, 3 mm down to the nut, 10 mm of thread: 25 mm; 12 mm and a slot of 20 mm less 1 mm: 31 mm
    expect(length(25).engaged.in("mm")).toBeCloseTo(10, 9);
    expect(length(31).tipClear.in("mm")).toBeCloseTo(1, 9);
    expect(refusal(() => length(24.99)).code).toBe("engagement");
    expect(refusal(() => length(31.01)).code).toBe("slot-floor");
    const washer = { washer: mm(2) };
    expect(length(27, washer).engaged.in("mm")).toBeCloseTo(10, 9);
    expect(refusal(() => length(26.9, washer)).message).toBe(
      "facing.holdDown: a screw 26.9 mm long reaches 12.9 mm below the top of the table, with 9.9 mm of thread in the nut; one diameter, 10 mm, is needed: lengths from 27.0 mm to 33.0 mm fit, in a nut with as much thread",
    );
    // a long screw in a nut with little thread is no better
    const short = { nut: { ...plan.nut, threadHeight: mm(9.9) } };
    expect(refusal(() => length(30, short)).code).toBe("engagement");
    expect(length(30, { nut: { ...plan.nut, threadHeight: mm(12) } }).engaged.in("mm")).toBeCloseTo(12, 9);
    expect(length(27).engaged.in("mm")).toBeCloseTo(12, 9);
  });

  it("takes a nut wider than the throat and up to the wide part", () => {
    const nut = (width: number) => aHoldDown({ nut: { ...plan.nut, width: mm(width) } }).upper.length;
    expect([nut(12.01), nut(21)]).toEqual([6, 6]);
    for (const wrong of [12, 21.01]) expect(refusal(() => nut(wrong)).code).toBe("nut");
  });

  it("needs each of its figures", () => {
    const said = (more: Partial<typeof plan>) => refusal(() => aHoldDown(more)).message;
    const none = (name: string, text = "0 mm") => `facing.holdDown: ${name} is ${text}; give a value above zero`;
    for (const name of ["throat", "recessWidth", "lip", "depth"] as const) {
      expect(said({ slot: { ...plan.slot, [name]: mm(0) } })).toBe(none(name));
    }
    expect(said({ nut: { ...plan.nut, length: mm(0) } })).toBe(none("nutLength"));
    expect(said({ nut: { ...plan.nut, width: mm(0) } })).toBe(none("nutWidth"));
    expect(said({ screwLength: mm(0) })).toBe(none("screwLength"));
    expect(said({ cutting: { force: newton(1), lift: newton(0) } })).toBe(none("lift", "0 N"));
    for (const jointFriction of [1, -0.1]) {
      expect(said({ jointFriction })).toBe(
        `facing.holdDown: a friction of ${jointFriction} between plate and table; give the least to be counted on, such as 0.1`,
      );
    }
    expect(said({ table: { tensileStrength: MPa(0), reserve: 3 } })).toBe(
      "facing.holdDown: a table of 0 MPa with a reserve of 3; give its tensile strength and a reserve of 1 or more, 3 for old iron",
    );
    expect(aHoldDown({ table: { tensileStrength: MPa(150), reserve: 1 } }).safe).toBe(true);
  });

  it("says where each limit comes from", () => {
    const got = aHoldDown();
    expect([...got.upper, ...got.lower].map(({ what, source }) => `${what}: ${source}`)).toEqual([
      "screw, tension and torsion together: VDI 2230, 0.9 of the yield",
      "thread of the nut, shear: mild steel taken, 235 N/mm² (EN 10025-2, from memory), shear yield 0.577 of it; area of a 6g screw in a 6H nut, the least metal",
      "slot lip, shear along the nut: two lips, shear allowed as tension; common practice",
      "slot lip, bending: each lip as a short beam as long as the nut; common practice",
      "bearing under the head: proof stress of aluminium 6061-T651, handbook values; modulus of 6061, steel and grey iron: Callister B.2, the rest from memory",
      "shear of the plate under the head: shear yield 0.577 of the proof stress (von Mises)",
      "holds against sliding: friction 0.1, 4 times the cutting force",
      "holds against lifting and prying: about the worst edge, 4 times the cutting force",
    ]);
    expect(got.notes).toEqual([
      "read an indicator beside each screw while it is tightened; shim rather than pull the plate down",
      "high end of the scatter where something may be overloaded, low end where it has to hold; limits all together, not 95 %",
      "torque no greater than needed: what bends the plate down comes back when it is released",
    ]);
    expect(got.cautions).toBe(cutCautions);
    expect(got.pressure.in("MPa")).toBeCloseTo(got.preload.high.in("N") / ((Math.PI / 4) * (16 ** 2 - 11 ** 2)), 9);
    const washer = aHoldDown({ screw: { ...plan.screw, washerDiameter: mm(20) }, washer: mm(1) });
    const shear = washer.upper.at(-1)!.force.in("N");
    expect(shear).toBeCloseTo(Math.PI * 20 * 12 * 0.577 * 240, 6);
  });

  it("is tipped about the edge that its screws are nearest to, whichever that is", () => {
    // one screw, M10, 400 mm × 180 mm × 25 mm: moment 4 (F t + L far) over its arm
    const lone = (x: number, y: number) => {
      const plate = aPlate({ ...platePlan(), screws: [at(x, y)] });
      const found = aHoldDown({ plate, cutting: { force: newton(30), lift: newton(10) } }).lower;
      return found.find(({ what }) => what.includes("prying"))!.force.in("N");
    };
    const moment = (far: number) => 4 * (30 * 25 + 10 * far);
    expect(lone(80, 120)).toBeCloseTo(moment(400) / 20, 6);
    expect(lone(440, 120)).toBeCloseTo(moment(400) / 20, 6);
    expect(lone(260, 60)).toBeCloseTo(moment(180) / 30, 6);
    expect(lone(260, 180)).toBeCloseTo(moment(180) / 30, 6);
  });

  it("takes half of what is allowed in half newton-metres, more where it has to hold, never above what is allowed", () => {
    const got = aHoldDown();
    // most 22.8 N·m (slot lip): half of the 22 is 11.0
    expect(got.torque.in("N.m")).toBe(11);
    expect(String(got)).toBe(
      "12 screws M10 8.8 at 11.0 N·m (4.4 N·m, 7.7 N·m, 11.0 N·m): holds, nothing overloaded; at least 2.4 N·m (holds against sliding), at most 22.8 N·m (slot lip, bending)",
    );
    // 5.5 times the force asks for 13 N·m: the next half newton-metre above it
    const hard = aHoldDown({ cutting: { force: newton(1650), lift: newton(550) } });
    expect(hard.least.torque.in("N.m")).toBeCloseTo(got.least.torque.in("N.m") * 5.5, 9);
    expect(hard.torque.in("N.m")).toBe(Math.ceil(hard.least.torque.in("N.m") * 2) / 2);
    expect(hard.safe).toBe(true);
    // where more is needed than is allowed, what is allowed, and it is not safe
    const over = aHoldDown({ cutting: { force: newton(3300), lift: newton(1100) } });
    expect(over.torque.in("N.m")).toBe(22.5);
    expect(over.safe).toBe(false);
    expect(String(over)).toContain(
      "at 22.5 N·m (9.0 N·m, 15.8 N·m, 22.5 N·m): not safe: holds against sliding asks for more; at least 26.1 N·m",
    );
  });

  it("is safe at both of its limits", () => {
    const got = aHoldDown();
    for (const torque of [got.most.torque, got.least.torque]) expect(aHoldDown({ torque }).safe).toBe(true);
    for (const torque of [got.most.torque.times(1.0001), got.least.torque.times(0.9999)])
      expect(aHoldDown({ torque }).safe).toBe(false);
  });

  it("tells a cut that asks for more than it was made for, force and lift by themselves", () => {
    const got = aHoldDown();
    expect(got.shortOf({ force: newton(300), lift: newton(100) })).toEqual([]);
    expect(got.shortOf({ force: newton(301), lift: newton(100) })).toEqual([
      "the cut may push with 301.0 N and the hold-down was worked out for 300.0 N",
    ]);
    expect(got.shortOf({ force: newton(10), lift: newton(100.5) })).toEqual([
      "the cut may lift with 100.5 N and the hold-down was worked out for 100.0 N",
    ]);
    const load = { force: newton(200), lift: newton(50) };
    expect(aHoldDown({ cutting: { load } }).load).toBe(load);
  });

  it("draws the nut's thread from its own metal, and the iron's strength over its reserve", () => {
    const hard = aHoldDown({ nut: { ...plan.nut, proofStress: MPa(470) } });
    const thread = (got: typeof hard) => got.upper[1]!.force.in("N");
    expect(thread(hard) / thread(aHoldDown())).toBeCloseTo(2, 9);
    expect(hard.upper[1]!.source).toBe(
      "470 N/mm² as given, shear yield 0.577 of it; area of a 6g screw in a 6H nut, the least metal",
    );
  });
});

// BS 2485, the sizes that are not in the published table of the tests (from memory): throat, widest, lip, depth in mm
it.each([
  ["M4", 5, 11, 3.5, 8],
  ["M16", 18, 32, 16, 30],
])("has the slot for %s", (name, ...sizes) => {
  const got = tSlot(name);
  expect([got.throat, got.recessWidth, got.lip, got.depth].map((v: Length) => v.in("mm"))).toEqual(sizes);
});

it("keeps the thread's name with a head", () => {
  expect(capScrew("M8").thread).toBe("M8");
});
