import { MeasurementError } from "../measurement-error.js";
import { meanAndDeviation } from "../numerics/index.js";
import { display, type Length, type MimeBundle, Quantity, um } from "../quantity/index.js";
import { printDecimals, printNumber } from "../quantity/print.js";
import { stepOf } from "../survey/index.js";
import { Input, input, Measured, type Term } from "../uncertainty/index.js";
import { counted } from "../words.js";
import type { SmallMoves } from "./small-moves.js";

export interface LiftUnderPullOptions {
  /** the ladder of the axis as it hangs */
  readonly free: SmallMoves;
  /** the same commands under a steady upward pull, the gauge not zeroed in between */
  readonly pulled: SmallMoves;
  /** what hangs on the screw: the head with motor and spindle */
  readonly weight: Quantity<"force">;
}

/** How much higher a vertical axis stands under a known upward pull: its play, with the spring of the drive in it. */
export class LiftUnderPull {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly free: SmallMoves;
  readonly pulled: SmallMoves;
  readonly pull: Quantity<"force">;
  readonly weight: Quantity<"force">;
  /** on the way down, where the upper flank holds the nut: play, and what the drive gives under the pull */
  readonly lift: Measured<"length">;
  /** mean on the way up, without its uncertainty: less than on the way down where friction holds the axis */
  readonly liftOnTheWayUp: Length;
  /** whether a lift of nothing is ruled out */
  readonly liftIsTold: boolean;
  readonly notes: readonly string[];

  /** @internal made by `liftUnderPull` */
  constructor({ free, pulled, weight }: LiftUnderPullOptions, pull: Quantity<"force">, zeroShiftUm: number) {
    this.free = free;
    this.pulled = pulled;
    this.pull = pull;
    this.weight = weight;
    const { up, down } = differences(free, pulled);
    if (down.length < 3) {
      refuse(
        `${counted(down.length, "rung of the way down lies", "rungs of the way down lie")} beyond the play of the ladders; three are needed at least, go farther down in both`,
      );
    }
    this.lift = Measured.of(um(meanAndDeviation(down).mean), liftTerms(free, down, zeroShiftUm));
    this.liftOnTheWayUp = um(meanAndDeviation(up).mean);
    this.liftIsTold = this.lift.interval()[0].si > 0;
    this.notes = notesOf(this, zeroShiftUm);
    Object.freeze(this);
  }

