import { describe, expect, it } from "vitest";
import { liftUnderPull } from "../../kernel-lib/src/axis/lift-under-pull.js";
import { playPosterior } from "../../kernel-lib/src/axis/play-likelihood.js";
import { type SmallMovesOptions, smallMoves } from "../../kernel-lib/src/axis/small-moves.js";
import { parseSmallMoves } from "../../kernel-lib/src/axis/small-moves-sheet.js";
import { gauge, minutes, newton, um } from "../../kernel-lib/src/index.js";
import { counted } from "../../kernel-lib/src/words.js";
import { refusal } from "../refusal.js";

const rungs = [0, 10, 20, 30, 40, 50, 60, 50, 40, 30, 20, 10, 0];
const dial = gauge({ name: "dial", resolution: um(1), maximumPermissibleError: um(3), hysteresis: um(1.5) });
const plain = gauge({ name: "dial", resolution: um(1), maximumPermissibleError: um(3) });
const ladder = (readings: readonly number[], more: Partial<SmallMovesOptions> = {}, commanded = rungs) =>
  smallMoves({
    axis: "X",
    commanded: commanded.map((at) => um(at)),
    readings: readings.map((at) => um(at)),
    ...{ gauge: plain, ...more },
  });
/** play of 14 µm, read true */
const fourteen = [0, 10, 20, 30, 40, 50, 60, 60, 54, 44, 34, 24, 14];

describe("a ladder worked out by hand", () => {
  const found = ladder(fourteen, { gauge: dial });
  it("says play, its interval, the smallest move and the lost ones in one line", () => {
    const [low, high] = found.playWithin.map((end) => Number(end.in("um").toPrecision(3)));
    expect(`${found}`).toBe(
      `small moves of X: play ${found.play}, from ${low} µm to ${high} µm by the readings alone; smallest move seen 10 µm; outside the play no move was seen to do nothing`,
    );
    expect(found.play.in("um")).toBeCloseTo(14, 1);
    expect(low!).toBeGreaterThan(13);
    expect(high!).toBeLessThan(15);
    expect(found.playIsTold).toBe(true);
  });
  it("has the doubt of the readings, the gauge and its hysteresis", () => {
    const lines = (of: typeof found) =>
      of.play.terms.map(({ input, sensitivity }) => [input.label, input.source, input.distribution, sensitivity]);
    const first = [
      "readings of the ladder",
      "likelihood of the readings, rounded to the step of the gauge",
      "normal",
      1,
    ];
    const error = [
      ...["dial, maximum permissible error", "over the range used, on the difference of the two directions"],
      ...(["rectangular", 1] as const),
    ];
    const hysteresis = ["dial, hysteresis", "the two directions push the plunger opposite ways", "rectangular", 1];
    expect(lines(found)).toEqual([first, error, hysteresis]);
    expect(lines(ladder(fourteen))).toEqual([first, error]);
    const half = (i: number) => found.play.terms[i]!.input.uncertaintySi * 1e6 * Math.sqrt(3);
    expect([half(1), half(2)]).toEqual([expect.closeTo(3, 9), expect.closeTo(1.5, 9)]);
  });
  it("is turned round where the gauge reads minus, and keeps what it was given", () => {
    const minus = gauge({ name: "dial", resolution: um(1), maximumPermissibleError: um(3), sense: "minus" });
    const turned = ladder(
      fourteen.map((at) => -at),
      { gauge: minus, released: um(-2), pull: newton(900), name: "turned" },
    );
    expect(turned.plain.readingsUm).toEqual(fourteen.map((at) => expect.closeTo(at, 9)));
    expect(turned.play.in("um")).toBeCloseTo(found.play.in("um"), 9);
    expect([turned.released!.in("um"), turned.pull!.in("N"), turned.name, turned.gauge]).toEqual([
      2,
      900,
      "turned",
      minus,
    ]);
  });
});

