import { MeasurementError } from "../measurement-error.js";
import { median } from "../numerics/index.js";
import { display, type Length, type MimeBundle, Quantity, um } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { type Gauge, heightFactor, type SheetFile, stepOf } from "../survey/index.js";
import { input, Measured, type Term } from "../uncertainty/index.js";
import { counted } from "../words.js";
import {
  followingMoves,
  type LostMove,
  oddMoves,
  type PlainLadder,
  slopeOfFollowing,
  smallestSeen,
} from "./following-moves.js";
import { type PlayPosterior, placesWithPlay, playPosterior } from "./play-likelihood.js";
import type { AxisName } from "./positioning-test.js";

export interface SmallMovesOptions {
  readonly axis: AxisName;
  /** places asked for, in their order: up first, the play taken up before, then down again */
  readonly commanded: readonly Length[];
  /** what the gauge showed at each, as many */
  readonly readings: readonly Length[];
  readonly gauge: Gauge;
  readonly name?: string;
  /** whether gravity acts along the axis; Z unless said otherwise */
  readonly vertical?: boolean;
  /** whether a known pull took the axis off the flank that gravity holds it on; so it is where `pull` is given */
  readonly underPull?: boolean;
  /** the upward pull that was kept while the ladder was taken */
  readonly pull?: Quantity<"force"> | undefined;
  /** what the gauge read at the last rung once the pull was let go */
  readonly released?: Length | undefined;
  /** the file that the readings came from */
  readonly file?: SheetFile | undefined;
}

/** A ladder of small moves up and down: play, moves that did nothing, the region where the axis follows. */
export class SmallMoves {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly name: string;
  readonly axis: AxisName;
  readonly gauge: Gauge;
  readonly play: Measured<"length">;
  /** 95 % of what the readings say, the gauge's own error not in it */
  readonly playWithin: readonly [Length, Length];
  /** false where a play of zero cannot be ruled out */
  readonly playIsTold: boolean;
  /** the smallest command after which the gauge always saw a move of half of it at least; missing where none did */
  readonly smallestMoveSeen: Length | undefined;
  /** moves of the region where the axis follows that did not arrive to half; empty where the scatter hides them */
  readonly lost: readonly LostMove[];
  /** moves of that region that went more than half too far: after lost ones a sign of stick and slip */
  readonly jumps: readonly LostMove[];
  /** reading over command where the axis follows; 1 for a true gauge and drive */
  readonly slopeOfFollowing: Measured<"number">;
  readonly notes: readonly string[];
  readonly file: SheetFile | undefined;
  /** the upward pull that was kept; missing for a ladder of the axis as it hangs */
  readonly pull: Quantity<"force"> | undefined;
  /** what the gauge read at the last rung once the pull was let go, its sense in it */
  readonly released: Length | undefined;
  /** @internal µm */
  readonly plain: PlainLadder;
  /** @internal the readings scatter so that moves that did nothing can't be told */
  readonly hidden: boolean;

  /** @internal made by `smallMoves` */
  constructor(options: SmallMovesOptions) {
    const { axis, gauge } = options;
    const factor = heightFactor(gauge);
    const commandedUm = options.commanded.map((at) => at.in("um"));
    const readingsUm = options.readings.map((reading) => reading.in("um") * factor);
    const stepUm = stepOf(gauge).in("um") * Math.abs(factor);
    const found = playPosterior({ commandedUm, readingsUm, stepUm });
    this.name = options.name ?? `small moves of ${axis}`;
    this.axis = axis;
    this.gauge = gauge;
    this.file = options.file;
    this.pull = options.pull;
    this.released = options.released?.times(factor);
    this.play = Measured.of(um(found.meanUm), playTerms(gauge, found));
    this.playWithin = [um(found.interval[0]), um(found.interval[1])];
    this.playIsTold = this.play.interval()[0].si > 0 && found.interval[0] > 0;
    const modelUm = placesWithPlay(commandedUm, found.meanUm).map((place) => place + found.offsetUm);
    this.plain = { commandedUm, readingsUm, modelUm };
    const following = followingMoves(commandedUm, modelUm);
    // of one reading about the model, without being carried away by the few moves that are looked for
    const usual = 1.4826 * median(readingsUm.map((reading, i) => Math.abs(reading - modelUm[i]!)));
    const scatter = Math.SQRT2 * Math.max(usual, stepUm / Math.sqrt(12));
    const odd = oddMoves(this.plain, following, scatter);
    this.lost = odd.lost;
    this.jumps = odd.jumps;
    this.smallestMoveSeen = smallestSeen(this.plain, following);
    this.slopeOfFollowing = slopeOfFollowing(this.plain, found.meanUm);
    const vertical = options.vertical ?? axis === "Z";
    const isHeld = options.underPull ?? options.pull !== undefined;
    const gravity = vertical ? (isHeld ? notesOfGravity.pulled : notesOfGravity.free) : "";
    this.hidden = odd.hidden;
    this.notes = notesOf(this, { found, stepUm, hidden: odd.hidden, gravity });
    Object.freeze(this);
  }

