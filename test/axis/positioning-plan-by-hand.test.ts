import { describe, expect, it } from "vitest";
import { positioningPlan } from "../../kernel-lib/src/axis/positioning-plan.js";
import type { PositioningPlanOptions } from "../../kernel-lib/src/axis/positioning-plan-options.js";
import { drawnTargets } from "../../kernel-lib/src/axis/positioning-targets.js";
import {
  degC,
  gauge,
  hours,
  kelvin,
  minutes,
  mm,
  mmPerMin,
  perKelvin,
  seconds,
  slope,
  um,
} from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
const base: PositioningPlanOptions = {
  ...{ axis: "X", travel: [mm(0), mm(504)], lead: mm(5), gauge: dial },
  reference: { name: "stepped bar" },
};
const plan = (more: object = {}) => positioningPlan({ ...base, ...more } as PositioningPlanOptions);
const placesOf = (made: ReturnType<typeof plan>) => made.targets.map(({ target }) => target.in("mm"));
const near = (values: readonly number[], digits = 9) => values.map((value) => expect.closeTo(value, digits));

describe("a plan in its words", () => {
  const unsaid =
    "of stepped bar nothing is said about the error of its length, how well it lies in line, its temperature against that of the screw: in no U here";
  const beyond = (mm: string) =>
    `go ${mm} beyond the outermost targets before each turn: it must be more than the play, or the approach is not what the sheet says`;
  it("of a short test of X", () => {
    const made = plan();
    const ends = placesOf(made);
    expect(`${made}`).toBe(
      `positioning of X: 7 targets (${((7 * 1000) / made.span.in("mm")).toPrecision(2)} a metre) from ${ends[0]} mm to ${ends.at(-1)} mm, 5 runs each way, 70 readings, about 32 min; U of the lost motion about 3.5 µm, of the pitch 3.5 µm over the span`,
    );
    expect(made.notes).toEqual([beyond("2 mm"), unsaid]);
    expect([made.title, made.vertical, made.reads, made.seed, made.cycles]).toEqual([
      ...["positioning of X", false, "deviation", 1, 5],
    ]);
    expect([made.overTravel.in("mm"), made.dwell.in("s"), made.usesBlocks]).toEqual([2, 3, false]);
  });
  it("of what it lacks, what gravity hides, and what the targets can't tell", () => {
    const { lead: _, ...bare } = base;
    const made = positioningPlan({ ...bare, axis: "Z", cycles: 4, overTravel: mm(2.5) });
    expect(made.notes).toEqual([
      "no lead is given: the targets may stand whole turns of the screw apart, give the lead",
      "4 runs each way, where the standard asks for 5",
      beyond("2.5 mm"),
      "gravity holds this axis on one flank: its play stays hidden in this test; take a ladder of small moves free and under a known upward pull as well",
      unsaid,
    ]);
    expect(plan({ axis: "Z", vertical: false }).notes).toEqual([beyond("2 mm"), unsaid]);
    const coarse = plan({ landOn: mm(10), travel: [mm(0), mm(504)], perMetre: 5, seed: 3 });
    expect(coarse.aliased).toHaveLength(1);
    expect(coarse.notes[0]).toBe(
      "turn of the screw (5 mm): the targets stand whole periods apart, so that it looks like a constant; it can't be told, choose targets with random offsets",
    );
  });
  it("of a travel above two metres, and not of two", () => {
    const far = "a travel above 2 m, for which the standard has another test cycle";
    expect(plan({ travel: [mm(0), mm(2100)] }).notes).toContain(far);
    expect(plan({ travel: [mm(0), mm(2004)] }).notes).not.toContain(far);
  });
  it("of blocks", () => {
    const blocks = [1.3, 2.1, 5, 10, 20, 25, 50, 75, 100, 200, 300].map((block) => mm(block));
    const made = plan({ blocks, blocksTogether: 4, title: "X by blocks" });
    expect(made.notes).toEqual([
      beyond("2 mm"),
      "lengths are counted from a stop at the first target; write what the certificate says each stack is longer in the column reference",
      unsaid,
    ]);
    // a minute a stack unless another time is given
    const path = 2 * 5 * (made.span.in("mm") + 4);
    expect(made.time.in("s")).toBeCloseTo(70 * 63 + (60 * path) / 300, 6);
    const [heading, first, second] = made.toCsv().split("\n").slice(14);
    expect(heading).toBe("target/mm,direction,run,deviation/um,reference/um,order,time,temperature/degC,note");
    const [stop, next] = made.targets;
    expect(first).toBe(`${stop!.target.in("mm")},up,1,,,1,,,`);
    expect(second).toBe(
      `${next!.target.in("mm")},up,1,,,2,,,${next!.blocks.map((block) => block.in("mm")).join(" + ")}`,
    );
  });
});

