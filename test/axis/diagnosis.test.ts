import { describe, expect, it } from "vitest";
import { type DiagnosisOptions, diagnosis } from "../../kernel-lib/src/axis/diagnosis.js";
import { liftUnderPull } from "../../kernel-lib/src/axis/lift-under-pull.js";
import { positioning } from "../../kernel-lib/src/axis/positioning.js";
import { readPositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { positioningTest } from "../../kernel-lib/src/axis/positioning-test.js";
import { smallMoves } from "../../kernel-lib/src/axis/small-moves.js";
import { readSmallMoves } from "../../kernel-lib/src/axis/small-moves-sheet.js";
import { gauge, input, Measured, minutes, mm, newton, Quantity, um } from "../../kernel-lib/src/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";

interface Law {
  readonly play?: number;
  readonly slope?: number;
  readonly wave?: number;
  readonly bow?: number;
  readonly drift?: number;
  readonly stretch?: number;
  /** play more at the far end than at the near one */
  readonly wear?: number;
  readonly noise?: number;
  readonly axis?: "X" | "Z";
  readonly repeats?: boolean;
}

const targets = [12, 61.3, 108.9, 161.7, 210.2, 262.6, 311.1, 357.8, 412.4, 459.5];

function found(law: Law, options: DiagnosisOptions = { lead: mm(5) }) {
  const { play = 0, slope = 0, wave = 0, bow = 0, drift = 0, stretch = 0, wear = 0, noise = 1, axis = "X" } = law;
  const { normal } = randomStream(33);
  let time = 0;
  const readings = [1, 2, 3, 4, 5].flatMap((run) =>
    (["up", "down"] as const).flatMap((direction) =>
      (direction === "up" ? targets : targets.toReversed()).map((at) => {
        const half = direction === "up" ? -0.5 : 0.5;
        const seen =
          half * (play + wear * (at / 500)) +
          ((slope + stretch * (run - 3)) * at) / 1000 +
          wave * Math.cos((2 * Math.PI * at) / 5) +
          4 * bow * (at / 500) * (1 - at / 500) +
          (drift * time++) / 99 +
          noise * normal();
        return { target: mm(at), direction, run, deviation: um(Math.round(seen)), time: minutes(time) };
      }),
    ),
  );
  const dial = gauge({
    resolution: um(1),
    maximumPermissibleError: um(2),
    ...(law.repeats ? { repeatability: { standardDeviation: um(1), degreesOfFreedom: 19 } } : {}),
  });
  const scaleLimit = Quantity.fromSi("slope", 5e-6);
  return diagnosis(
    positioning(positioningTest({ axis, readings, gauge: dial, reference: { name: "scale", scaleLimit } })),
    options,
  );
}

const verdicts = (made: ReturnType<typeof found>) =>
  Object.fromEntries(made.findings.map(({ cause, verdict }) => [cause, verdict]));

it("finds nothing on a sound axis, and says what it can't tell", () => {
  expect(verdicts(found({}))).toEqual({
    play: "not seen",
    "pitch error": "not seen",
    "uneven pitch": "not seen",
    "periodic error (turn of the screw)": "not seen",
    "drift during the test": "not seen",
    "gauge at its limit": "can't be told",
    "loose gib": "can't be told",
  });
});

describe("tells what was planted, and nothing else", () => {
  const cases: readonly (readonly [string, Law, string])[] = [
    ["play", { play: 12 }, "play"],
    ["pitch error", { slope: 60 }, "pitch error"],
    ["a bow of the pitch", { bow: 8 }, "uneven pitch"],
    ["a wave of the screw", { wave: 4 }, "periodic error (turn of the screw)"],
    ["drift", { drift: 6 }, "drift during the test"],
    ["a screw that warms up", { stretch: 6 }, "drift during the test"],
  ];
  it.each(cases)("%s", (_what, law, cause) => {
    const made = found(law);
    expect(made.of("seen").map((finding) => finding.cause)).toEqual([cause]);
    expect(made.of("seen")[0]!.chance).toBeLessThan(0.01);
  });
});

it("suspects a gib where the play differs along the travel, and only by a twist on reversal is sure", () => {
  const worn = found({ play: 8, wear: 8 });
  expect(verdicts(worn)["loose gib"]).toBe("suspected");
  const twist = (umPerM: number) =>
    Measured.from(
      input.normal({
        label: "level",
        estimate: Quantity.fromSi("slope", umPerM * 1e-6),
        standardUncertainty: Quantity.fromSi("slope", 4e-6),
      }),
    );
  expect(verdicts(found({}, { lead: mm(5), twistOnReversal: twist(30) }))["loose gib"]).toBe("seen");
  expect(verdicts(found({}, { lead: mm(5), twistOnReversal: twist(3) }))["loose gib"]).toBe("not seen");
});

it("does not take drift for a gib", () => {
  expect(verdicts(found({ drift: 30 }))["loose gib"]).toBe("can't be told");
});

it("says of the gauge that it is at its limit, as far as it states its repeatability", () => {
  expect(verdicts(found({ repeats: true }))["gauge at its limit"]).toBe("suspected");
  expect(verdicts(found({ repeats: true, noise: 3 }))["gauge at its limit"]).toBe("not seen");
  const still = found({ noise: 0 });
  expect(verdicts(still)["gauge at its limit"]).toBe("seen");
  expect(still.findings.find(({ cause }) => cause === "gauge at its limit")!.evidence).toContain("R and A are those");
});

it("can't tell what has no lead, or what the targets hide", () => {
  expect(verdicts(found({}, {}))["periodic error"]).toBe("can't be told");
  expect(verdicts(found({}, { lead: mm(1000) }))["periodic error (turn of the screw)"]).toBe("can't be told");
});

describe("of Z", () => {
  const ladder = (play: number, underPull: boolean) => {
    const commanded = Array.from({ length: 25 }, (_, k) => 5 * (12 - Math.abs(12 - k)));
    let place = 0;
    const readings = commanded.map((command) => {
      place = Math.min(Math.max(place, command), command + play);
      return um(Math.round(place));
    });
    const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
    return smallMoves({ axis: "Z", commanded: commanded.map((c) => um(c)), readings, gauge: dial, underPull });
  };
  it("says that play under load is not tested", () => {
    const made = found({ axis: "Z", play: 2 }, { ladder: ladder(2, false) });
    const hidden = made.findings.find(({ cause }) => cause === "play that gravity hides")!;
    expect(hidden.verdict).toBe("can't be told");
    expect(hidden.evidence).toContain("play under cutting load not tested");
  });
  it("tells it by a ladder under an upward pull", () => {
    const made = found({ axis: "Z", play: 2 }, { ladder: ladder(2, false), ladderUnderPull: ladder(25, true) });
    expect(verdicts(made)["play that gravity hides"]).toBe("seen");
    const none = found({ axis: "Z", play: 2 }, { ladder: ladder(2, false), ladderUnderPull: ladder(3, true) });
    expect(verdicts(none)["play that gravity hides"]).toBe("not seen");
    expect(none.findings.find(({ cause }) => cause === "play that gravity hides")!.next).toContain("liftUnderPull");
  });
  it("tells it by the lift where the pull hides it as the weight does", () => {
    const [free, pulled] = ["free", "pulled"].map((how) => readSmallMoves(`data/ladder-z-${how}.csv`));
    const lift = liftUnderPull({ free: free!, pulled: pulled!, weight: newton(690) });
    const given = { ladder: free!, ladderUnderPull: pulled! };
    expect(verdicts(found({ axis: "Z", play: 2 }, given))["play that gravity hides"]).toBe("not seen");
    const made = found({ axis: "Z", play: 2 }, { ...given, lift });
    expect(verdicts(made)["play that gravity hides"]).toBe("seen");
    expect(made.findings.at(-1)!.evidence).toMatch(
      /^pulled up by 900 N it stands 2\d\.\d µm ± \d\.\d µm \(k = 2\.\d\) higher/,
    );
  });
});

it("holds the demonstration of X against its ladder, in one sentence", () => {
  const made = diagnosis(positioning(readPositioning("data/positioning-x.csv")), {
    lead: mm(5),
    ladder: readSmallMoves("data/ladder-x.csv"),
  });
  expect(made.findings[0]!.evidence).toMatch(/the ladder says 13\.\d µm ± \d\.\d µm \(k = 2\.0\), which agrees$/);
  expect(`${made}`).toMatch(
    /^positioning of X: seen: play, pitch error, uneven pitch, periodic error \(turn of the screw\), drift during the test; /,
  );
});