  toString(): string {
    const { free, pulled, pull, lift } = this;
    const one = ({ play }: SmallMoves) => `${printDecimals(play.in("um"), 1)} µm`;
    const told = this.liftIsTold ? "" : "; with this gauge it cannot be told from nothing";
    return `${free.axis} pulled up by ${pull} stands ${lift} higher than as it hangs: play, and the spring of the drive with it${told}; each ladder alone would have said ${one(free)} free and ${one(pulled)} under the pull`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Lift of a vertical axis under a known upward pull, from two ladders of small moves: one as it hangs, one under the pull.
 *
 * The weight holds the nut on one flank of the screw, a pull above the weight on the other: each ladder alone shows wind-up and
 * sticking and hides the play. The play is how much higher the second one reads at the same commands, taken on the way down, where
 * the upper flank holds the nut also if friction kept the axis down on the way up. The gauge must not be zeroed in between: what it
 * reads once the pull is let go says whether it was moved, and enters as a limit. Both readings come from the same side, so that
 * the hysteresis of the gauge drops out; its maximum permissible error on a difference does not.
 *
 * @throws MeasurementError `lift` for a ladder without its pull or its reading after it, for a pull that does not carry the
 *   weight, and for two ladders that are not alike
 * @example
 * const rungs = [0, 10, 20, 30, 20, 10, 0].map((at) => um(at));
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
 * const hangs = axis.smallMoves({ axis: "Z", commanded: rungs, readings: rungs, gauge: dial });
 * const held = { pull: newton(900), released: um(0), readings: rungs.map((at) => at.plus(um(18))) };
 * const pulled = axis.smallMoves({ axis: "Z", commanded: rungs, gauge: dial, ...held });
 * `${axis.liftUnderPull({ free: hangs, pulled, weight: newton(690) }).lift}` // => "18.0 µm ± 2.5 µm (k = 2.0)"
 */
export function liftUnderPull(options: LiftUnderPullOptions): LiftUnderPull {
  const { free, pulled, weight } = options;
  const { pull, released } = pulled;
  if (!(weight instanceof Quantity && weight.kind === "force" && weight.si > 0)) {
    refuse(`the weight is ${String(weight)}; give what hangs on the screw, such as newton(690)`);
  }
  if (free.pull !== undefined) refuse(`${free.name} was taken under a pull of ${free.pull}; give the free one first`);
  if (pull === undefined) {
    refuse(`${pulled.name} does not say how strong the pull was; write "# pull: upward, 900 N" on its sheet`);
  }
  if (!(pull.si > weight.si)) {
    refuse(
      `a pull of ${pull} does not carry ${weight}: the axis stays on the flank that gravity holds it on, and the play is not tested; pull by more than the weight and the friction of the ways`,
    );
  }
  if (released === undefined) {
    refuse(
      `${pulled.name} does not say what the gauge read once the pull was let go; without that a gauge that was moved passes for play: read it at the last rung and write "# reading after release: 1 µm"`,
    );
  }
  const asked = free.plain.commandedUm;
  const alike =
    asked.length === pulled.plain.commandedUm.length &&
    asked.every((at, i) => Math.abs(at - pulled.plain.commandedUm[i]!) < 1e-6);
  if (free.axis !== pulled.axis || free.gauge.name !== pulled.gauge.name || !alike) {
    refuse(
      `${free.name} and ${pulled.name} are not alike; take both with the same axis, the same gauge and the same commands`,
    );
  }
  return new LiftUnderPull(options, pull, released.in("um") - free.plain.readingsUm.at(-1)!);
}

/** pulled less free, rung by rung: on the way up, and on the way down beyond what play either ladder may have */
function differences(free: SmallMoves, pulled: SmallMoves) {
  const { commandedUm, readingsUm } = free.plain;
  const top = commandedUm.indexOf(Math.max(...commandedUm));
  const taken = Math.max(free.playWithin[1].in("um"), pulled.playWithin[1].in("um"));
  const at = (i: number) => pulled.plain.readingsUm[i]! - readingsUm[i]!;
  const rungs = commandedUm.map((_, i) => i);
  return {
    up: rungs.filter((i) => i <= top).map(at),
    down: rungs.filter((i) => i > top && commandedUm[top]! - commandedUm[i]! > taken).map(at),
  };
}

function liftTerms(free: SmallMoves, down: readonly number[], zeroShiftUm: number): Term[] {
  const { name, maximumPermissibleError } = free.gauge;
  const step = stepOf(free.gauge).in("um");
  const { deviation } = meanAndDeviation(down);
  // below half a step more rungs do not average the rounding out: a difference keeps that of both readings
  const scatter = deviation < step / 2 ? step / Math.sqrt(6) : deviation / Math.sqrt(down.length);
  const zero = Math.max(Math.abs(zeroShiftUm), step / 2);
  const made = [
    new Input({
      label: "scatter of the rungs",
      estimate: um(0),
      standardUncertainty: um(scatter),
      distribution: "t",
      evaluation: "A",
      degreesOfFreedom: down.length - 1,
      source: `${down.length} rungs of the way down, pulled less free`,
    }),
    input.rectangular({
      label: "zero, before and after the pull",
      estimate: um(0),
      halfWidth: um(zero),
      source: "the reading once the pull was let go, against that of the free ladder",
    }),
    input.rectangular({
      label: `${name}, maximum permissible error`,
      estimate: um(0),
      halfWidth: maximumPermissibleError,
      source: "over the range used, on a difference of two readings",
    }),
  ];
  return made.map((one) => ({ input: one, sensitivity: 1 }));
}

function notesOf({ lift, liftOnTheWayUp, pull, weight }: LiftUnderPull, zeroShiftUm: number): readonly string[] {
  const less = lift.in("um") - liftOnTheWayUp.in("um");
  const shift = printNumber(Math.abs(zeroShiftUm), 2);
  return [
    `the weight of ${weight} is carried by the pull of ${pull}, and the nut lies on the other flank; a second pull, stronger still, would tell the spring of the drive from the play`,
    less > 2 * lift.standardUncertainty.in("um")
      ? `on the way up the lift is ${printNumber(less, 2)} µm less: friction in the ways held the axis down`
      : "",
    Math.abs(zeroShiftUm) > lift.in("um") / 4
      ? `once the pull was let go the gauge read ${shift} µm off: it was moved, or the axis hangs in its ways; clamp it anew and take both ladders again`
      : "",
  ].filter((line) => line !== "");
}

function refuse(sentence: string): never {
  throw new MeasurementError("lift", `liftUnderPull: ${sentence}`);
}
