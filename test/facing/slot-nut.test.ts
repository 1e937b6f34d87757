import { describe, expect, it } from "vitest";
import { bolt } from "../../kernel-lib/src/facing/index.js";
import { innerThreadShearMm2, nutShearAreaMm2, nutThreadN } from "../../kernel-lib/src/facing/slot-nut.js";
import { MPa, mm } from "../../kernel-lib/src/quantity/index.js";
import { decimalsOf, fixture } from "../reference/digits.js";

interface Stripping {
  readonly example: { readonly [name: string]: string };
  readonly leastMajor: { readonly [thread: string]: string };
}

const { example, leastMajor } = fixture<Stripping>("machining/thread-stripping.json");

describe("the thread of a nut", () => {
  it("strips where the worked example says", () => {
    const { loadPerMm2, stressArea, load, shearStrength, major, pitchDiameter, pitch, engaged } = example;
    expect(Number(loadPerMm2) * Number(stressArea)).toBe(Number(load));
    const perMm = innerThreadShearMm2(Number(major), Number(pitchDiameter), Number(pitch), 1);
    const needed = Number(load) / (perMm * Number(shearStrength));
    expect(needed.toFixed(decimalsOf(engaged!))).toBe(engaged);
  });

  it.each(Object.entries(leastMajor))(
    "of %s is taken for a screw of the least diameter of the tables",
    (thread, printed) => {
      const found = nutShearAreaMm2(bolt(thread, "8.8"), mm(1));
      const p = bolt(thread, "8.8").pitch.in("mm");
      // the pitch diameter that area and printed major diameter leave: above the basic one by a 6H tolerance, 0.1 P to 0.2 P
      const major = Number(printed);
      const left = major - ((found * p) / (Math.PI * major) - p / 2) * Math.sqrt(3);
      const basic = bolt(thread, "8.8").pitchDiameter.in("mm");
      expect(left - basic).toBeGreaterThan(0.1 * p);
      expect(left - basic).toBeLessThan(0.2 * p);
      if (thread === "M10") expect(left.toFixed(3)).toBe(example.pitchDiameter);
    },
  );

  it("carries a fifth to a quarter less than nominal diameters would say, in all sizes", () => {
    for (const thread of ["M5", "M6", "M8", "M10", "M12"]) {
      const { diameter, pitch, pitchDiameter } = bolt(thread, "8.8");
      const [d, d2, p] = [diameter, pitchDiameter, pitch].map((length) => length.in("mm")) as [number, number, number];
      const ratio = nutShearAreaMm2(bolt(thread, "8.8"), mm(7)) / innerThreadShearMm2(d, d2, p, 7);
      expect(ratio).toBeGreaterThan(0.72);
      expect(ratio).toBeLessThan(0.82);
    }
  });

  it("carries in proportion to its length and to its metal", () => {
    const nut = { length: mm(25), width: mm(20), threadHeight: mm(14), threadBelowTable: mm(12) };
    const screw = bolt("M10", "8.8");
    const force = nutThreadN(screw, { nut, engaged: mm(7) });
    expect(nutThreadN(screw, { nut, engaged: mm(14) }) / force).toBeCloseTo(2, 12);
    expect(nutThreadN(screw, { nut: { ...nut, proofStress: MPa(470) }, engaged: mm(7) }) / force).toBeCloseTo(2, 12);
  });
});
