import { describe, expect, it } from "vitest";
import { Diagnosis } from "../../kernel-lib/src/axis/diagnosis.js";
import { driftFinding, gaugeFinding, gibFinding, gravityFinding } from "../../kernel-lib/src/axis/diagnosis-doubts.js";
import { chanceOf, chanceWords } from "../../kernel-lib/src/axis/diagnosis-finding.js";
import { periodicFindings, pitchFindings, playFinding } from "../../kernel-lib/src/axis/diagnosis-parts.js";
import { slopeTrend, unevenReversal } from "../../kernel-lib/src/axis/run-trends.js";
import { gauge, input, Measured, mm, newton, slope, um } from "../../kernel-lib/src/index.js";
import { plantedTest } from "./planted-test.js";

/** a finding from what it looks at alone, in round numbers */
const ask = <F>(finding: (given: never) => F, given: object): F => finding(given as never);
const length = (value: number, u: number) =>
  Measured.from(input.normal({ label: "x", estimate: um(value), standardUncertainty: um(u) }));
const angle = (value: number, u: number) =>
  Measured.from(
    input.normal({
      label: "x",
      estimate: slope(um(value), mm(1000)),
      standardUncertainty: slope(um(u), mm(1000)),
    }),
  );

describe("the chance of a value where nothing is there", () => {
  it("is that of both tails of the normal or the t law (tables of both)", () => {
    expect(chanceOf(1.96, 1, Number.POSITIVE_INFINITY)).toBeCloseTo(0.05, 4);
    expect(chanceOf(-3.92, 2, Number.POSITIVE_INFINITY)).toBeCloseTo(0.05, 4);
    expect(chanceOf(2.228, 1, 10)).toBeCloseTo(0.05, 4);
    expect(chanceOf(0, 1, 10)).toBeCloseTo(1, 12);
  });
  it("is put in words where it is less than 1 in 1000", () => {
    expect([0.0009, 0.001, 0.0321, 0.5].map(chanceWords)).toEqual(["less than 1 in 1000", "0.001", "0.032", "0.5"]);
  });
});

describe("play", () => {
  const lostMotion = length(6, 1);
  const test = { axis: "X", vertical: false };
  const play = (value: number, u: number, ladder?: Measured<"length">) =>
    ask(playFinding, {
      part: { play: length(value, u) },
      found: { lostMotion, test },
      ladder: ladder && { play: ladder },
    });

  it("is seen below a chance of 1 in 100 and suspected below 1 in 10 (normal table: 2.576 u and 1.645 u)", () => {
    const verdicts = [5.16, 5.14, 3.3, 3.28, -5.16].map((value) => play(value, 2).verdict);
    expect(verdicts).toEqual(["seen", "suspected", "suspected", "not seen", "seen"]);
    expect(play(3.92, 2).chance).toBeCloseTo(0.05, 4);
  });
  it("says what to set, and where nothing is seen how much would have been", () => {
    expect(play(8, 2)).toEqual({
      cause: "play",
      verdict: "seen",
      chance: expect.any(Number),
      evidence: "8.0 µm ± 3.9 µm (k = 2.0) between the directions, drift taken out",
      next: "set a lost motion of 6.0 µm ± 2.0 µm (k = 2.0) in the control, or take up nut and thrust bearing first where they can be adjusted",
    });
    expect(play(1, 2).next).toBe("nothing; a play up to about 3.9 µm would not have been told");
  });
  it("is no play and nothing to set where the weight holds the axis on one flank", () => {
    // a machinist was told to set 6 µm of wind-up on Z: the control would have driven the head that much too far
    const hanging = (value: number) =>
      ask(playFinding, {
        part: { play: length(value, 2) },
        found: { lostMotion, test: { axis: "Z", vertical: true } },
      });
    expect(hanging(8)).toEqual({
      cause: "lost motion as it hangs",
      verdict: "seen",
      chance: expect.any(Number),
      evidence: "8.0 µm ± 3.9 µm (k = 2.0) between the directions, drift taken out",
      next: "set no lost motion for Z: the weight closes the play by itself, and what is lost as it hangs is wind-up and friction; look at gib, lubrication and coupling",
    });
    expect(hanging(1).next).toBe("nothing; wind-up and friction up to about 3.9 µm would not have been told");
  });
  it("agrees with the ladder to twice the u of both, and else says which is more", () => {
    const said = (ladder: number) => play(20, 3, length(ladder, 4)).evidence.split("drift taken out; ")[1];
    const the = (ladder: number) => `the ladder says ${length(ladder, 4)}`;
    expect(said(29.9)).toBe(`${the(29.9)}, which agrees`);
    expect(said(10.1)).toBe(`${the(10.1)}, which agrees`);
    expect(said(30.2)).toBe(`${the(30.2)}, more by 10.2 µm: short moves stick, look for friction`);
    expect(said(9.8)).toBe(
      `${the(9.8)}, less by 10.2 µm: long moves lose more than short ones, look for wind-up or a slide that tilts`,
    );
  });
});