describe("what is said of a ladder", () => {
  const scatter = /^readings scatter by [\d.]+ µm beside their rounding to 1 µm$/;
  const besides = (found: ReturnType<typeof ladder>) => {
    expect(found.notes[0]).toMatch(scatter);
    return found.notes.slice(1);
  };
  it("nothing more where nothing is to be said", () => {
    expect(besides(ladder(fourteen))).toEqual([]);
    expect(besides(ladder(fourteen, { axis: "Z", vertical: false }))).toEqual([]);
  });
  it("that the play was not taken up before", () => {
    const late = [0, 0, 4, 14, 24, 34, 44, 44, 38, 28, 18, 8, -2];
    expect(besides(ladder(late))).toContain(
      "the first 3 moves up showed less than half of the way: take the play up by a move up before the first reading",
    );
    const slow = [0, 5, 20, 30, 40, 50, 60, 60, 54, 44, 34, 24, 14];
    expect(besides(ladder(slow))).toContain(
      "the first move up showed less than half of the way: take the play up by a move up before the first reading",
    );
    expect(besides(ladder([0, 6, ...slow.slice(2)])).join()).not.toContain("showed less than half");
  });
  it("the same wherever the gauge and the place begin", () => {
    const from = (zero: number, start: number) =>
      ladder(
        fourteen.map((at) => at + zero),
        {},
        rungs.map((at) => at + start),
      ).notes.slice(1);
    for (const zero of [-300, 300]) for (const start of [-300, 300]) expect(from(zero, start)).toEqual([]);
  });
  it("that the way down is shorter than the play may be", () => {
    const down = "the way down is shorter than the play may be: go farther down";
    const short = [0, 10, 20, 30, 40, 50, 60, 55, 50, 45];
    expect(besides(ladder([...short.slice(0, 7), 60, 60, 60], {}, short))).toContain(down);
    expect(besides(ladder([...short.slice(0, 7), 60, 54, 49], {}, short)).join()).not.toContain(down);
  });
  it("that moves which did nothing can't be told", () => {
    const rough = [0, 14, 17, 33, 36, 54, 57, 63, 50, 48, 30, 28, 10];
    const found = ladder(rough);
    expect(besides(found)).toContain(
      "moves that did nothing cannot be told: twice the scatter of a difference reaches half a move; take larger moves or a finer gauge",
    );
    expect([found.lost, found.jumps]).toEqual([[], []]);
    // the sentence above the note said beside it that no move was seen to do nothing
    expect(`${found}`).toMatch(/ by the readings alone; smallest move seen \d+ µm$/);
  });
  it("that it sticks and slips only where a move was lost and another went too far", () => {
    const fine = gauge({ resolution: um(0.2), maximumPermissibleError: um(1) });
    const asked = [0, 10, 20, 30, 40, 50, 60, 70, 80, 70, 60, 50, 40, 30, 20, 10, 0];
    const of = (third: number, last: number) => {
      const stuck = [0, 10, 20, third, 40, 50, 60, 70, 80, 75, 65, 55, 45, 35, 25, 15, last];
      return ladder(stuck, { gauge: fine }, asked);
    };
    const slips = "moves that did nothing and others that went too far: the axis sticks and slips";
    const counts = ({ lost, jumps }: ReturnType<typeof ladder>) => [lost.length, jumps.length];
    const [slipped, stopped, ran] = [of(20, 5), of(30, 15), of(30, -5)];
    expect([slipped, stopped, ran].map(counts)).toEqual([
      [1, 1],
      [1, 0],
      [0, 1],
    ]);
    expect([slipped, stopped, ran].map(({ notes }) => notes.slice(1))).toEqual([[slips], [], []]);
  });
  it("what gravity hides, free and under the pull", () => {
    const free =
      "gravity holds this axis on one flank: the ladder shows wind-up and sticking; play under cutting load not tested (repeat with a known upward pull)";
    const held =
      "a pull above the weight holds this axis on the other flank: this ladder alone may hide the play; hold it against the free one (liftUnderPull)";
    expect(besides(ladder(fourteen, { axis: "Z" }))).toEqual([free]);
    expect(besides(ladder(fourteen, { vertical: true }))).toEqual([free]);
    expect(besides(ladder(fourteen, { axis: "Z", pull: newton(900) }))).toEqual([held]);
    expect(besides(ladder(fourteen, { axis: "Z", underPull: true }))).toEqual([held]);
    expect(besides(ladder(fourteen, { axis: "Z", underPull: false, pull: newton(900) }))).toEqual([free]);
  });
  it("that no move was seen and the play is not told", () => {
    const still = ladder(rungs.map(() => 0));
    expect(`${still}`).toMatch(
      / by the readings alone; with this gauge it cannot be told from nothing; smallest move seen none$/,
    );
    const lame = "no move up showed half of its way: look whether the gauge touches and the axis is free";
    expect(besides(still)).toContain(lame);
    const none = ladder(rungs);
    expect(besides(none)).toEqual([]);
    expect(none.playIsTold).toBe(false);
    expect(`${none}`).toMatch(
      / by the readings alone; with this gauge it cannot be told from nothing; smallest move seen 10 µm; /,
    );
  });
});

