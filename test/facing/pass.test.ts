import { expect, it } from "vitest";
import { cutCautions } from "../../kernel-lib/src/facing/cautions.js";
import { millingPower, pass } from "../../kernel-lib/src/facing/pass.js";
import { inch, MPa, mm, mmPerMin, perMin } from "../../kernel-lib/src/quantity/index.js";
import { decimalsOf, fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

const published = fixture<{
  power: { ap: number; ae: number; vf: number; kc: number; efficiency: number; kW: string };
  speed: { cuttingFtPerMin: number; diameterIn: number; perMin: string };
}>("machining/face-cutting.json");

const plate = {
  lengthAlongFeed: mm(460),
  widthAcrossFeed: mm(200),
  cutterDiameter: mm(50),
  stepOver: mm(30),
  spindleSpeed: perMin(600),
  teeth: 1,
  feedPerTooth: mm(0.1),
  runOut: mm(3),
  returnFeed: mmPerMin(600),
};

it("gives the published power in milling", () => {
  const { ap, ae, vf, kc, efficiency, kW } = published.power;
  const power = millingPower({ depth: mm(ap), width: mm(ae), feed: mmPerMin(vf), specificForce: MPa(kc), efficiency });
  expect(power.in("kW").toFixed(decimalsOf(kW))).toBe(kW);
});

it("agrees with the handbook's speed for a cutting speed", () => {
  const { cuttingFtPerMin, diameterIn, perMin: printed } = published.speed;
  const plan = pass({
    ...plate,
    cutterDiameter: inch(diameterIn),
    stepOver: mm(3),
    spindleSpeed: perMin(Number(printed)),
  });
  expect(plan.cuttingSpeed.in("ft/min").toFixed(0)).toBe(String(cuttingFtPerMin));
});

it("spreads the passes evenly, never wider than asked, and runs clear on every side", () => {
  const plan = pass(plate);
  expect(plan.count).toBe(7);
  expect(plan.stepOver.in("mm")).toBeCloseTo(26, 9);
  expect(plan.travelAcrossFeed.in("mm")).toBeCloseTo(156, 9);
  expect(plan.travelAlongFeed.in("mm")).toBeCloseTo(516, 9);
  expect(plan.feed.in("mm/min")).toBeCloseTo(60, 9);
});

it("adds up the time of cutting one way and of the way back", () => {
  const { time } = pass(plate);
  expect(time.in("min")).toBeCloseTo((516 * 7) / 60 + (516 * 6 + 156) / 600, 9);
});

it("takes one pass where the cutter is wider than the area", () => {
  const plan = pass({ ...plate, widthAcrossFeed: mm(40) });
  expect(plan.count).toBe(1);
  expect(plan.travelAcrossFeed.si).toBe(0);
});

it("carries the cautions of the cut, which can't be taken out", () => {
  const plan = pass(plate);
  expect(plan.cautions).toBe(cutCautions);
  expect(() => (plan.cautions as string[]).pop()).toThrow(TypeError);
  expect(() => Object.assign(plan, { cautions: [] })).toThrow(TypeError);
});

it.each([
  [
    { stepOver: mm(50) },
    "step-over",
    "pass: a step-over of 50 mm leaves strips uncut under a cutter of 50 mm; keep it below the diameter",
  ],
  [{ spindleSpeed: perMin(0) }, "not-positive", "pass: spindleSpeed is 0 1/min; give a value above zero"],
  [{ teeth: 1.5 }, "not-positive", "pass: teeth is 1.5; give a whole number of teeth"],
  [{ teeth: Number.NaN }, "not-positive", "pass: teeth is NaN; give a value above zero"],
])("refuses %o", (wrong, code, message) => {
  expect(refusal(() => pass({ ...plate, ...wrong }))).toEqual({ code, message });
});

it("refuses an efficiency that is not a share", () => {
  const act = () =>
    millingPower({ depth: mm(1), width: mm(1), feed: mmPerMin(1), specificForce: MPa(1), efficiency: 80 });
  expect(refusal(act)).toEqual({
    code: "efficiency",
    message: "millingPower: an efficiency of 80 is not a share of the motor's power; give a number above 0 and up to 1",
  });
});