describe("pitch", () => {
  const pitch = (value: number, ratio: number, more: object = {}) =>
    ask(pitchFindings, {
      part: {
        slope: angle(value, 10),
        leftByTargets: {
          variance: 2 * ratio,
          degreesOfFreedom: 4,
          local: { variance: 2, degreesOfFreedom: 20 },
          ...more,
        },
      },
      found: { test: { travel: mm(250), targetsMm: [0, 1, 2], runs: 4 } },
    });
  it("even over the travel, farther or less far by the span's share", () => {
    expect(pitch(40, 1)[0]).toEqual({
      cause: "pitch error",
      verdict: "seen",
      chance: expect.closeTo(6.334e-5, 7),
      evidence: `${angle(40, 10)}: the axis goes farther than it is told by 10.0 µm over the span`,
      next: "change the steps per millimetre (newStepsPerMm), reference and screw being equally warm",
    });
    expect(pitch(-20, 1)[0]).toEqual({
      cause: "pitch error",
      verdict: "suspected",
      chance: expect.closeTo(0.0455, 4),
      evidence: `${angle(-20, 10)}: the axis goes less far than it is told by 5.0 µm over the span`,
      next: "change the steps per millimetre (newStepsPerMm), reference and screw being equally warm",
    });
    expect(pitch(2, 1)[0]!.next).toBe("nothing; what the reference does not state is in no chance here");
  });
  it("uneven where the targets stray beyond the runs (F table: 2.25 and 4.43 for 4 and 20)", () => {
    const uneven = (ratio: number) => pitch(2, ratio)[1]!;
    expect([4.5, 4.4, 2.3, 2.2].map((ratio) => uneven(ratio).verdict)).toEqual([
      "seen",
      "suspected",
      "suspected",
      "not seen",
    ]);
    // √(2 · 4.5 / (2 · 4)), a mean of eight readings
    const stray =
      "the targets stray from the straight line and the waves by 1.1 µm (one standard deviation of a target's mean)";
    expect(uneven(4.5)).toEqual({
      cause: "uneven pitch",
      verdict: "seen",
      chance: expect.any(Number),
      evidence: `${stray}, beyond what the runs scatter`,
      next: "set the pitch table; worn screws show it where most of the work was done",
    });
    expect([uneven(1).evidence, uneven(1).next]).toEqual([
      `${stray.replace("1.1", "0.5")}, no more than what the runs scatter`,
      "nothing",
    ]);
  });
  it("can't be told uneven where no target is left over, and can with one", () => {
    expect(pitch(2, 4.5, { degreesOfFreedom: 0 })[1]).toEqual({
      cause: "uneven pitch",
      verdict: "can't be told",
      evidence: "3 targets leave nothing to judge it by",
      next: "test at more targets",
    });
    expect(pitch(2, 4.5, { degreesOfFreedom: 1 })[1]!.verdict).toBe("suspected");
  });
});

