import { describe, expect, it } from "vitest";
import { program } from "../../kernel-lib/src/facing/program.js";
import type { FacingJob } from "../../kernel-lib/src/facing/program-job.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { mm, mmPerMin, perMin, seconds } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aJob } from "./a-job.js";

const bare = { screws: [], obstacles: [] } as const;
const cutter = aJob().cutter;
const holder = (diameter: number, above: number) => ({
  cutter: { ...cutter, holder: [{ name: "arbor", diameter: mm(diameter), above: mm(above) }] },
});
const head = (top: number) => ({
  screws: [{ label: "S1", x: mm(65), y: mm(75), headDiameter: mm(10), headTop: mm(top) }],
});
const stop = (xFrom: number, xTo: number, yFrom: number, yTo: number, top: number) => ({
  obstacles: [{ name: "stop", area: area(mm(xFrom), mm(xTo), mm(yFrom), mm(yTo)), top: mm(top) }],
});

// plate x 50 to 170, y 40 to 110 mm, cutter 40 mm, run-out 3 mm: the centre goes from x 27 to 193 mm and from y 57 to
// 93 mm, the rim from x 7 to 213 mm and from y 37 to 113 mm; depths 0.3 and 0.5 mm
describe.each<[string, Partial<FacingJob>, Partial<FacingJob>, string]>([
  [
    "first round of a tenth",
    { rounds: [{ depth: mm(0.1) }, { depth: mm(0.2) }] },
    { rounds: [{ depth: mm(0.0999) }] },
    "finish",
  ],
  [
    "second round of a tenth, or of nothing",
    { rounds: [{ depth: mm(0.3) }, { depth: mm(0.4) }, { depth: mm(0.4) }] },
    { rounds: [{ depth: mm(0.3) }, { depth: mm(0.3999) }] },
    "finish",
  ],
  ["round above nothing", { rounds: [{ depth: mm(0.1) }] }, { rounds: [{ depth: mm(0) }] }, "rounds"],
  [
    "half step at the depth of the round before",
    { rounds: [{ depth: mm(0.3) }, { depth: mm(0.3), offsetByHalfStep: true }] },
    { rounds: [{ depth: mm(0.3), offsetByHalfStep: true }] },
    "half-step",
  ],
  ["floor at the last round", { floor: mm(-0.5) }, { floor: mm(-0.4999) }, "floor"],
  ["retract at the clearance", { retract: mm(5) }, { retract: mm(4.999) }, "clearance"],
  [
    "clearance above Z0",
    { clearance: mm(0.1), retract: mm(0.1), obstacles: [] },
    { clearance: mm(0), obstacles: [] },
    "clearance",
  ],
  [
    "clearance over the highest thing by the margin",
    stop(225, 240, 60, 90, 4.5),
    stop(225, 240, 60, 90, 4.501),
    "clearance",
  ],
  [
    "clearance over it by a margin that sums with rounding",
    { ...stop(225, 240, 60, 90, 4.4), margin: mm(0.6) },
    { ...stop(225, 240, 60, 90, 4.4), margin: mm(0.601) },
    "clearance",
  ],
  ["step-over below the diameter", { stepOver: mm(20) }, { stepOver: mm(40) }, "step-over"],
  ["speed at the mark", { speed: perMin(1500) }, { speed: perMin(1500.1) }, "speed"],
  [
    "travel from",
    { travel: area(mm(27), mm(240), mm(57), mm(160)) },
    { travel: area(mm(27.01), mm(240), mm(0), mm(160)) },
    "travel",
  ],
  [
    "travel to",
    { travel: area(mm(0), mm(193), mm(0), mm(93)) },
    { travel: area(mm(0), mm(192.99), mm(0), mm(160)) },
    "travel",
  ],
  ["travel across from", {}, { travel: area(mm(0), mm(240), mm(57.01), mm(160)) }, "travel"],
  ["travel across to", {}, { travel: area(mm(0), mm(240), mm(0), mm(92.99)) }, "travel"],
  ["depth of z", { travelZ: { from: mm(-0.5), to: mm(150) } }, { travelZ: { from: mm(-0.49), to: mm(150) } }, "travel"],
  ["height of z", { travelZ: { from: mm(-15), to: mm(60) } }, { travelZ: { from: mm(-15), to: mm(59.9) } }, "travel"],
  ["head at the margin", head(-1), head(-0.999), "screw"],
  ["thing at the rim's left", stop(0, 7, 60, 90, 3), stop(0, 7.01, 60, 90, 3), "obstacle"],
  ["thing at the rim's right", stop(213, 240, 60, 90, 3), stop(212.99, 240, 60, 90, 3), "obstacle"],
  ["thing at the rim's front", stop(60, 90, 0, 37, 3), stop(60, 90, 0, 37.01, 3), "obstacle"],
  ["thing at the rim's back", stop(60, 90, 113, 130, 3), stop(60, 90, 112.99, 130, 3), "obstacle"],
  ["thing under the rim by the margin", stop(60, 90, 60, 90, -1), stop(60, 90, 60, 90, -0.999), "obstacle"],
  ["holder over the plate by the margin", { ...bare, ...holder(60, 1) }, { ...bare, ...holder(60, 0.999) }, "holder"],
  // over the stop by its margin in the deeper round, or beside it: 215 mm is 22 mm from the end of the lanes
  [
    "holder over a thing by the margin",
    { ...stop(215, 230, 60, 90, 3), ...holder(60, 4) },
    { ...stop(215, 230, 60, 90, 3), ...holder(60, 3.999) },
    "holder",
  ],
  [
    "holder beside a thing",
    { ...stop(215, 230, 60, 90, 3), ...holder(44, 2) },
    { ...stop(215, 230, 60, 90, 3), ...holder(44.01, 2) },
    "holder",
  ],
  // from the corner of the lanes at x 27, y 57 mm to the stop's corner at x 6, y 29 mm: 21 and 28 mm, together 35 mm
  [
    "holder beside a thing off the corner",
    { ...stop(0, 6, 0, 29, 3), ...holder(70, 2) },
    { ...stop(0, 6, 0, 29, 3), ...holder(70.01, 2) },
    "holder",
  ],
  // behind the last lane, at y 93 mm
  [
    "holder beside a thing behind",
    { ...stop(60, 90, 118, 130, 3), ...holder(50, 2) },
    { ...stop(60, 90, 118, 130, 3), ...holder(50.01, 2) },
    "holder",
  ],
  ["holder above the tip", { ...bare, ...holder(1, 1) }, { ...bare, ...holder(1, 0) }, "holder"],
])("%s", (_name, right, wrong, code) => {
  it("is let through at the limit and refused beyond", () => {
    expect(program(aJob(right)).rounds.length).toBeGreaterThan(0);
    expect(refusal(() => program(aJob(wrong))).code).toBe(code);
  });
});

