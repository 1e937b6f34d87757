import { describe, expect, it } from "vitest";
import { liftUnderPull } from "../../kernel-lib/src/axis/lift-under-pull.js";
import { positioning } from "../../kernel-lib/src/axis/positioning.js";
import { readPositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { readSmallMoves } from "../../kernel-lib/src/axis/small-moves-sheet.js";
import { systematicPart } from "../../kernel-lib/src/axis/systematic-part.js";
import { threeAxes } from "../../kernel-lib/src/axis/three-axes.js";
import { input, Measured, mm, newton, slope, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const test = readPositioning("data/positioning-x.csv");
const square = Measured.from(
  input.normal({ label: "square", estimate: slope(um(-30), mm(1000)), standardUncertainty: slope(um(2), mm(1000)) }),
);
const work = { X: mm(200), Y: mm(100), Z: mm(50) };

it("adds what is measured in each direction, all the same way, and counts nothing unmeasured as zero", () => {
  const part = systematicPart(test, { lead: mm(5) });
  const whole = threeAxes({ axes: { X: { part } }, squareness: { XY: square }, work });
  const sum = part.play.in("um") + part.slope.in("um/m") * 0.2 + 3;
  expect(whole.together("X")!.in("um")).toBeCloseTo(sum, 9);
  expect(whole.together("Y")).toBeUndefined();
  expect(whole.missing).toContain("positioning of Y: no test");
  expect(whole.missing).toContain("squareness of X to Z: a square turned over shows it");
});

it("takes the lift of Z as a line of its own, and no longer calls its play unmeasured", () => {
  const testOfZ = readPositioning("data/positioning-z.csv");
  const [free, pulled] = ["free", "pulled"].map((how) => readSmallMoves(`data/ladder-z-${how}.csv`));
  const lift = liftUnderPull({ free: free!, pulled: pulled!, weight: newton(690) });
  const Z = { positioning: positioning(testOfZ), part: systematicPart(testOfZ, { lead: mm(4) }) };
  const [without, whole] = [threeAxes({ axes: { Z }, work }), threeAxes({ axes: { Z: { ...Z, lift } }, work })];
  const hidden = "play of Z under cutting load: gravity hides it, take a ladder under an upward pull";
  expect([without.missing.includes(hidden), whole.missing.includes(hidden)]).toEqual([true, false]);
  expect(whole.contributions.find(({ source }) => source === "lift of Z")!.shows).toBe(
    "where the cutter pushes up with 900 N, more than hangs on it",
  );
  const more = whole.together("Z")!.in("um") - without.together("Z")!.in("um");
  expect(more).toBeCloseTo(lift.lift.in("um"), 9);
});

const angle = (name: string, umPerM: number, u: number) =>
  Measured.from(
    input.normal({ label: name, estimate: slope(um(umPerM), mm(1000)), standardUncertainty: slope(um(u), mm(1000)) }),
  );
const pair = {
  axes: {},
  squareness: { XY: angle("square, long arm", 30, 3), XZ: angle("square, short arm", 80, 8) },
  work: { X: mm(200), Y: mm(100), Z: mm(50) },
};

describe("the root sum of squares", () => {
  it("of 3 µm and 4 µm is 5 µm, with the doubt of each by its share (JCGM 100:2008, 5.1.2)", () => {
    const likely = threeAxes(pair).likely("X")!;
    expect(likely.in("um")).toBeCloseTo(5, 9);
    // u = √((3/5 · 0.3)² + (4/5 · 0.4)²)
    expect(likely.standardUncertainty.in("um")).toBeCloseTo(Math.hypot(0.6 * 0.3, 0.8 * 0.4), 9);
    expect(threeAxes(pair).likely("Z")).toBeUndefined();
  });

  it("is the worst case where all go together, and their difference where they go against each other", () => {
    const between = ["squareness of Y to X", "squareness of Z to X"] as const;
    const at = (correlation: number) => threeAxes({ ...pair, together: [{ between, correlation }] });
    expect(at(1).likely("X")!.in("um")).toBeCloseTo(at(1).together("X")!.in("um"), 9);
    expect(at(-1).likely("X")!.in("um")).toBeCloseTo(1, 9);
  });

  it("keeps what two lines have in common, and names it", () => {
    const shared = angle("one square for both", 30, 3);
    const whole = threeAxes({ ...pair, squareness: { XY: shared, XZ: shared.times(2) } });
    expect(whole.sharedDoubt("X")).toEqual([
      { between: ["squareness of Y to X", "squareness of Z to X"], correlation: expect.closeTo(1, 12) },
    ]);
    expect(threeAxes(pair).sharedDoubt("X")).toEqual([]);
    // both are 3 µm by one input: their u adds up, each by its share
    expect(whole.likely("X")!.standardUncertainty.in("um")).toBeCloseTo((3 * 0.3 + 3 * 0.3) / Math.hypot(3, 3), 9);
  });

  it("refuses lines that are not there, and correlations that can't be", () => {
    const together = (a: string, b: string, correlation: number) => () =>
      threeAxes({ ...pair, together: [{ between: [a, b], correlation }] });
    expect(refusal(together("squareness of Y to X", "pitch of X", 0.5)).message).toBe(
      'threeAxes: together names "squareness of Y to X" and "pitch of X"; name two lines of one direction out of: squareness of Y to X (X), squareness of Z to X (X)',
    );
    expect(refusal(together("squareness of Y to X", "squareness of Z to X", 1.5)).message).toBe(
      'threeAxes: "squareness of Y to X" and "squareness of Z to X" have a correlation of 1.5; give one from −1 to 1',
    );
    const part = systematicPart(test, { lead: mm(5) });
    const three = { axes: { X: { part } }, squareness: { XY: square }, work };
    const [a, b, c] = ["lost motion of X", "pitch of X", "squareness of Y to X"] as const;
    const against = [
      { between: [a, b] as const, correlation: 1 },
      { between: [b, c] as const, correlation: 1 },
      { between: [a, c] as const, correlation: -1 },
    ];
    expect(refusal(() => threeAxes({ ...three, together: against })).message).toBe(
      "threeAxes: the correlations given for X contradict each other; two lines that both go with a third can't go against each other",
    );
  });
});

it("refuses a test under another axis, and work without a size", () => {
  expect(refusal(() => threeAxes({ axes: { Y: { positioning: positioning(test) } }, work }))).toEqual({
    code: "three-axes",
    message: "threeAxes: under Y stands a test of X; give each axis its own",
  });
  expect(refusal(() => threeAxes({ axes: {}, work: { ...work, Z: mm(0) } })).message).toBe(
    "threeAxes: the work along Z is 0 mm; give its size, such as mm(100)",
  );
});