it("periodic errors are judged turn by turn, and those that can't be told are named", () => {
  const wave = {
    name: "turn of the screw",
    period: mm(5),
    amplitude: um(2.04),
    standardUncertainty: um(0.56),
    p: 0.02,
  };
  const why = "turn of the motor (2.5 mm): the targets stand whole periods apart";
  const next =
    "look for a bent screw end, a coupling out of line, a face of the thrust bearing; a pitch table of few targets can't take it out";
  const judged = {
    ...{ cause: "periodic error (turn of the screw)", verdict: "suspected", chance: 0.02 },
    ...{ evidence: "± 2.0 µm (u = 0.6 µm) every 5 mm", next },
  };
  const untold = {
    ...{ cause: "periodic error (turn of the motor)", verdict: "can't be told", evidence: why },
    next: "plan the targets by axis.positioningPlan, which sets them off",
  };
  const of = (periodic: object[], aliased: string[]) => ask(periodicFindings, { part: { periodic, aliased } });
  expect(of([wave], [why])).toEqual([judged, untold]);
  expect(of([], [why])).toEqual([untold]);
  expect(of([{ ...wave, period: mm(10 / 3), p: 0.5 }], [])).toEqual([
    { ...judged, verdict: "not seen", chance: 0.5, evidence: "± 2.0 µm (u = 0.6 µm) every 3.333 mm", next: "nothing" },
  ]);
  expect(of([], [])).toEqual([
    {
      ...{ cause: "periodic error", verdict: "can't be told", evidence: "no lead is given" },
      next: "give the lead, and the motor's turn where it differs",
    },
  ]);
});

/** slopes of the runs in µm/m, with a play of 9 µm that is no slope */
const stretched = (...slopes: readonly number[]) =>
  plantedTest(
    [0, 100, 200],
    slopes.map((_, i) => i + 1),
    (at, direction, run) => (slopes[run - 1]! * at) / 1000 + (direction === "up" ? 0 : 9),
  );

describe("drift", () => {
  it("of the slope from run to run is a line through the runs", () => {
    // 10, 20, 60: (60 − 10) / 2 a run; left (10 − 40 + 60)² / 6 with one degree of freedom, u = √left / √2
    const trend = slopeTrend(stretched(10, 20, 60))!;
    expect(trend.value).toBeCloseTo(25, 6);
    expect(trend.u).toBeCloseTo(30 / Math.sqrt(12), 6);
    expect(trend.degreesOfFreedom).toBe(1);
    expect(slopeTrend(stretched(10, 20))).toBeUndefined();
    const ordered = plantedTest(
      [0, 100],
      [7, 2, 5, 4],
      (at, _direction, run) => (at / 100) * [0, 0, 3, 0, 7, 5, 0, 1][run]!,
    );
    expect(slopeTrend(ordered)!.value).toBeCloseTo(20, 9);
  });

  const drift = (value: number, u: number, test: object) =>
    ask(driftFinding, { part: { drift: length(value, u) }, found: { test } });
  const untaken = "no temperatures are written: warmth and a stand that creeps can't be told apart";
  const next =
    "warm the axis up as it is used and test again; a pitch that grows is a screw that warms up, a shift alone is head, stand or gauge";
  it("is the better of two looks, its chance doubled", () => {
    // shift 2.5 u: 0.0124 (normal table); pitch by t of one degree of freedom 1 − (2 / π) arctan t
    expect(drift(5, 2, stretched(10, 20, 60))).toEqual({
      cause: "drift during the test",
      verdict: "suspected",
      chance: expect.closeTo(0.02484, 5),
      evidence: `the axis stood ${length(5, 2)} on at the end; the pitch changed by 50.0 µm/m from the first run to the last; ${untaken}`,
      next,
    });
    const t = 25 / (30 / Math.sqrt(12));
    expect(drift(0.4, 2, stretched(10, 20, 60)).chance).toBeCloseTo(2 * (1 - (2 / Math.PI) * Math.atan(t)), 6);
    expect(drift(0, 2, stretched(10, 20, 10)).chance).toBe(1);
    expect(drift(0, 2, stretched(10, 20, 10)).next).toBe("nothing");
  });
  it("has no look at the pitch of two runs, and reads the thermometer first and last", () => {
    expect(drift(8, 2, stretched(10, 60)).evidence).toBe(`the axis stood ${length(8, 2)} on at the end; ${untaken}`);
    const { readings, runs } = stretched(10, 60);
    const warm = (celsius: readonly number[]) =>
      drift(8, 2, {
        runs,
        readings: readings.map((one, i) => ({ ...one, ...(celsius[i] && { celsius: celsius[i] }) })),
      });
    expect(warm([18.04, 19, 21.5]).evidence).toBe(
      `the axis stood ${length(8, 2)} on at the end; the thermometer went from 18.0 °C to 21.5 °C`,
    );
    expect(warm([18]).evidence).toContain(untaken);
    expect(warm([18, 18.2]).evidence).toContain("the thermometer went from 18.0 °C to 18.2 °C");
  });
});

