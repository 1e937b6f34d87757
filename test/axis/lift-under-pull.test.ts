import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { liftUnderPull } from "../../kernel-lib/src/axis/lift-under-pull.js";
import { type SmallMovesOptions, smallMoves } from "../../kernel-lib/src/axis/small-moves.js";
import { readSmallMoves } from "../../kernel-lib/src/axis/small-moves-sheet.js";
import { gauge, newton, um } from "../../kernel-lib/src/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { refusal } from "../refusal.js";

/** a head on its screw, by the forces on it: what hangs, what pulls, what the ways hold by friction */
interface Head {
  readonly play: number;
  readonly weight: number;
  readonly friction: number;
  readonly windUp?: number;
  /** µm a newton */
  readonly spring?: number;
}

const commands = Array.from({ length: 25 }, (_, k) => 10 * (12 - Math.abs(12 - k)));

/** Where the head stands after each command under a pull, worked out from the forces and not from the fit's own model. */
function stands(head: Head, pull: number, start: number): number[] {
  const { play, weight, friction, windUp = 0, spring = 0 } = head;
  const up = pull - weight;
  let place = start;
  let wound = 0;
  return commands.map((command) => {
    // more than friction settles the head on a flank; else it stays where it is, pushed by whichever flank reaches it
    if (up > friction) place = command + play;
    else if (up < -friction) place = command;
    else place = Math.min(Math.max(place, command), command + play);
    wound = Math.min(Math.max(wound, command), command + windUp);
    return place + (wound - command) + spring * pull;
  });
}

function ladders(head: Head, pull: number, { noise = 0, seed = 1, error = 2, shift = 0 } = {}) {
  const { normal } = randomStream(seed);
  const dial = gauge({ resolution: um(1), maximumPermissibleError: um(error) });
  const read = (place: number) => um(Math.round(place + noise * normal()));
  const common = { axis: "Z" as const, commanded: commands.map((c) => um(c)), gauge: dial };
  const hanging = stands(head, 0, 0);
  const free = smallMoves({ ...common, name: "as it hangs", readings: hanging.map(read) });
  const pulled = smallMoves({
    ...common,
    name: "pulled",
    readings: stands(head, pull, 0).map((place) => read(place + shift)),
    pull: newton(pull),
    released: read(hanging.at(-1)! + shift),
  });
  return { free, pulled, weight: newton(head.weight) };
}

describe("the lift under a pull", () => {
  const head = { play: 18, weight: 690, friction: 110, windUp: 3 };

  it("is the play that each ladder alone hides", () => {
    const { free, pulled, weight } = ladders(head, 900, { noise: 0.5 });
    for (const alone of [free, pulled]) expect(alone.play.in("um")).toBeLessThan(5);
    const found = liftUnderPull({ free, pulled, weight });
    expect(Math.abs(found.lift.in("um") - 18)).toBeLessThan(1);
    expect(found.liftIsTold).toBe(true);
    expect(found.toString()).toContain("higher than as it hangs: play, and the spring of the drive with it");
  });

  it("has the spring of the drive in it", () => {
    const found = liftUnderPull(ladders({ ...head, spring: 1 / 300 }, 900));
    expect(Math.abs(found.lift.in("um") - 21)).toBeLessThan(0.6);
  });

  it("is found on the way down also where friction keeps the head low on the way up", () => {
    const found = liftUnderPull(ladders({ ...head, friction: 300 }, 900));
    expect(Math.abs(found.lift.in("um") - 18)).toBeLessThan(0.6);
    expect(found.liftOnTheWayUp.in("um")).toBeLessThan(1);
    expect(found.notes.join()).toContain("friction in the ways held the axis down");
  });

  it("of an axis without play cannot be told from nothing", () => {
    expect(liftUnderPull(ladders({ ...head, play: 0 }, 900)).liftIsTold).toBe(false);
  });

  it("holds the planted lift, 28 times in 30 at least, the gauge's error drawn within its limits", () => {
    const { uniform } = randomStream(20261128);
    let held = 0;
    for (let seed = 1; seed <= 30; seed++) {
      const play = 16 + 4 * uniform();
      const error = 4 * uniform() - 2;
      const found = liftUnderPull(ladders({ ...head, play }, 900, { noise: 0.8, seed }));
      const [low, high] = found.lift.interval().map((end) => end.in("um") + error);
      if (low! <= play && play <= high!) held++;
    }
    expect(held).toBeGreaterThanOrEqual(28);
  });

  it("says that the gauge was moved where it does not come back, and widens its doubt by that", () => {
    const still = liftUnderPull(ladders(head, 900));
    const moved = liftUnderPull(ladders(head, 900, { shift: 8 }));
    expect(moved.notes.join()).toContain("once the pull was let go the gauge read 8 µm off");
    expect(moved.lift.standardUncertainty.si).toBeGreaterThan(1.5 * still.lift.standardUncertainty.si);
  });

  it("of the demonstration holds the planted one", () => {
    const truth = JSON.parse(readFileSync("data/truth.json", "utf8")).axis.ladderZ;
    const free = readSmallMoves("data/ladder-z-free.csv");
    const pulled = readSmallMoves("data/ladder-z-pulled.csv");
    const [low, high] = liftUnderPull({ free, pulled, weight: newton(truth.weightN) }).lift.interval();
    expect(low.in("um")).toBeLessThan(truth.liftUm);
    expect(high.in("um")).toBeGreaterThan(truth.liftUm);
  });
});