it("takes ten seconds a reading, three of stillness and the way at 300 mm a minute unless told otherwise", () => {
  const made = plan();
  const path = 2 * 5 * (made.span.in("mm") + 4);
  expect(made.time.in("s")).toBeCloseTo(70 * 13 + (60 * path) / 300, 6);
  const slow = plan({
    dwell: seconds(0),
    timePerReading: hours(0.1),
    feed: mmPerMin(100),
    cycles: 2,
    overTravel: mm(7),
  });
  expect(slow.time.in("s")).toBeCloseTo(28 * 360 + (60 * 2 * 2 * (slow.span.in("mm") + 14)) / 100, 6);
});

it("expects what the law of propagation says of gauge, hysteresis and reference", () => {
  const repeatability = { standardDeviation: um(0.5), degreesOfFreedom: 19 };
  const made = plan({
    gauge: gauge({ resolution: um(1), maximumPermissibleError: um(3), hysteresis: um(1.5), repeatability }),
    reference: { name: "bar", scaleLimit: slope(um(20), mm(1000)) },
    cycles: 3,
  });
  const { lostMotion, overSpan, scatter } = made.expected;
  expect([scatter.standardDeviation.in("um"), scatter.step.in("um"), scatter.source]).toEqual([
    ...[0.5, 1, "which states its repeatability"],
  ]);
  // a difference of two means of 21 readings each; rectangular limits by √3
  expect(lostMotion.in("um")).toBeCloseTo(
    2 * Math.hypot(0.5 * Math.sqrt(2 / 21), 3 / Math.sqrt(3), 1.5 / Math.sqrt(3)),
    9,
  );
  // slope of a line through all readings: s / √Σ (x − mean)²
  const places = placesOf(made).map((at) => at / 1000);
  const mean = places.reduce((a, b) => a + b, 0) / 7;
  const squares = 6 * places.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  const span = places.at(-1)! - places[0]!;
  expect(overSpan.in("um")).toBeCloseTo(
    2 * Math.hypot((0.5 * span) / Math.sqrt(squares), 3 / Math.sqrt(3), (20 * span) / Math.sqrt(3)),
    6,
  );
  expect(made.gaugeAlone.repeatability.si).toBeLessThan(plan({ cycles: 3 }).gaugeAlone.repeatability.si);
});

it("writes all that is known on its sheet, and leaves a line for the rest", () => {
  const made = plan({
    ...{ title: "X\nof the club", reads: "position", cycles: 2 },
    reference: {
      ...{ name: "bar,\n long", scaleLimit: slope(um(15), mm(1000)), alignmentLimit: slope(um(1), mm(1)) },
      ...{ temperature: degC(18.5), temperatureDifferenceLimit: kelvin(0.5) },
      expansionDifferenceLimit: perKelvin(2e-6),
    },
  });
  const lines = made.toCsv().split("\n");
  expect(lines.slice(0, 15)).toEqual([
    "# title: X of the club",
    "# workshop:",
    "# machine:",
    "# date:",
    "# axis: X",
    "# gauge resolution: 0.001 mm",
    "# gauge maximum permissible error: 0.003 mm",
    "# sense proven:",
    "# reference: bar, long",
    "# reference scale limit: 15 um/m",
    "# reference alignment limit: 1000 um/m",
    "# reference temperature: 18.5 degC",
    "# temperature difference limit: 0.5 K",
    "# expansion difference limit: 2 um/(m.K)",
    "target/mm,direction,run,position/mm,order,time,temperature/degC,note",
  ]);
  const [first, last] = [placesOf(made)[0], placesOf(made).at(-1)];
  expect([lines[15], lines[21], lines[22], lines[29], lines[42]]).toEqual([
    `${first},up,1,,1,,,`,
    `${last},up,1,,7,,,`,
    `${last},down,1,,8,,,`,
    `${first},up,2,,15,,,`,
    `${first},down,2,,28,,,`,
  ]);
  expect(lines.slice(43)).toEqual([""]);
});