describe("a gauge at its limit", () => {
  const finer = "take a finer gauge before anything is made of R; more runs do not help below the step";
  const of = (doubt: object, repeatability?: object) =>
    ask(gaugeFinding, {
      found: {
        doubt: { degreesOfFreedom: 10, belowStep: false, ...doubt },
        test: {
          gauge: gauge({
            ...{ resolution: um(2), maximumPermissibleError: um(3) },
            ...(repeatability && { repeatability: repeatability as never }),
          }),
        },
      },
    });
  it("is seen where the runs scatter by less than half a step", () => {
    expect(of({ scatterUm: 0.577, stepUm: 2, belowStep: true })).toEqual({
      cause: "gauge at its limit",
      verdict: "seen",
      evidence: "the runs scatter by 0.58 µm, less than half a step of 2 µm: R and A are those of the gauge",
      next: finer,
    });
  });
  it("can't be told where the gauge does not say how it repeats", () => {
    expect(of({ scatterUm: 3, stepUm: 2 })).toEqual({
      cause: "gauge at its limit",
      verdict: "can't be told",
      evidence:
        "the runs scatter by 3 µm, 1.5 steps of the gauge, which states no repeatability: how much of it is the gauge's own is not known",
      next: 'read a still axis ten times and write the scatter as "# gauge repeatability"',
    });
  });
  it("is told by the variances of the runs and of the still gauge (F table: 3.37 for 10 and 20)", () => {
    // √(0.8² + 0.6²) = 1 µm of its own
    const runs = (variance: number) =>
      of(
        { scatterUm: Math.sqrt(variance), stepUm: 0.6 * Math.sqrt(12) },
        { standardDeviation: um(0.8), degreesOfFreedom: 20 },
      );
    expect(runs(3.3)).toEqual({
      cause: "gauge at its limit",
      verdict: "suspected",
      chance: expect.closeTo(0.0111, 3),
      evidence: "the runs scatter by 1.8 µm, the gauge by itself by 1 µm: the gauge alone would make as much",
      next: finer,
    });
    expect(runs(4)).toEqual({
      cause: "gauge at its limit",
      verdict: "not seen",
      chance: expect.any(Number),
      evidence: "the runs scatter by 2 µm, the gauge by itself by 1 µm: the axis scatters more than the gauge",
      next: "nothing",
    });
  });
});

describe("a loose gib", () => {
  const plays = [10, 12, 18, 16, 14];
  const gib = (local: number, twistOnReversal?: Measured<"slope">) =>
    ask(gibFinding, {
      twistOnReversal,
      part: {
        playsUm: plays,
        leftByTargets: { local: { variance: local, degreesOfFreedom: 20 } },
        test: { runs: 5, targetsMm: [0, 100, 200.5, 300, 400] },
      },
    });
  const along = "the play runs from 10.0 µm to 18.0 µm along the travel, most at 200.5 mm";
  const level =
    "put a level or a second gauge on the slide and reverse it: what turns is the gib, what only shifts is the nut";

  it("is suspected where the play differs beyond the runs (F table: 2.25 for 4 and 20)", () => {
    // variance 10 of differences of two means of five: F = 10 · 5 / (2 · local)
    expect(gib(25 / 2.3)).toEqual({
      cause: "loose gib",
      verdict: "suspected",
      chance: expect.closeTo(0.095, 2),
      evidence: `${along}, beyond the scatter of the runs: worn ways or a worn screw`,
      next: level,
    });
    expect(gib(25 / 2.2)).toEqual({
      cause: "loose gib",
      verdict: "can't be told",
      evidence: `${along}, no more than the runs scatter; an even twist looks like play here`,
      next: level,
    });
    const { leastUm, mostUm, mostAtMm } = unevenReversal({
      ...{ playsUm: [3, -1, 2], leftByTargets: { local: { variance: 1, degreesOfFreedom: 4 } } },
      test: { runs: 2, targetsMm: [5, 6, 7] },
    } as never);
    expect([leastUm, mostUm, mostAtMm]).toEqual([-1, 3, 5]);
  });
  it("is told by how far the slide turns when it is reversed", () => {
    expect(gib(25, angle(28, 10))).toEqual({
      cause: "loose gib",
      verdict: "seen",
      chance: expect.closeTo(0.00511, 5),
      evidence: `the slide turns by ${angle(28, 10)} when it is reversed; ${along}`,
      next: "adjust the gib where the slide is worn least, by the maker's manual, so that it still moves at the ends; then test again",
    });
    expect(gib(25, angle(-20, 10)).verdict).toBe("suspected");
    expect(gib(1, angle(10, 10))).toMatchObject({ verdict: "not seen", next: "nothing" });
  });
});