describe("is refused", () => {
  const head = { play: 18, weight: 690, friction: 110 };
  const given = ladders(head, 900);
  const ask = (change: object) => refusal(() => liftUnderPull({ ...given, ...change })).message;
  const again = (more: Partial<SmallMovesOptions>) =>
    smallMoves({
      axis: "Z",
      name: "another",
      commanded: commands.map((c) => um(c)),
      readings: commands.map((c) => um(c)),
      gauge: given.free.gauge,
      ...more,
    });

  it("a pull that does not carry the weight", () => {
    expect(ask({ weight: newton(950) })).toBe(
      "liftUnderPull: a pull of 900 N does not carry 950 N: the axis stays on the flank that gravity holds it on, and the play is not tested; pull by more than the weight and the friction of the ways",
    );
  });
  it("a ladder without its pull, or without its reading after it", () => {
    expect(ask({ pulled: again({}) })).toBe(
      'liftUnderPull: another does not say how strong the pull was; write "# pull: upward, 900 N" on its sheet',
    );
    expect(ask({ pulled: again({ pull: newton(900) }) })).toBe(
      'liftUnderPull: another does not say what the gauge read once the pull was let go; without that a gauge that was moved passes for play: read it at the last rung and write "# reading after release: 1 µm"',
    );
  });
  it("two ladders under a pull, and two that are not alike", () => {
    expect(ask({ free: given.pulled })).toBe(
      "liftUnderPull: pulled was taken under a pull of 900 N; give the free one first",
    );
    expect(ask({ pulled: again({ axis: "Y", pull: newton(900), released: um(0) }) })).toBe(
      "liftUnderPull: as it hangs and another are not alike; take both with the same axis, the same gauge and the same commands",
    );
  });
  it("a weight that is none", () => {
    expect(ask({ weight: newton(0) })).toBe(
      "liftUnderPull: the weight is 0 N; give what hangs on the screw, such as newton(690)",
    );
  });
  it("a way down that ends before the play is taken up", () => {
    const short = [0, 10, 20, 30, 25, 20, 15].map((c) => um(c));
    const dial = given.free.gauge;
    const made = (more: object) => smallMoves({ axis: "Z", commanded: short, readings: short, gauge: dial, ...more });
    const readings = [0, 10, 20, 30, 30, 30, 30].map((c) => um(c));
    const free = made({});
    const pulled = made({ readings, pull: newton(900), released: um(15) });
    expect(refusal(() => liftUnderPull({ free, pulled, weight: newton(690) })).message).toBe(
      "liftUnderPull: 0 rungs of the way down lie beyond the play of the ladders; three are needed at least, go farther down in both",
    );
  });
});