it("turns the limits with the feed: along y the centre goes from y 17 to 133 mm and from x 67 to 153 mm", () => {
  const along = (more: Partial<FacingJob>) => aJob({ feedAlong: "y", ...more });
  expect(program(along({ travel: area(mm(67), mm(153), mm(17), mm(133)), ...bare })).rounds).toHaveLength(3);
  expect(refusal(() => program(along({ travel: area(mm(0), mm(240), mm(17.5), mm(160)) }))).message).toBe(
    "facing.program: to run clear of the plate the cutter has to go from y 17 mm to 133 mm, and the travel is 17.5 mm to 160 mm; take a smaller cutter, less run-out or a smaller plate",
  );
  expect(refusal(() => program(along({ travel: area(mm(68), mm(240), mm(0), mm(160)) }))).message).toBe(
    "facing.program: to run clear of the plate the cutter has to go from x 67 mm to 153 mm, and the travel is 68 mm to 240 mm; take a smaller cutter, less run-out or a smaller plate",
  );
  // the rim comes from x 47 to 173 mm and from y −3 to 153 mm
  expect(program(along(stop(173, 240, 60, 90, 3))).rounds).toHaveLength(3);
  expect(refusal(() => program(along(stop(172.9, 240, 60, 90, 3)))).message).toBe(
    "facing.program: stop stands at x 172.9 mm to 240 mm, y 60 mm to 90 mm, where the rim comes: it sweeps x 47 mm to 173 mm, y −3 mm to 153 mm; move it away, or take less run-out or a smaller cutter",
  );
  expect(program(along(stop(60, 90, 153, 160, 3))).rounds).toHaveLength(3);
  expect(refusal(() => program(along(stop(60, 90, 152.9, 160, 3)))).code).toBe("obstacle");
  // 153 mm is the last lane: an arbor of 60 mm reaches 183 mm
  expect(program(along({ ...stop(183, 240, 60, 90, 3), ...holder(60, 2) })).rounds).toHaveLength(3);
  expect(refusal(() => program(along({ ...stop(182.9, 240, 60, 90, 3), ...holder(60, 2) }))).code).toBe("holder");
});

it("makes one lane of a plate that the cutter just covers with its run-out on both sides", () => {
  // 34 mm and twice 3 mm are the 40 mm of the cutter
  const just = program(aJob({ ...bare, plate: area(mm(50), mm(170), mm(60), mm(94)), rounds: [{ depth: mm(0.3) }] }));
  expect(just.rounds[0]!.lanes).toBe(1);
  expect(just.text).toContain("G1 X143.0 Y37.0 F128.0");
});