  toString(): string {
    const [low, high] = this.playWithin.map((end) => printNumber(end.in("um"), 3));
    const told = this.playIsTold ? "" : "; with this gauge it cannot be told from nothing";
    const seen = this.smallestMoveSeen ? this.smallestMoveSeen.text("um") : "none";
    const nothing = this.smallestMoveSeen && !this.hidden ? `; ${doneNothing(this.lost.length)}` : "";
    return `${this.name}: play ${this.play}, from ${low} µm to ${high} µm by the readings alone${told}; smallest move seen ${seen}${nothing}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A ladder of small moves, up and then down again, read at each rung.
 *
 * The play comes from the likelihood of readings that are rounded to a step: its uncertainty is that of the steps where the
 * gauge is coarse, and that of the scatter where it is fine. To it are added the gauge's maximum permissible error on the
 * difference of the two directions, and its hysteresis.
 *
 * @throws MeasurementError `small-moves` for fewer than three moves each way, or another course than up and down again
 * @example
 * const rungs = [0, 5, 10, 15, 20, 25, 20, 15, 10, 5, 0];
 * const readings = [0, 5, 10, 15, 20, 25, 25, 25, 20, 15, 10].map((z) => um(z));
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
 * axis.smallMoves({ axis: "X", commanded: rungs.map((c) => um(c)), readings, gauge: dial }).play.in("um").toFixed(0) // => "10"
 */
export function smallMoves(options: SmallMovesOptions): SmallMoves {
  const { commanded, readings } = options;
  if (commanded.length !== readings.length) {
    refuse(`${counted(readings.length, "reading")} for ${counted(commanded.length, "command")}; give one a command`);
  }
  for (const [i, given] of [...commanded, ...readings].entries()) {
    if (given instanceof Quantity && given.kind === "length") continue;
    refuse(`number ${(i % commanded.length) + 1} holds ${String(given)}; give lengths such as um(5)`);
  }
  const top = commanded.reduce((at, place, i) => (place.si > commanded[at]!.si ? i : at), 0);
  const rises = commanded.every((place, i) => i === 0 || place.si > commanded[i - 1]!.si === i <= top);
  if (!rises || top < 3 || commanded.length - 1 - top < 3) {
    refuse(
      `the commands rise ${counted(top, "time")} and then fall; go up by three moves at least, each higher than the last, and down again by three`,
    );
  }
  return new SmallMoves(options);
}

function playTerms({ name, maximumPermissibleError, hysteresis }: Gauge, { deviationUm }: PlayPosterior): Term[] {
  const source = "likelihood of the readings, rounded to the step of the gauge";
  const made = [
    input.normal({ label: "readings of the ladder", estimate: um(0), standardUncertainty: um(deviationUm), source }),
    input.rectangular({
      label: `${name}, maximum permissible error`,
      estimate: um(0),
      halfWidth: maximumPermissibleError,
      source: "over the range used, on the difference of the two directions",
    }),
    ...(hysteresis && hysteresis.si > 0
      ? [
          input.rectangular({
            label: `${name}, hysteresis`,
            estimate: um(0),
            halfWidth: hysteresis,
            source: "the two directions push the plunger opposite ways",
          }),
        ]
      : []),
  ];
  return made.map((one) => ({ input: one, sensitivity: 1 }));
}

/** what a ladder of a vertical axis can't say by itself */
const notesOfGravity = {
  free: "gravity holds this axis on one flank: the ladder shows wind-up and sticking; play under cutting load not tested (repeat with a known upward pull)",
  pulled:
    "a pull above the weight holds this axis on the other flank: this ladder alone may hide the play; hold it against the free one (liftUnderPull)",
} as const;

function notesOf(
  found: SmallMoves,
  given: { readonly found: PlayPosterior; readonly stepUm: number; readonly hidden: boolean; readonly gravity: string },
): readonly string[] {
  const { found: posterior, stepUm, hidden, gravity } = given;
  const { commandedUm, readingsUm } = found.plain;
  const top = commandedUm.indexOf(Math.max(...commandedUm));
  const first = commandedUm.findIndex(
    (_, i) => i > 0 && readingsUm[i]! - readingsUm[0]! > (commandedUm[i]! - commandedUm[0]!) / 2,
  );
  const unreached = commandedUm[top]! - commandedUm.at(-1)! < posterior.interval[1];
  return [
    `readings scatter by ${printNumber(posterior.scatterUm, 2)} µm beside their rounding to ${printNumber(stepUm)} µm`,
    hidden
      ? "moves that did nothing cannot be told: twice the scatter of a difference reaches half a move; take larger moves or a finer gauge"
      : "",
    first < 0 ? "no move up showed half of its way: look whether the gauge touches and the axis is free" : "",
    first > 1
      ? `${first === 2 ? "the first move" : `the first ${first - 1} moves`} up showed less than half of the way: take the play up by a move up before the first reading`
      : "",
    unreached ? "the way down is shorter than the play may be: go farther down" : "",
    found.lost.length > 0 && found.jumps.length > 0
      ? "moves that did nothing and others that went too far: the axis sticks and slips"
      : "",
    gravity,
  ].filter((line) => line !== "");
}

function refuse(sentence: string): never {
  throw new MeasurementError("small-moves", `smallMoves: ${sentence}`);
}

/** moves outside the play that were not followed, in words */
function doneNothing(count: number): string {
  if (count === 0) return "outside the play no move was seen to do nothing";
  return `outside the play ${count} ${count === 1 ? "move" : "moves"} did nothing`;
}
