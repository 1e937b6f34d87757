import { describe, expect, it } from "vitest";
import { isPossible, rootSumSquare, sharedDoubt } from "../../kernel-lib/src/axis/root-sum-square.js";
import { type ThreeAxesOptions, threeAxes } from "../../kernel-lib/src/axis/three-axes.js";
import { input, Measured, mm, newton, slope, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const length = (value: number, u: number) =>
  Measured.from(input.normal({ label: "x", estimate: um(value), standardUncertainty: um(u) }));
const angle = (value: number, u: number) =>
  Measured.from(
    input.normal({ label: "x", estimate: slope(um(value), mm(1000)), standardUncertainty: slope(um(u), mm(1000)) }),
  );
const work = { X: mm(200), Y: mm(100), Z: mm(50) };
/** what is looked at of a test, a part, a ladder, a lift */
const known = (axis: string, more: object = {}) => ({
  positioning: {
    ...{ lostMotion: length(11, 1), repeatabilityUp: length(6, 0.5) },
    test: { axis, senseProven: true, vertical: axis === "Z", ...more },
  },
  part: { play: length(12, 1), slope: angle(-40, 5) },
});
const pulled = { play: length(25, 2) };
const lift = { lift: length(20, 2), pull: newton(900) };
const join = (options: object) => threeAxes({ axes: {}, work, ...options } as unknown as ThreeAxesOptions);
const lines = (options: object) =>
  join(options).contributions.map(({ source, direction, error, shows }) => [
    ...[source, direction, Number(error.in("um").toFixed(6))],
    ...[Number(error.standardUncertainty.in("um").toFixed(6)), shows],
  ]);

describe("each line of an axis", () => {
  const turn = "at each turn of direction";
  const from = "from part to part, one way of approach";
  it("over the work, in its own direction", () => {
    expect(lines({ axes: { X: known("X") } })).toEqual([
      ["lost motion of X", "X", 12, 1, turn],
      ["pitch of X", "X", -8, 1, "over 200 mm"],
      ["repeatability R of X", "X", 6, 0.5, from],
    ]);
    const { positioning, part } = known("Y");
    expect(lines({ axes: { Y: { positioning } } })).toEqual([
      ["lost motion of Y", "Y", 11, 1, turn],
      ["repeatability R of Y", "Y", 6, 0.5, from],
    ]);
    expect(lines({ axes: { Y: { part } } }).map(([source]) => source)).toEqual(["lost motion of Y", "pitch of Y"]);
  });
  it("of Z by the ladder under the pull, and its lift", () => {
    expect(lines({ axes: { Z: { ...known("Z"), ladderUnderPull: pulled, lift } } }).slice(0, 3)).toEqual([
      ["lost motion of Z", "Z", 25, 2, turn],
      ["lift of Z", "Z", 20, 2, "where the cutter pushes up with 900 N, more than hangs on it"],
      ["pitch of Z", "Z", -2, 0.25, "over 50 mm"],
    ]);
  });
  it("of an angle in the direction in which it acts", () => {
    const given = {
      squareness: { XY: angle(30, 3), XZ: angle(-80, 8), YZ: angle(60, 6) },
      tram: { x: angle(100, 10), y: angle(-50, 5) },
      cutterDiameter: mm(40),
    };
    expect(lines(given)).toEqual([
      ["squareness of Y to X", "X", 3, 0.3, "going along Y by 100 mm"],
      ["squareness of Z to X", "X", -4, 0.4, "going along Z by 50 mm"],
      ["squareness of Z to Y", "Y", 3, 0.3, "going along Z by 50 mm"],
      ["lean of the spindle along X", "Z", 4, 0.4, "across a cutter of 40 mm"],
      ["lean of the spindle along Y", "Z", -2, 0.2, "across a cutter of 40 mm"],
    ]);
    expect(lines({ ...given, cutterDiameter: undefined })).toHaveLength(3);
  });
});

describe("in one direction", () => {
  const whole = join({
    squareness: { XY: angle(30, 3), XZ: angle(-80, 8) },
    tram: { x: angle(100, 10), y: angle(-50, 5) },
    cutterDiameter: mm(40),
  });
  it("all are added at their greatest, whatever their sign, and the largest is named", () => {
    expect(whole.together("X")!.in("um")).toBeCloseTo(7, 9);
    expect(whole.likely("X")!.in("um")).toBeCloseTo(5, 9);
    expect(whole.largest("X")!.source).toBe("squareness of Z to X");
    expect(whole.largest("Z")!.source).toBe("lean of the spindle along X");
    expect(whole.largest("Y")).toBeUndefined();
  });
  it("is said in one line", () => {
    const of = (direction: "X" | "Z") => [whole.together(direction)!.text("um"), whole.likely(direction)!.text("um")];
    const [[sumX, rootX], [sumZ, rootZ]] = [of("X"), of("Z")];
    expect(`${whole}`).toBe(
      `at the tool in X up to ${sumX} at worst, ${rootX} as a root sum of squares, most of it squareness of Z to X; in Y nothing is measured; in Z up to ${sumZ} at worst, ${rootZ} as a root sum of squares, most of it lean of the spindle along X; 6 things not measured`,
    );
  });
});

describe("what is not measured", () => {
  const always = [
    "straightness of each axis, and how it pitches, yaws and rolls: in no line here",
    "what warmth and the cutter's force do: in no line here",
  ];
  const square = { XY: angle(1, 1), XZ: angle(1, 1), YZ: angle(1, 1) };
  const tram = { x: angle(1, 1), y: angle(1, 1) };
  const full = { squareness: square, tram, cutterDiameter: mm(40) };
  it("is named thing by thing", () => {
    expect(join({}).missing).toEqual([
      "positioning of X: no test",
      "positioning of Y: no test",
      "positioning of Z: no test",
      "squareness of X to Y: a square turned over shows it",
      "squareness of X to Z: a square turned over shows it",
      "squareness of Y to Z: a square turned over shows it",
      "lean of the spindle: sweep the table",
      ...always,
    ]);
    const axes = { X: known("X"), Y: known("Y"), Z: { ...known("Z"), lift } };
    expect(join({ ...full, axes }).missing).toEqual(always);
    expect(join({ ...full, axes, cutterDiameter: undefined }).missing).toEqual([
      "step of the spindle's lean: give the diameter of the cutter",
      ...always,
    ]);
    expect(join({ ...full, axes, tram: undefined, cutterDiameter: undefined }).missing[0]).toBe(
      "lean of the spindle: sweep the table",
    );
  });
  it("of an axis is its pitch, its sense, and the play that gravity hides", () => {
    const hidden = "play of Z under cutting load: gravity hides it, take a ladder under an upward pull";
    const sense = "sense of Y: no deliberate move proved which way it counts";
    const axes = {
      X: { positioning: known("X").positioning },
      Y: known("Y", { senseProven: false }),
      Z: known("Z"),
    };
    expect(join({ ...full, axes }).missing).toEqual([
      "pitch of X over the work: no systematic part is given",
      sense,
      hidden,
      ...always,
    ]);
    const seen = (more: object) => join({ ...full, axes: { ...axes, Z: { ...known("Z"), ...more } } }).missing;
    expect(seen({ ladderUnderPull: pulled })).not.toContain(hidden);
    expect(seen({ lift })).not.toContain(hidden);
    expect(join({ ...full, axes: { X: { part: known("X").part } } }).missing.slice(0, 2)).toEqual([
      "positioning of Y: no test",
      "positioning of Z: no test",
    ]);
  });
});

describe("correlations of lines", () => {
  const line = (source: string, error: Measured<"length">) => ({ source, direction: "X" as const, error, shows: "" });
  const [a, b, c] = [line("a", length(3, 0.3)), line("b", length(-4, 0.4)), line("c", length(12, 1))];
  const pair = (x: string, y: string, correlation: number) => ({ between: [x, y] as const, correlation });

  it("enter with every pair twice: √(Σ Σ r e e)", () => {
    const root = (...together: ReturnType<typeof pair>[]) => rootSumSquare([a, b, c], together)!;
    expect(root().in("um")).toBeCloseTo(13, 9);
    const some = root(pair("a", "b", 0.5), pair("c", "a", -0.25));
    const square = 9 + 16 + 144 + 2 * 0.5 * 12 - 2 * 0.25 * 36;
    expect(some.in("um")).toBeCloseTo(Math.sqrt(square), 9);
    // partials (Σ r e) / root
    const pulls = [3 + 2 - 3, 4 + 1.5, 12 - 0.75].map((pull) => pull / Math.sqrt(square));
    expect(some.standardUncertainty.in("um")).toBeCloseTo(
      Math.hypot(0.3 * pulls[0]!, 0.4 * pulls[1]!, 1 * pulls[2]!),
      9,
    );
    expect(rootSumSquare([], [])).toBeUndefined();
  });
  it("of lines that are nothing let each count in full", () => {
    const root = rootSumSquare([line("a", length(0, 3)), line("b", length(0, 4))], [])!;
    expect([root.in("um"), root.standardUncertainty.in("um")]).toEqual([0, expect.closeTo(5, 9)]);
    const against = [line("a", length(3, 3)), line("b", length(3, 4))];
    expect(rootSumSquare(against, [pair("a", "b", -1)])!.in("um")).toBe(0);
  });
  it("are possible up to one and not beyond what three can share", () => {
    const possible = (ab: number, bc: number, ac: number) =>
      isPossible([a, b, c], [pair("a", "b", ab), pair("b", "c", bc), pair("a", "c", ac)]);
    expect(possible(1, 1, 1)).toBe(true);
    expect(possible(-1, -1, 1)).toBe(true);
    expect(possible(1, 1, 0.9)).toBe(false);
    // determinant 1 + 2 ab bc ac − ab² − bc² − ac²: with 0.6 and 0.8, ac may lie between 0 and 0.96
    expect([-0.001, 0.001, 0.959, 0.961].map((ac) => possible(0.6, 0.8, ac))).toEqual([false, true, true, false]);
    expect(isPossible([], [])).toBe(true);
  });
  it("of their doubt come from the inputs they share, down to 0.005", () => {
    const common = length(0, 1);
    const mixed = (share: number) => Measured.of(um(1), [...common.times(share).terms, ...length(0, 1).terms]);
    const exact = Measured.of(um(1), []);
    const [x, y, z] = [line("x", mixed(1)), line("y", mixed(2)), line("z", mixed(0.004))];
    expect(sharedDoubt([x, y, z, line("e", exact)])).toEqual([
      // shares 1/√2 and 2/√5
      { between: ["x", "y"], correlation: expect.closeTo(Math.sqrt(1 / 2) * (2 / Math.sqrt(5)), 9) },
    ]);
    expect(sharedDoubt([line("e", exact), x])).toEqual([]);
    expect(sharedDoubt([x, line("n", mixed(-1))])[0]!.correlation).toBeCloseTo(-0.5, 9);
  });

  it("are refused between directions, of a line with itself, and of none", () => {
    const squareness = { XY: angle(30, 3), YZ: angle(60, 6) };
    const [inX, inY] = ["squareness of Y to X", "squareness of Z to Y"];
    const of = (options: object, x: string, y: string, r = 0.5) =>
      refusal(() => join({ ...options, together: [pair(x, y, r)] })).message;
    expect(of({ squareness }, inX, inY)).toBe(
      `threeAxes: together names "${inX}" and "${inY}"; name two lines of one direction out of: ${inX} (X), ${inY} (Y)`,
    );
    expect(of({ squareness }, inX, inX)).toContain(`together names "${inX}" and "${inX}"; name two lines`);
    expect(of({}, inX, inY)).toBe(
      `threeAxes: together names "${inX}" and "${inY}"; name two lines of one direction out of: none`,
    );
    const both = { squareness: { XY: angle(30, 3), XZ: angle(60, 6) } };
    expect(of(both, inX, "squareness of Z to X", -1.01)).toContain(
      "have a correlation of -1.01; give one from −1 to 1",
    );
    expect(of(both, inX, "squareness of Z to X", Number.NaN)).toContain("have a correlation of NaN");
  });
  it("refuses work that has no size", () => {
    for (const [X, said] of [
      [100, "100"],
      [mm(-1), "−1 mm"],
      [angle(1, 1).value, "1 µm/m"],
    ] as const) {
      expect(refusal(() => join({ work: { ...work, X } })).message).toBe(
        `threeAxes: the work along X is ${said}; give its size, such as mm(100)`,
      );
    }
    expect(refusal(() => join({ work: undefined })).message).toBe(
      "threeAxes: the work along X is undefined; give its size, such as mm(100)",
    );
  });
});