describe("targets drawn", () => {
  const terms = { fromMm: 0, toMm: 400, count: 5, landOnMm: 0.1, stacks: undefined, seed: 1 };
  const period = (periodMm: number) => [{ name: "turn", periodMm }];
  it("stand off the even places by half of the longest turn, by 0.3 of the spacing at most, by 0.15 without a turn", () => {
    const offset = (periods: readonly { name: string; periodMm: number }[]) =>
      drawnTargets({ ...terms, periods }).offsetMm;
    expect([offset(period(5)), offset([...period(2), ...period(8)]), offset(period(80)), offset([])]).toEqual(
      near([2.5, 4, 30, 15]),
    );
  });
  it("stay inside the travel at its ends and within the offset between them, for every seed", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const { targets } = drawnTargets({ ...terms, fromMm: 0.05, toMm: 400.03, periods: [], seed });
      const off = targets.map(({ atMm }, i) => atMm - (0.05 + i * 99.995));
      expect(off[0]!).toBeGreaterThanOrEqual(0);
      expect(off[4]!).toBeLessThanOrEqual(0);
      for (const one of off) expect(Math.abs(one)).toBeLessThanOrEqual(0.15 * 99.995 + 0.05 + 1e-9);
      for (const { atMm } of targets) expect(Math.abs(10 * atMm - Math.round(10 * atMm))).toBeLessThan(1e-6);
    }
    const inner = Array.from(
      { length: 40 },
      (_, i) => drawnTargets({ ...terms, periods: [], seed: i }).targets[2]!.atMm - 200,
    );
    // to both sides, and near both ends of what they may
    expect(Math.min(...inner)).toBeLessThan(-12);
    expect(Math.max(...inner)).toBeGreaterThan(12);
    const outer = Array.from(
      { length: 40 },
      (_, i) => drawnTargets({ ...terms, periods: [], seed: i }).targets[0]!.atMm,
    );
    expect(Math.max(...outer)).toBeGreaterThan(12);
    expect(Math.min(...outer)).toBeLessThan(3);
  });
  it("land on the grid inside the travel where the next step lies beyond its ends", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const ends = { ...terms, fromMm: 5, toMm: 395, landOnMm: 20, periods: [], seed };
      const places = drawnTargets(ends).targets.map(({ atMm }) => atMm);
      expect(places[0]).toBe(20);
      expect(places.at(-1)).toBe(380);
    }
  });
  it("are those of blocks from the stop on: the nearest, a tenth of a millimetre for each block more", () => {
    const stack = (lengthMm: number, ...blocksMm: number[]) => ({ lengthMm, blocksMm });
    const [stop, ...wanted] = drawnTargets({ ...terms, periods: [] }).targets.map(({ atMm }) => atMm);
    const length = wanted[0]! - stop!;
    const others = wanted.slice(1).map((at) => stack(at - stop!, 1));
    const from = (...stacks: ReturnType<typeof stack>[]) =>
      drawnTargets({ ...terms, periods: [], stacks: [...stacks, ...others] });
    // one block 0.25 mm off costs 0.35, three on the spot 0.3; four 0.4
    const one = stack(length + 0.25, 7);
    expect(from(one, stack(length, 4, 3, 1)).targets[1]!.stack!.blocksMm).toEqual([4, 3, 1]);
    expect(from(one, stack(length, 4, 3, 1, 2)).targets[1]).toEqual({
      atMm: expect.closeTo(stop! + length + 0.25, 6),
      stack: one,
    });
    expect(from(one).targets[0]).toEqual({ atMm: stop });
    // 0.4 of the spacing of 100 mm
    expect(from(stack(length + 39.9, 1)).missingMm).toEqual([]);
    expect(from(stack(length - 39.9, 1)).missingMm).toEqual([]);
    expect(from(stack(length + 40.1, 1)).missingMm).toEqual([wanted[0]]);
    expect(from(stack(length - 40.1, 1)).targets).toHaveLength(4);
    // beyond the end of the travel
    const last = wanted.at(-1)!;
    const end = (lengthMm: number) =>
      drawnTargets({ ...terms, periods: [], stacks: [stack(length, 1), ...others.slice(0, -1), stack(lengthMm, 9)] });
    expect(end(400 - stop!).missingMm).toEqual([]);
    expect(end(400.01 - stop!).missingMm).toEqual([last]);
  });
  it("are drawn again until the turn can be told", () => {
    for (let seed = 1; seed <= 20; seed++) {
      expect(drawnTargets({ ...terms, periods: period(5), landOnMm: 1.25, seed }).aliased).toEqual([]);
    }
    // whole and half turns alone never tell the sine of a turn
    expect(drawnTargets({ ...terms, count: 7, periods: period(5), landOnMm: 2.5 }).aliased).toHaveLength(1);
  });
});