describe("a ladder is refused", () => {
  const message = (commanded: readonly unknown[], readings: readonly unknown[] = commanded) =>
    refusal(() => smallMoves({ axis: "X", commanded, readings, gauge: plain } as never)).message;
  const course = (rises: number) =>
    `smallMoves: the commands rise ${counted(rises, "time")} and then fall; go up by three moves at least, each higher than the last, and down again by three`;
  const of = (...at: number[]) => message(at.map((value) => um(value)));
  it("with fewer than three moves up or down, or one that stands still", () => {
    expect(of(0, 10, 20, 10, 0, -10)).toBe(course(2));
    expect(of(0, 10, 20, 30, 20, 10)).toBe(course(3));
    expect(of(0, 10, 10, 20, 30, 20, 10, 0)).toBe(course(4));
    expect(of(0, 10, 20, 30, 20, 25, 10, 0)).toBe(course(3));
    expect(of(30, 20, 10, 0, 10, 20, 30)).toBe(course(0));
    expect(ladder([0, 10, 20, 30, 20, 10, 0], {}, [0, 10, 20, 30, 20, 10, 0]).lost).toEqual([]);
  });
  it("with a command or a reading that is no length, named by its place", () => {
    const good = [0, 10, 20, 30, 20, 10, 0].map((at) => um(at));
    const but = (at: number, other: unknown) => good.map((one, i) => (i === at ? other : one));
    expect(message(but(6, 7), good)).toBe("smallMoves: number 7 holds 7; give lengths such as um(5)");
    expect(message(good, but(0, minutes(2)))).toBe("smallMoves: number 1 holds 2 min; give lengths such as um(5)");
  });
});

describe("the posterior of the play", () => {
  it("is that of a fine sum over play, zero and scatter, worked out apart from it", () => {
    // flat in play and zero, 1/σ: steps of 0.05 µm, 0.1 µm and an eighth of a power of e; no published source
    const commandedUm = [0, 10, 20, 30, 20, 10, 0];
    const readingsUm = [0, 10, 21, 30, 27, 16, 7];
    const within = (found: number, value: number, by: number) => expect(Math.abs(found - value)).toBeLessThan(by);
    const fine = playPosterior({ commandedUm, readingsUm, stepUm: 1 });
    within(fine.meanUm, 6.355, 0.01);
    within(fine.deviationUm, 0.463, 0.015);
    within(fine.scatterUm, 0.46, 0.01);
    within(fine.offsetUm, 0.287, 0.006);
    within(fine.interval[0], 5.48, 0.08);
    within(fine.interval[1], 7.33, 0.08);
    const coarse = playPosterior({ commandedUm, readingsUm, stepUm: 5 });
    within(coarse.meanUm, 6.32, 0.02);
    within(coarse.deviationUm, 1.627, 0.015);
    within(coarse.scatterUm, 0.682, 0.03);
    within(coarse.offsetUm, 0.31, 0.01);
    within(coarse.interval[0], 3.15, 0.08);
    within(coarse.interval[1], 9.35, 0.08);
  });
  it("scales with the unit and does not see the zero of the gauge", () => {
    const commandedUm = [0, 10, 20, 30, 20, 10, 0];
    const readingsUm = [0, 10, 21, 30, 27, 16, 7];
    const one = playPosterior({ commandedUm, readingsUm, stepUm: 1 });
    const times = (values: readonly number[], add = 0) => values.map((value) => 25.4 * value + add);
    const inch = playPosterior({ commandedUm: times(commandedUm), readingsUm: times(readingsUm, 508), stepUm: 25.4 });
    expect(inch.meanUm).toBeCloseTo(25.4 * one.meanUm, 6);
    expect(inch.deviationUm).toBeCloseTo(25.4 * one.deviationUm, 6);
    expect(inch.scatterUm).toBeCloseTo(25.4 * one.scatterUm, 6);
    expect(inch.offsetUm).toBeCloseTo(25.4 * one.offsetUm + 508, 6);
    expect(inch.interval).toEqual(one.interval.map((end) => expect.closeTo(25.4 * end, 6)));
  });
});

