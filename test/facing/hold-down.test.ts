import { describe, expect, it } from "vitest";
import { cutCautions } from "../../kernel-lib/src/facing/cautions.js";
import { plateMaterial } from "../../kernel-lib/src/facing/index.js";
import { kN, MPa, mm, newton, newtonMetre } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aHoldDown, aPlate, holdDownPlan } from "./a-plate.js";

const limit = (got: ReturnType<typeof aHoldDown>, what: string) =>
  [...got.upper, ...got.lower].find((row) => row.what.startsWith(what))!.force.in("N");

describe("a hold-down", () => {
  const got = aHoldDown();

  it("takes each limit from its own formula", () => {
    // two lips 11 mm thick over a nut 25 mm long, 150 N/mm² with a reserve of 3
    expect(limit(got, "slot lip, shear")).toBeCloseTo(2 * 25 * 11 * 50, 6);
    // π d (m / P) (P / 2 + (d − D2) tan 30°) of M10 × 1.5, 6g in 6H, over 14 mm, shear yield 0.577 of 235 N/mm²
    const shorn = Math.PI * 9.732 * (14 / 1.5) * (0.75 + (9.732 - 9.206) / Math.sqrt(3));
    expect(limit(got, "thread of the nut") / (shorn * 0.577 * 235)).toBeCloseTo(1, 3);
    expect(limit(got, "slot lip, bending")).toBeCloseTo((2 * ((25 * 121) / 6) * 50) / (21 / 2 - (12 + 18) / 4), 6);
    expect(limit(got, "bearing")).toBeCloseTo((Math.PI / 4) * (16 ** 2 - 11 ** 2) * 240, 6);
    expect(limit(got, "shear of the plate")).toBeCloseTo(Math.PI * 16 * 12 * 0.577 * 240, 6);
    expect(limit(got, "holds against sliding")).toBeCloseTo(((4 * 300) / 0.1 + 4 * 100) / 12, 6);
    // about a long side: arms of 12 screws, 30, 90 and 150 mm, four of each
    expect(limit(got, "holds against lifting")).toBeCloseTo((4 * (300 * 25 + 100 * 180)) / (4 * (30 + 90 + 150)), 6);
  });

  it("takes the least of what may be overloaded at the high end, the greatest of what has to hold at the low end", () => {
    const uppers = got.upper.map(({ torque }) => torque.si);
    const lowers = got.lower.map(({ torque }) => torque.si);
    expect(got.most.torque.si).toBe(Math.min(...uppers));
    expect(got.least.torque.si).toBe(Math.max(...lowers));
    for (const { force, torque } of got.upper) {
      expect(force.si / torque.si).toBeCloseTo(got.preload.high.si / got.torque.si, 6);
    }
    for (const { force, torque } of got.lower) {
      expect(force.si / torque.si).toBeCloseTo(got.preload.low.si / got.torque.si, 6);
    }
    expect(got.safe).toBe(true);
    expect(got.torque.si).toBeGreaterThan(got.least.torque.si);
    expect(got.torque.si).toBeLessThanOrEqual(got.most.torque.si);
  });

  it("has one diameter of thread and more, and stays clear of the slot floor", () => {
    expect(got.engaged.text()).toBe("14 mm");
    expect(got.tipClear.text()).toBe("2 mm");
  });

  it("says what limits it in one sentence", () => {
    expect(String(got)).toMatch(
      /^12 screws M10 8\.8 at \d+\.\d N·m \(\d+\.\d N·m, \d+\.\d N·m, \d+\.\d N·m\): holds, nothing overloaded; at least \d+\.\d N·m \(holds against sliding\), at most \d+\.\d N·m \(slot lip, bending\)$/,
    );
  });

  it("is not safe where a torque asked for overloads the iron or does not hold", () => {
    const hard = aHoldDown({ torque: newtonMetre(40), plate: aPlate({ material: plateMaterial("mild steel") }) });
    expect(hard.safe).toBe(false);
    expect(String(hard)).toContain("not safe: slot lip, bending is overloaded");
    const loose = aHoldDown({ torque: newtonMetre(1) });
    expect(loose.safe).toBe(false);
    expect(String(loose)).toContain("not safe: holds against sliding asks for more");
  });

  it("is bounded by the thread of a soft nut, and says what it took the nut for", () => {
    const source = (found: typeof got) => found.upper.find(({ what }) => what.startsWith("thread of the nut"))!.source;
    expect(source(got)).toBe(
      "mild steel taken, 235 N/mm² (EN 10025-2, from memory), shear yield 0.577 of it; area of a 6g screw in a 6H nut, the least metal",
    );
    const soft = aHoldDown({ nut: { ...holdDownPlan().nut, proofStress: MPa(60) } });
    expect(soft.most.what).toBe("thread of the nut, shear");
    expect(source(soft)).toMatch(/^60 N\/mm² as given/);
    expect(refusal(() => aHoldDown({ nut: { ...holdDownPlan().nut, proofStress: MPa(0) } })).message).toBe(
      "facing.holdDown: nutProofStress is 0 MPa; give a value above zero",
    );
  });

  it("is bounded by bearing on a soft plate", () => {
    expect(aHoldDown({ plate: aPlate({ material: plateMaterial("aluminium 5083-O") }) }).most.what).toBe(
      "bearing under the head",
    );
  });

  it("asks for more torque the harder the cut and the more slippery the joint", () => {
    const least = (more: Parameters<typeof aHoldDown>[0]) => aHoldDown(more).least.torque.si;
    expect(least({ cutting: { force: newton(600), lift: newton(100) } })).toBeGreaterThan(got.least.torque.si);
    expect(least({ jointFriction: 0.05 })).toBeGreaterThan(got.least.torque.si);
  });

  it("keeps its cautions and tightens in three rounds", () => {
    expect(got.cautions).toBe(cutCautions);
    expect(got.rounds.at(-1)?.si).toBe(got.torque.si);
    expect(got.rounds).toHaveLength(3);
  });

  it.each([
    [
      { screwLength: mm(20) },
      "engagement",
      "a screw 20 mm long reaches 8.0 mm below the top of the table, with 5.0 mm of thread in the nut; one diameter, 10 mm, is needed: lengths from 25.0 mm to 31.0 mm fit, in a nut with as much thread",
    ],
    [
      { screwLength: mm(35) },
      "slot-floor",
      "a screw 35 mm long reaches 23.0 mm below the top of the table, in a slot 20 mm deep; 1 mm has to stay above its floor: lengths from 25.0 mm to 31.0 mm fit",
    ],
    [
      { jointFriction: 0 },
      "friction",
      "a friction of 0 between plate and table; give the least to be counted on, such as 0.1",
    ],
    [
      { table: { tensileStrength: MPa(150), reserve: 0.5 } },
      "not-positive",
      "a table of 150 MPa with a reserve of 0.5; give its tensile strength and a reserve of 1 or more, 3 for old iron",
    ],
    [{ cutting: { force: kN(0), lift: newton(1) } }, "not-positive", "force is 0 N; give a value above zero"],
    [
      { nut: { ...holdDownPlan().nut, width: mm(22) } },
      "nut",
      "a nut 22 mm wide in a slot with a throat of 12 mm and a wide part of 21 mm; it has to lie between the two, measure both",
    ],
  ])("refuses %o", (wrong, code, message) => {
    expect(refusal(() => aHoldDown(wrong))).toEqual({ code, message: `facing.holdDown: ${message}` });
  });
});
