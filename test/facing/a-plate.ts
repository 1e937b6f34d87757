import {
  area,
  type HoldDownInput,
  holdDown,
  type PlateInput,
  plate,
  plateMaterial,
  screwPattern,
  tSlot,
} from "../../kernel-lib/src/facing/index.js";
import { MPa, mm, newton } from "../../kernel-lib/src/quantity/index.js";

export const slots = [60, 120, 180].map((y) => ({ along: "x" as const, at: mm(y), width: mm(12) }));

/** An invented plate of 400 mm × 180 mm over three slots. */
export function platePlan(more: Partial<PlateInput> = {}): PlateInput {
  const where = more.area ?? area(mm(60), mm(460), mm(30), mm(210));
  return {
    name: "fixture plate",
    area: where,
    thickness: mm(25),
    thicknessWithin: mm(0.2),
    material: plateMaterial("aluminium 6061-T651"),
    slots,
    screws: more.screws ?? screwPattern({ area: where, slots, spacing: mm(120), fromEnd: mm(25) }),
    thread: "M10",
    counterboreDepth: mm(13),
    deepestCut: mm(0.5),
    ...more,
  };
}

export const aPlate = (more: Partial<PlateInput> = {}) => plate(platePlan(more));

export function holdDownPlan(more: Partial<HoldDownInput> = {}): HoldDownInput {
  return {
    plate: aPlate(),
    screw: { propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 },
    slot: tSlot("M10"),
    nut: { length: mm(25), width: mm(18), threadHeight: mm(14), threadBelowTable: mm(3) },
    table: { tensileStrength: MPa(150), reserve: 3 },
    screwLength: mm(30),
    jointFriction: 0.1,
    cutting: { force: newton(300), lift: newton(100) },
    ...more,
  };
}

export const aHoldDown = (more: Partial<HoldDownInput> = {}) => holdDown(holdDownPlan(more));
