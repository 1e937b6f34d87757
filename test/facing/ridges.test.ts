import fc from "fast-check";
import { expect, it } from "vitest";
import { ridges } from "../../kernel-lib/src/facing/ridges.js";
import { mm, slope, um, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { evenly } from "../evenly.js";
import { decimalsOf, fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

const published = fixture<{
  hollow: { radius: number; width: number; um: string };
  step: { stepOver: number; um: string };
  cusp: { radius: number; step: number; um: string };
  together: { radius: number; stepOver: number; um: string };
}>("machining/face-cutting.json");
const tilt = slope(um(20), mm(150));
const level = umPerM(0);

it("gives the published hollow of a cutter tilted along the feed, and the envelope agrees", () => {
  const { radius, width, um: printed } = published.hollow;
  const got = ridges({ cutterRadius: mm(radius), stepOver: mm(width), tiltAlongFeed: tilt, tiltAcrossFeed: level });
  expect(got.hollow.in("um").toFixed(decimalsOf(printed))).toBe(printed);
  expect(got.height.in("um")).toBeCloseTo(got.hollow.in("um"), 6);
});

it("gives the cusp of a ball as the hollow of a tilt of one in one", () => {
  const { radius, step, um: printed } = published.cusp;
  const got = ridges({
    cutterRadius: mm(radius),
    stepOver: mm(step),
    tiltAlongFeed: slope(mm(1), mm(1)),
    tiltAcrossFeed: level,
  });
  expect(got.hollow.in("um").toFixed(decimalsOf(printed))).toBe(printed);
  expect(got.height.in("um")).toBeCloseTo(got.hollow.in("um"), 6);
});

it("gives the published step of a cutter tilted across the feed, and the envelope agrees", () => {
  const { stepOver, um: printed } = published.step;
  const got = ridges({ cutterRadius: mm(25), stepOver: mm(stepOver), tiltAlongFeed: level, tiltAcrossFeed: tilt });
  expect(got.step.in("um").toFixed(decimalsOf(printed))).toBe(printed);
  expect(got.height.in("um")).toBeGreaterThan(0.99 * Number(printed));
  expect(got.height.in("um")).toBeLessThanOrEqual(Number(printed) + 1e-9);
});

it("does not add the two closed forms where both tilts are there", () => {
  const { radius, stepOver, um: printed } = published.together;
  const got = ridges({ cutterRadius: mm(radius), stepOver: mm(stepOver), tiltAlongFeed: tilt, tiltAcrossFeed: tilt });
  expect(got.height.in("um").toFixed(1)).toBe(printed);
});

it("halves the step and quarters the hollow with a second round offset by half a step", () => {
  const across = ridges({ cutterRadius: mm(25), stepOver: mm(20), tiltAlongFeed: level, tiltAcrossFeed: tilt });
  expect(across.heightAfterHalfStep.in("um") / across.height.in("um")).toBeCloseTo(0.5, 2);
  const along = ridges({ cutterRadius: mm(100), stepOver: mm(20), tiltAlongFeed: tilt, tiltAcrossFeed: level });
  expect(along.heightAfterHalfStep.in("um") / along.height.in("um")).toBeCloseTo(0.25, 2);
});

it("does not care which way the spindle leans and scales with the lean", () => {
  const tilts = evenly(-300, 300);
  fc.assert(
    fc.property(tilts, tilts, evenly(1, 45), (a, b, stepMm) => {
      const at = (x: number, y: number) =>
        ridges({ cutterRadius: mm(25), stepOver: mm(stepMm), tiltAlongFeed: umPerM(x), tiltAcrossFeed: umPerM(y) });
      const height = at(a, b).height.in("um");
      expect(at(-a, b).height.in("um")).toBeCloseTo(height, 9);
      expect(at(a, -b).height.in("um")).toBeCloseTo(height, 9);
      expect(at(2 * a, 2 * b).height.in("um")).toBeCloseTo(2 * height, 8);
    }),
    { seed: 11, numRuns: 20 },
  );
});

it("refuses a step-over that leaves strips uncut", () => {
  const act = () => ridges({ cutterRadius: mm(25), stepOver: mm(50), tiltAlongFeed: tilt, tiltAcrossFeed: tilt });
  expect(refusal(act)).toEqual({
    code: "step-over",
    message:
      "ridges: a step-over of 50 mm with a cutter of radius 25 mm leaves strips uncut; keep it above 0 and below the diameter",
  });
});