it("names the axis across the feed where the travel is too short there", () => {
  expect(refusal(() => program(aJob({ travel: area(mm(0), mm(240), mm(60), mm(160)) }))).message).toBe(
    "facing.program: to run clear of the plate the cutter has to go from y 57 mm to 93 mm, and the travel is 60 mm to 160 mm; take a smaller cutter, less run-out or a smaller plate",
  );
});

describe("each figure of the cutter and its ways", () => {
  it.each<[Partial<FacingJob>, string]>([
    [{ cutter: { ...cutter, diameter: mm(0) } }, "cutter.diameter is 0 mm"],
    [{ speed: perMin(0) }, "speed is 0 1/min"],
    [{ cutter: { ...cutter, greatestSpeed: perMin(-1) } }, "cutter.greatestSpeed is −1 1/min"],
    [{ feedPerTooth: mm(0) }, "feedPerTooth is 0 mm"],
    [{ feedDown: mmPerMin(0) }, "feedDown is 0 mm/min"],
    [{ stepOver: mm(0) }, "stepOver is 0 mm"],
    [{ runOut: mm(0) }, "runOut is 0 mm"],
    [{ spinUp: seconds(0) }, "spinUp is 0 s"],
    [{ margin: mm(0) }, "margin is 0 mm"],
  ])("has to be above zero: %#", (wrong, said) => {
    expect(refusal(() => program(aJob(wrong)))).toEqual({
      code: "not-positive",
      message: `facing.program: ${said}; give a value above zero`,
    });
  });

  it.each([0, -2, Number.NaN])("and the teeth a whole number: not %s", (teeth) => {
    expect(refusal(() => program(aJob({ cutter: { ...cutter, teeth } })))).toEqual({
      code: "not-positive",
      message: `facing.program: cutter.teeth is ${teeth}; give a whole number of teeth`,
    });
  });

  it("takes a plate with a size along both", () => {
    for (const plate of [area(mm(50), mm(50), mm(40), mm(110)), area(mm(50), mm(170), mm(40), mm(40))]) {
      expect(refusal(() => program(aJob({ plate }))).code).toBe("area");
    }
  });
});

it("takes the four frames in which X to Y turns as the tool's, and none of the mirror images", () => {
  const frame = (plusX: string, plusY: string) => ({ relativeTo: "travel", front: "y-", plusX, plusY }) as never;
  const right = ["right back", "left front", "back left", "front right"];
  for (const plusX of ["right", "left", "back", "front"]) {
    for (const plusY of ["right", "left", "back", "front"]) {
      if ((plusX === "right" || plusX === "left") === (plusY === "right" || plusY === "left")) continue;
      const write = () => program(aJob({ frame: frame(plusX, plusY) })).rounds.length;
      if (right.includes(`${plusX} ${plusY}`)) expect(write()).toBe(3);
      else expect(refusal(write).code).toBe("frame");
    }
  }
});

it("holds the clearance against the highest of several things, whatever their order", () => {
  const thing = (name: string, top: number) => ({ name, area: area(mm(225), mm(240), mm(60), mm(90)), top: mm(top) });
  for (const list of [
    [thing("low", 1), thing("tall", 9)],
    [thing("tall", 9), thing("low", 1)],
  ]) {
    expect(refusal(() => program(aJob({ obstacles: list }))).message).toBe(
      "facing.program: tall stands 9 mm over Z0, and a clearance of 5 mm does not leave the margin of 0.5 mm; raise clearance and retract",
    );
  }
});

it("leaves the last lane to climbing teeth only up to half of its strip, and asks nothing of a job that climbs", () => {
  // strip of the last lane: from a radius before it up to the edge, run-out behind it; half of it climbs at a step of
  // 2 × radius − run-out: plates of 40 − 2 × 15 mm and two lanes wide
  const two = (step: number) =>
    aJob({ ...bare, runOut: mm(15), stepOver: mm(39), plate: area(mm(50), mm(170), mm(40), mm(50 + step)) });
  expect(program(two(25)).rounds[0]).toMatchObject({ lanes: 2 });
  expect(program(two(25)).rounds[0]!.stepOver.in("mm")).toBeCloseTo(25, 9);
  expect(refusal(() => program(two(25.01))).message).toBe(
    "facing.program: steps of 25.01 mm with a run-out of 15 mm leave the last pass a strip that is cut mostly by climbing teeth; take a step-over up to the radius of 20 mm, or less run-out",
  );
});
