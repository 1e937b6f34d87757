import { expect, it } from "vitest";
import { cutCautions } from "../../kernel-lib/src/facing/cautions.js";
import { screwClearance } from "../../kernel-lib/src/facing/screw-clearance.js";
import { type Length, mm } from "../../kernel-lib/src/quantity/index.js";
import { input } from "../../kernel-lib/src/uncertainty/index.js";
import { refusal } from "../refusal.js";

const within = (label: string, halfWidth: Length) => input.rectangular({ label, estimate: mm(0), halfWidth });
const doubts = {
  touchOff: within("touch-off with a feeler", mm(0.06)),
  toolLength: within("tool length", mm(0.03)),
  lockShift: within("shift when the head is locked", mm(0.02)),
  deflection: within("deflection", mm(0.02)),
};
const plate = {
  thread: "M10",
  leastCounterboreDepth: mm(12),
  washer: mm(0.5),
  plateThickness: mm(25),
  webNeeded: mm(8),
  margin: mm(0.5),
  screws: [
    { label: "S1", cut: mm(0.3) },
    { label: "S2", cut: mm(0.45) },
  ],
  doubts,
};

it("takes least counterbore depth − greatest head − washer − cut at that screw, and U off that", () => {
  const got = screwClearance(plate);
  expect(got.nearest.label).toBe("S2");
  expect(got.nearest.clearance.in("mm")).toBeCloseTo(12 - 10 - 0.5 - 0.45, 9);
  const u = Math.sqrt((0.06 ** 2 + 0.03 ** 2 + 2 * 0.02 ** 2) / 3);
  expect(got.nearest.clearance.standardUncertainty.in("mm")).toBeCloseTo(u, 9);
  expect(got.nearest.atLeast.in("mm")).toBeCloseTo(1.05 - 1.959964 * u, 6);
  expect(got.safe).toBe(true);
  expect(got.web.in("mm")).toBeCloseTo(13, 9);
  expect(String(got)).toMatch(/^nearest head S2: 1\.0\d+ mm ± .*; clear of the cutter$/);
});

it("is not safe where U eats the margin", () => {
  const got = screwClearance({ ...plate, doubts: { ...doubts, touchOff: within("paper", mm(0.9)) } });
  expect(got.safe).toBe(false);
  expect(String(got)).toContain("not safe: deepen the counterbores or cut less");
});

it("carries the cautions of the cut", () => {
  expect(screwClearance(plate).cautions).toBe(cutCautions);
});

it.each([
  [
    { plateThickness: mm(18) },
    "plate-too-thin",
    "facing.screwClearance: a plate of 18 mm is too thin: web 8 mm, head 10 mm, washer 0.5 mm, deepest cut 0.45 mm and margin 0.5 mm need 19.45 mm; take a thicker plate or smaller screws",
  ],
  [
    { leastCounterboreDepth: mm(18) },
    "counterbore",
    "facing.screwClearance: counterbores 18 mm deep leave 7 mm of a plate of 25 mm under the heads, and 8 mm is needed; make them shallower or take a thicker plate",
  ],
  [{ screws: [] }, "no-screws", "facing.screwClearance: no screw was given; list each screw with the cut at its place"],
  [{ margin: mm(0) }, "not-positive", "facing.screwClearance: margin is 0 mm; give a length above zero"],
])("refuses %o", (wrong, code, message) => {
  expect(refusal(() => screwClearance({ ...plate, ...wrong }))).toEqual({ code, message });
});