describe("play that gravity hides", () => {
  const of = (given: object) =>
    ask(gravityFinding, { found: { test: { axis: "Z" }, lostMotion: length(3, 1) }, ...given });
  const shown =
    "come to a depth from above, lock the axis for the cut, or balance the slide; set no lost motion in the control for it: while the axis hangs there is none to take up";
  const pull =
    "take a ladder of small moves under a known upward pull above the weight, and hold it against the free one (liftUnderPull); hands out while it moves";

  it("is told by the lift, the spring of the drive in it", () => {
    expect(of({ lift: { lift: length(20, 2), pull: newton(900) }, ladder: { play: length(3, 1) } })).toEqual({
      cause: "play that gravity hides",
      verdict: "seen",
      chance: expect.any(Number),
      evidence: `pulled up by 900 N it stands ${length(20, 2)} higher than as it hangs, the spring of the drive in it`,
      next: shown,
    });
    expect(of({ lift: { lift: length(1, 2), pull: newton(900) } })).toMatchObject({
      verdict: "not seen",
      next: "nothing",
    });
  });
  it("is not tested as long as nothing pulls", () => {
    expect(of({})).toEqual({
      cause: "play that gravity hides",
      verdict: "can't be told",
      evidence: "the weight holds Z on one flank; play under cutting load not tested",
      next: pull,
    });
    expect(of({ ladder: { play: length(3, 1) } }).evidence).toBe(
      `the weight holds Z on one flank, and the ladder was free: ${length(3, 1)} is wind-up and sticking; play under cutting load not tested`,
    );
  });
  it("is what the ladder under the pull shows beyond the free one, or beyond the test", () => {
    const [free, pulled] = [{ play: length(4, 1) }, { play: length(12, 1) }];
    const told = of({ ladder: free, ladderUnderPull: pulled });
    const hidden = pulled.play.minus(free.play);
    expect(hidden.in("um")).toBeCloseTo(8, 9);
    expect(told).toMatchObject({
      verdict: "seen",
      evidence: `under the pull ${pulled.play}, free ${free.play}: the weight hid ${hidden}`,
      next: shown,
    });
    expect(of({ ladderUnderPull: pulled }).evidence).toContain(`free ${length(3, 1)}: the weight hid 9.0 µm`);
    expect(of({ ladder: free, ladderUnderPull: free })).toMatchObject({
      verdict: "not seen",
      next: "nothing, if the pull was about the weight; a stronger one hides the play as the weight does: hold the two ladders against each other (liftUnderPull)",
    });
  });
});

it("counts the causes that have a chance into the false alarm, and lists them by verdict", () => {
  const findings = (["seen", "not seen", "can't be told", "seen"] as const).map((verdict, i) => ({
    ...{ cause: `cause ${i}`, verdict, evidence: "", next: "" },
  }));
  const made = Object.create(Diagnosis.prototype, {
    findings: { value: findings },
    found: { value: { test: { name: "X" } } },
  });
  expect(`${made}`).toBe("X: seen: cause 0, cause 3; not seen: cause 1; can't be told: cause 2");
  expect(made.of("seen").map(({ cause }: { cause: string }) => cause)).toEqual(["cause 0", "cause 3"]);
});
