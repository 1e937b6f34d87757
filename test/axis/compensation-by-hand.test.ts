import { describe, expect, it } from "vitest";
import { compensation } from "../../kernel-lib/src/axis/compensation.js";
import { positioning } from "../../kernel-lib/src/axis/positioning.js";
import { mm, slope, um } from "../../kernel-lib/src/index.js";
import { plantedTest } from "./planted-test.js";

const targets = [0, 100, 200, 400];
const scale = { name: "blocks", scaleLimit: slope(um(20), mm(1000)) };
/** play 9 µm, more by 1 µm in 100 mm; 50 µm/m too far, in even runs 60 µm/m */
const law = (at: number, direction: "up" | "down", run: number) =>
  at / 20 + (direction === "down" ? 9 + at / 100 : 0) + (run % 2 === 0 ? at / 100 : 0);
const before = positioning(plantedTest(targets, [1, 2, 3, 4], law, { name: "X of\n the club", reference: scale }));
const made = compensation(before, { granularity: um(5) });
const inUm = (lengths: readonly { in(unit: "um"): number }[]) => lengths.map((length) => length.in("um"));
const near = (values: readonly number[], digits = 9) => values.map((value) => expect.closeTo(value, digits));

// means up 0, 5.5, 11, 22 and down 9, 15.5, 22, 35; s = 0, 1, 2, 4 µm / √3 in both directions
const spreads = [0, 1, 2, 4].map((off) => off / Math.sqrt(3));
/** A by its formula from the means of both directions */
const accuracy = (...means: readonly (readonly number[])[]) => {
  const ends = (sign: number) => means.flatMap((row) => row.map((mean, i) => mean + sign * 2 * spreads[i]!));
  return Math.max(...ends(1)) - Math.min(...ends(-1));
};

describe("a compensation worked out by hand", () => {
  it("sets the mean reversal and the middle of both directions, rounded to the step of the control", () => {
    // mean reversal 10.75; middle 4.5, 10.5, 16.5, 28.5
    expect(made.reversalValue.in("um")).toBeCloseTo(10, 9);
    expect(made.pitch.map(({ target }) => target.in("mm"))).toEqual(targets);
    expect(inUm(made.pitch.map(({ correction }) => correction))).toEqual(near([0, -5, -10, -25]));
    const fine = compensation(before);
    expect(fine.reversalValue.in("um")).toBeCloseTo(11, 9);
    expect(inUm(fine.pitch.map(({ correction }) => correction))).toEqual(near([0, -6, -12, -24]));
  });

  it("gives each correction the u of scatter, rounding, gauge and reference from the first target on", () => {
    const scatter = Math.sqrt((1 + 4 + 16) / 3 / 4);
    const at = (metres: number) =>
      Math.hypot(scatter / Math.sqrt(4), 5 / Math.sqrt(12), 3 / Math.sqrt(3), (20 * metres) / Math.sqrt(3));
    expect(inUm(made.pitch.map(({ standardUncertainty }) => standardUncertainty))).toEqual(
      near([5 / Math.sqrt(12), at(0.1), at(0.2), at(0.4)]),
    );
    expect(made.reversalValue.standardUncertainty.in("um")).toBeCloseTo(
      Math.hypot(before.lostMotion.standardUncertainty.in("um"), 5 / Math.sqrt(12)),
      9,
    );
    const { label, source, estimate } = made.reversalValue.terms.at(-1)!.input;
    expect([label, source, estimate.si]).toEqual([
      "rounding of the control",
      "half the step that the control takes",
      0,
    ]);
  });

  it("foresees the axis with both corrections, by the readings that made them", () => {
    const { figures } = made.after;
    expect(figures.meanUp).toEqual(near([5, 5.5, 6, 2]));
    expect(figures.meanDown).toEqual(near([4, 5.5, 7, 5]));
    expect(made.after.accuracy.in("um")).toBeCloseTo(accuracy([5, 5.5, 6, 2], [4, 5.5, 7, 5]), 9);
    const { name, axis, vertical, senseProven, gauge, reference } = made.after.test;
    expect([name, axis, vertical, senseProven]).toEqual(["X of\n the club, compensated", "X", false, false]);
    expect([gauge, reference]).toEqual([before.test.gauge, scale]);
  });

  it("tries the table of every other run on the runs between", () => {
    // of runs 1 and 3: lost motion 10, pitch 0, −5, −10, −20; runs 2 and 4 read 0, 6, 12, 24 up and 9, 16, 23, 37 down
    const { figures, test } = made.afterOnOtherRuns!;
    expect(test.runs).toBe(2);
    expect(figures.meanUp).toEqual(near([5, 6, 7, 9]));
    expect(figures.meanDown).toEqual(near([4, 6, 8, 12]));
    expect(made.afterOnOtherRuns!.accuracy.in("um")).toBeCloseTo(8, 9);
  });

  it("shows what a lost motion of nothing to twice the right one does", () => {
    const at = (half: number) => {
      const up = [0, 0.5, 1, -3].map((mean) => mean + half);
      const down = [9, 10.5, 12, 10].map((mean) => mean - half);
      const all = [...up, ...down];
      return [2 * half - 10.75, accuracy(up, down), Math.max(...all) - Math.min(...all)];
    };
    expect(made.settings.map(({ share }) => share)).toEqual([0, 0.5, 1, 1.5, 2]);
    expect(inUm(made.settings.map(({ set }) => set))).toEqual(near([0, 5, 10, 15, 20]));
    expect(made.settings.map((one) => inUm([one.meanReversal, one.accuracy, one.systematic]))).toEqual(
      [0, 2.5, 5, 7.5, 10].map((half) => near(at(half))),
    );
  });

  it("says it in one line", () => {
    const perfect = before.gaugeAlone.accuracy.in("um").toFixed(1);
    expect(`${made}`).toBe(
      `X of\n the club: set a lost motion of ${made.reversalValue} and 4 pitch corrections; A 39.6 µm before, 12.2 µm after by the same readings, 8.0 µm on runs that the table was not made from; a perfect axis would be given ${perfect} µm`,
    );
  });

  it("writes its table with its units, the name on one line", () => {
    expect(
      compensation(before, { granularity: um(2.5) })
        .toCsv()
        .split("\n"),
    ).toEqual([
      "# title: pitch table of X, from X of the club",
      "# axis: X",
      "# lost motion: 10 um",
      "# granularity: 2.5 um",
      "# correction = what is added to the command at the target",
      "target/mm,correction/um",
      "0,0",
      "100,-5",
      "200,-12.5",
      "400,-25",
      "",
    ]);
  });
});