describe("a plan is refused", () => {
  const sentence = (more: object) => refusal(() => plan(more)).message;
  it("for counts that are none", () => {
    const count = (what: string, given: number, least: number) =>
      expect(sentence({ [what]: given })).toBe(
        `positioningPlan: ${what} is ${given}; give a whole number from ${least}`,
      );
    count("cycles", 1, 2);
    count("cycles", 101, 2);
    count("blocksTogether", 0, 1);
    expect(plan({ cycles: 100 }).readings).toHaveLength(1400);
    for (const perMetre of [0, 1001]) {
      expect(sentence({ perMetre })).toBe(`positioningPlan: perMetre is ${perMetre}; give targets a metre, such as 5`);
    }
    expect(plan({ perMetre: 1000, landOn: mm(0.1) }).targets).toHaveLength(500);
  });
  it("for lengths and times that are none", () => {
    expect(sentence({ blocks: [mm(5), 7] })).toBe(
      "positioningPlan: a block is 7; give a length above zero, such as mm(2)",
    );
    expect(sentence({ landOn: mm(-1) })).toBe(
      "positioningPlan: landOn is −1 mm; give a length above zero, such as mm(2)",
    );
    expect(sentence({ overTravel: minutes(1) })).toBe(
      "positioningPlan: overTravel is 1 min; give a length above zero, such as mm(2)",
    );
    expect(sentence({ timePerReading: mm(3) })).toBe(
      "positioningPlan: timePerReading is 3 mm; give a time such as seconds(3)",
    );
    expect(sentence({ dwell: minutes(-1) })).toBe("positioningPlan: dwell is −1 min; give a time such as seconds(3)");
    expect(sentence({ feed: mmPerMin(0) })).toBe("positioningPlan: feed is 0 mm/min; give one such as mmPerMin(300)");
    expect(sentence({ travel: [minutes(1), mm(5)] })).toBe(
      "positioningPlan: end 1 of the travel is 1 min; give two lengths such as [mm(0), mm(500)]",
    );
  });
  it("for a travel that the ends eat up, to twelve times the over-travel", () => {
    const short = (end: number) => plan({ travel: [mm(10), mm(10 + end)], lead: undefined, landOn: mm(0.01) });
    expect(refusal(() => short(24)).message).toBe(
      "positioningPlan: the travel from 10 mm to 34 mm leaves too little between 2 mm beyond each end; give the low end first and a travel of more than 24 mm, or a smaller overTravel",
    );
    const places = placesOf(short(24.5));
    expect(places[0]!).toBeGreaterThanOrEqual(12);
    expect(places.at(-1)!).toBeLessThanOrEqual(32.5);
  });
  it("for a grid coarser than a quarter of the spacing", () => {
    expect(sentence({ landOn: mm(18) })).toContain("landOn 18 mm is too coarse for 7 targets on 500 mm");
    expect(plan({ landOn: mm(17) }).targets).toHaveLength(7);
  });
  it("for blocks that come near no target, and says near which where they are few", () => {
    const blocks = [1.3, 2.1, 5, 10, 20, 25, 50, 75, 100, 200].map((block) => mm(block));
    const missing = sentence({ blocks, blocksTogether: 3 });
    expect(missing).toMatch(
      /^positioningPlan: for 2 of 7 targets \(near 418 mm, 501 mm\) the blocks give no length near enough that is no whole multiple of 5 mm \(turn of the screw\); add blocks, a short odd one such as 1\.3 mm or a long one, or allow more together$/,
    );
    expect(sentence({ blocks, blocksTogether: 3, lead: undefined, travel: [mm(0), mm(700)] })).toMatch(
      /^positioningPlan: for \d of 5 targets \(near [\d, m]+\) the blocks give no length near enough; add blocks/,
    );
    expect(sentence({ blocks: blocks.slice(0, 2), lead: mm(5), motorTurn: mm(10 / 3) })).toMatch(
      /^positioningPlan: for \d of 9 targets the blocks give no length near enough that is no whole multiple of 5 mm \(turn of the screw\) or 3\.333 mm \(turn of the motor\); add/,
    );
  });
});