describe("a lift worked out by hand", () => {
  const up = [0, 10, 20, 30, 40, 50, 60];
  const down = [50, 40, 30, 20, 10, 0];
  const make = (ups: number, downs: readonly number[], more: Partial<SmallMovesOptions> = {}) => {
    const readings = [...up.map((at) => at + ups), ...down.map((at, i) => at + downs[i]!)];
    return ladder(readings, { axis: "Z", name: "pulled", pull: newton(900), released: um(0), ...more });
  };
  const free = ladder(rungs, { axis: "Z", name: "free" });
  const lift = (ups: number, downs: readonly number[], more: Partial<SmallMovesOptions> = {}) =>
    liftUnderPull({ free, pulled: make(ups, downs, more), weight: newton(690) });
  const even = new Array(6).fill(18);
  const carried =
    "the weight of 690 N is carried by the pull of 900 N, and the nut lies on the other flank; a second pull, stronger still, would tell the spring of the drive from the play";

  it("is the mean of the rungs down beyond the play of the ladders", () => {
    const found = lift(18, [18, 17, 19, 20, 16, 18]);
    expect(found.lift.in("um")).toBeCloseTo(18, 9);
    expect(found.liftOnTheWayUp.in("um")).toBeCloseTo(18, 9);
    expect([found.pull.in("N"), found.weight.in("N"), found.liftIsTold]).toEqual([900, 690, true]);
    expect([found.free, found.pulled.name]).toEqual([free, "pulled"]);
    // s of 0, −1, 1, 2, −2, 0 is √2, below it √6 of six rungs
    expect(found.lift.terms.map(({ input }) => [input.label, input.source, input.distribution])).toEqual([
      ["scatter of the rungs", "6 rungs of the way down, pulled less free", "t"],
      [
        "zero, before and after the pull",
        "the reading once the pull was let go, against that of the free ladder",
        "rectangular",
      ],
      ["dial, maximum permissible error", "over the range used, on a difference of two readings", "rectangular"],
    ]);
    const u = found.lift.terms.map(({ input }) => input.uncertaintySi * 1e6);
    expect(u).toEqual(
      [Math.SQRT2 / Math.sqrt(6), 0.5 / Math.sqrt(3), 3 / Math.sqrt(3)].map((v) => expect.closeTo(v, 9)),
    );
    expect(found.lift.terms[0]!.input.degreesOfFreedom).toBe(5);
    expect(`${found}`).toBe(
      `Z pulled up by 900 N stands ${found.lift} higher than as it hangs: play, and the spring of the drive with it; each ladder alone would have said ${free.play.in("um").toFixed(1)} µm free and ${found.pulled.play.in("um").toFixed(1)} µm under the pull`,
    );
    expect(found.notes).toEqual([carried]);
  });
  it("keeps the rounding of two readings where the rungs scatter by less than half a step", () => {
    const u = (downs: readonly number[]) => lift(18, downs).lift.terms[0]!.input.uncertaintySi * 1e6;
    expect(u(even)).toBeCloseTo(1 / Math.sqrt(6), 9);
    // s of one in six is 0.41
    expect(u([19, 18, 18, 18, 18, 18])).toBeCloseTo(1 / Math.sqrt(6), 9);
    // 0.55, beyond half a step: an average after all
    expect(u([19, 18, 19, 18, 19, 18])).toBeCloseTo(Math.sqrt(0.3) / Math.sqrt(6), 9);
  });
  it("says where friction held the axis down on the way up", () => {
    const low = lift(4, even);
    expect(low.notes).toEqual([
      carried,
      "on the way up the lift is 14 µm less: friction in the ways held the axis down",
    ]);
    expect(low.liftOnTheWayUp.in("um")).toBeCloseTo(4, 9);
    // 2 u is 3.6 µm here
    expect(lift(14.5, even).notes).toEqual([carried]);
  });
  it("widens its zero by what the gauge was moved, and says so beyond a quarter of the lift", () => {
    const moved = (by: number) => lift(18, even, { released: um(by) });
    const zero = (by: number) => moved(by).lift.terms[1]!.input.uncertaintySi * 1e6 * Math.sqrt(3);
    expect([0, 0.4, 4, -4].map(zero)).toEqual([0.5, 0.5, 4, 4].map((v) => expect.closeTo(v, 9)));
    expect(moved(4.5).notes).toEqual([carried]);
    for (const by of [5, -5]) {
      expect(moved(by).notes).toEqual([
        carried,
        "once the pull was let go the gauge read 5 µm off: it was moved, or the axis hangs in its ways; clamp it anew and take both ladders again",
      ]);
    }
  });
  it("cannot be told from nothing within its U", () => {
    const found = lift(2, new Array(6).fill(2));
    expect(found.liftIsTold).toBe(false);
    expect(`${found}`).toContain(
      "the spring of the drive with it; with this gauge it cannot be told from nothing; each ladder alone",
    );
    expect(lift(-18, new Array(6).fill(-18)).liftIsTold).toBe(false);
  });
  it("leaves out the rungs that either ladder's own play may hold", () => {
    // the pulled one stands still over the first rung down
    const found = lift(18, [28, 34, 34, 34, 34, 34]);
    const within = found.pulled.playWithin[1].in("um");
    const kept = down.filter((at) => 60 - at > within).length;
    expect(kept).toBe(5);
    expect(found.lift.in("um")).toBeCloseTo(34, 9);
    expect(found.lift.terms[0]!.input.source).toBe("5 rungs of the way down, pulled less free");
    const loose = ladder([...up, 60, 50, 40, 30, 20, 10], { axis: "Z", name: "free" });
    const swapped = liftUnderPull({ free: loose, pulled: make(18, even), weight: newton(690) });
    expect(swapped.lift.terms[0]!.input.source).toMatch(/^[45] rungs/);
  });
  it("is refused for another gauge, other commands, or a pull of no more than the weight", () => {
    const alike = (other: ReturnType<typeof ladder>) =>
      refusal(() => liftUnderPull({ free, pulled: other, weight: newton(690) })).message;
    const told = (name: string) =>
      `liftUnderPull: free and ${name} are not alike; take both with the same axis, the same gauge and the same commands`;
    const other = gauge({ name: "other", resolution: um(1), maximumPermissibleError: um(3) });
    expect(alike(make(18, even, { gauge: other }))).toBe(told("pulled"));
    const pull = { axis: "Z", name: "pulled", pull: newton(900), released: um(0) } as const;
    const farther = rungs.map((at) => at + (at === 60 ? 1 : 0));
    expect(alike(ladder(farther, pull, farther))).toBe(told("pulled"));
    expect(alike(ladder([...rungs, -10], pull, [...rungs, -10]))).toBe(told("pulled"));
    expect(refusal(() => lift(18, even, { pull: newton(690) })).message).toContain(
      "a pull of 690 N does not carry 690 N",
    );
    for (const [weight, said] of [
      [690, "690"],
      [um(3), "3 µm"],
      [newton(-1), "−1 N"],
    ] as const) {
      expect(refusal(() => liftUnderPull({ free, pulled: free, weight: weight as never })).message).toBe(
        `liftUnderPull: the weight is ${said}; give what hangs on the screw, such as newton(690)`,
      );
    }
  });
});