const holds =
  "the corrections hold for the way of approach, the place across the travel and the warmth of the test; set them, then run the test again";

it("says where three runs are too few to try the table, and what gravity hides", () => {
  expect(made.notes).toEqual([holds]);
  const few = compensation(positioning(plantedTest(targets, [1, 2, 3], law, { axis: "Z", senseProven: true })));
  expect(few.afterOnOtherRuns).toBeUndefined();
  expect(few.notes).toEqual([
    holds,
    "fewer than four runs: the axis afterwards is judged by the readings that made the table, which flatters",
    `gravity holds this axis on one flank: what it loses as it hangs, ${few.before.lostMotion}, is wind-up and friction and not set; told of a lost motion the control would drive it too far at each turn of direction`,
  ]);
  expect(`${few}`).toMatch(/µm after by the same readings; a perfect axis/);
  const { vertical, senseProven, axis } = few.after.test;
  expect([axis, vertical, senseProven]).toEqual(["Z", true, true]);
});

it("sets no lost motion on a vertical axis, and says what the pitch table alone leaves", () => {
  const hangs = compensation(positioning(plantedTest(targets, [1, 2, 3, 4], law, { axis: "Z", senseProven: true })));
  const lies = compensation(positioning(plantedTest(targets, [1, 2, 3, 4], law, { axis: "X", senseProven: true })));
  expect([hangs.reversalValue.in("um"), hangs.settings]).toEqual([0, []]);
  expect(hangs.pitch).toEqual(lies.pitch);
  // the same as the row "0 %" of the table that an axis lying down gets
  expect(hangs.after.accuracy.in("um")).toBeCloseTo(lies.settings[0]!.accuracy.in("um"), 9);
  expect(hangs.after.lostMotion.in("um")).toBeCloseTo(hangs.before.lostMotion.in("um"), 9);
  expect(`${hangs}`).toContain(`: set no lost motion and ${hangs.pitch.length} pitch corrections; A `);
  expect(hangs.toCsv()).toContain("\n# lost motion: 0 um\n");
});

it("leaves no minus before a nothing", () => {
  const sound = compensation(
    positioning(plantedTest([0, 100, 200], [1, 2], (_at, direction) => (direction === "up" ? 0.2 : 0))),
  );
  expect(Object.is(sound.reversalValue.in("um"), 0)).toBe(true);
  expect(sound.pitch.every(({ correction }) => Object.is(correction.in("um"), 0))).toBe(true);
  // the axis stands 0.1 µm low at the first target, which is where the table begins
  const tilted = compensation(positioning(plantedTest([0, 100, 200], [1, 2], (at) => 0.002 * at)));
  expect(tilted.pitch.every(({ correction }) => Object.is(correction.in("um"), 0))).toBe(true);
});