describe("a sheet of small moves", () => {
  const head = "# axis: Z\n# gauge resolution: 1 µm\n# gauge maximum permissible error: 2 µm\n";
  const rows = rungs.map((at, i) => `${at},${fourteen[i]}`).join("\n");
  const parse = (lines: string, name?: string) =>
    parseSmallMoves(`${head}${lines}commanded/um,reading/um\n${rows}`, name === undefined ? {} : { name });
  it("is named by its title, else by the file or as pasted", () => {
    expect([parse("# title: Z free\n", "z.csv").name, parse("", "z.csv").name, parse("").name]).toEqual([
      "Z free",
      "z.csv",
      "pasted ladder",
    ]);
  });
  it("is free without a pull, whose line may be written in capitals", () => {
    const free = parse("");
    expect([free.pull, free.released, free.file, free.axis]).toEqual([undefined, undefined, undefined, "Z"]);
    expect(parse("# pull: Upward, 900 N\n").pull?.in("N")).toBe(900);
    for (const said of ["900 N", "to upward, 900 N", "upward,900 N"]) {
      expect(refusal(() => parse(`# pull: ${said}\n`, "z.csv"))).toEqual({
        code: "pull",
        message: `z.csv line 4: "# pull: ${said}" is not understood; write which way and how strong, such as "# pull: upward, 900 N"`,
      });
    }
  });
  it("takes a gauge that stands on no sheet", () => {
    const bare = parseSmallMoves(`# axis: x\ncommanded/um,reading/um\n${rows}`, { gauge: dial });
    expect([bare.gauge.name, bare.axis]).toEqual(["dial", "X"]);
    expect(refusal(() => parseSmallMoves(`# axis: A\ncommanded/um,reading/um\n${rows}`, { gauge: dial })).message).toBe(
      'pasted ladder line 1: "# axis: A" is not understood; write "# axis: X"',
    );
  });
});
