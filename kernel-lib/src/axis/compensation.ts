import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, mm, um } from "../quantity/index.js";
import { printDecimals } from "../quantity/print.js";
import { input, Measured } from "../uncertainty/index.js";
import { corrected, pitchDoubt, type Table, tableOf } from "./pitch-table.js";
import { type Positioning, positioning } from "./positioning.js";
import type { PositioningTest } from "./positioning-test.js";

export interface CompensationOptions {
  /** the control takes corrections in steps of this; 1 µm unless said otherwise */
  readonly granularity?: Length;
}

/** One row of the pitch table. */
export interface PitchCorrection {
  readonly target: Length;
  /** what the control adds at this target, both directions alike */
  readonly correction: Length;
  readonly standardUncertainty: Length;
}

/** What a lost motion set in the control does to the axis. */
export interface SetReversal {
  /** part of the lost motion found: 1 is the value to set */
  readonly share: number;
  readonly set: Length;
  readonly meanReversal: Length;
  readonly accuracy: Length;
  readonly systematic: Length;
}

/** What to set in the control, and what the axis should look like afterwards. */
export class Compensation {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** lost motion to set, positive, rounded to the granularity; zero on a vertical axis, whose play the weight closes */
  readonly reversalValue: Measured<"length">;
  readonly pitch: readonly PitchCorrection[];
  /** the same readings with both corrections: flatters, as the table was made from them */
  readonly after: Positioning;
  /** runs that the table was not made from, corrected by a table of the others; missing for fewer than four runs */
  readonly afterOnOtherRuns: Positioning | undefined;
  /** the lost motion set to nothing, half, whole, half as much again and twice; none on a vertical axis */
  readonly settings: readonly SetReversal[];
  readonly notes: readonly string[];

  /** @internal made by `compensation` */
  constructor(
    readonly before: Positioning,
    private readonly stepUm: number,
  ) {
    const table = tableOf(before, stepUm);
    const { test } = before;
    const rounding = input.rectangular({
      label: "rounding of the control",
      estimate: um(0),
      halfWidth: um(stepUm / 2),
      source: "half the step that the control takes",
    });
    this.reversalValue = test.vertical
      ? Measured.of(um(0), [])
      : Measured.of(um(table.reversalUm), [...before.lostMotion.terms, { input: rounding, sensitivity: 1 }]);
    this.pitch = test.targetsMm.map((target, i) => ({
      target: mm(target),
      correction: um(table.pitchUm[i]!),
      standardUncertainty: um(pitchDoubt(before, i, stepUm)),
    }));
    this.after = positioning(corrected(test, table, () => true));
    this.afterOnOtherRuns = heldOut(test, stepUm);
    this.settings = test.vertical ? [] : [0, 0.5, 1, 1.5, 2].map((share) => settingOf(test, table, share));
    this.notes = [
      "the corrections hold for the way of approach, the place across the travel and the warmth of the test; set them, then run the test again",
      test.runs < 4
        ? "fewer than four runs: the axis afterwards is judged by the readings that made the table, which flatters"
        : "",
      test.vertical
        ? `gravity holds this axis on one flank: what it loses as it hangs, ${before.lostMotion}, is wind-up and friction and not set; told of a lost motion the control would drive it too far at each turn of direction`
        : "",
    ].filter((line) => line !== "");
    Object.freeze(this);
  }

  /** The table as text: lines `# …`, then target and correction; no control's own format. */
  toCsv(): string {
    const { test } = this.before;
    return [
      `# title: pitch table of ${test.axis}, from ${test.name.replace(/\s+/g, " ")}`,
      `# axis: ${test.axis}`,
      `# lost motion: ${printPlain(this.reversalValue.in("um"))} um`,
      `# granularity: ${printPlain(this.stepUm)} um`,
      "# correction = what is added to the command at the target",
      "target/mm,correction/um",
      ...this.pitch.map(({ target, correction }) => `${target.in("mm")},${printPlain(correction.in("um"))}`),
      "",
    ].join("\n");
  }

  toString(): string {
    const { before, after, afterOnOtherRuns } = this;
    const one = (length: Length) => `${printDecimals(length.in("um"), 1)} µm`;
    const held = afterOnOtherRuns
      ? `, ${one(afterOnOtherRuns.accuracy.value)} on runs that the table was not made from`
      : "";
    const reversal = before.test.vertical ? "no lost motion" : `a lost motion of ${this.reversalValue}`;
    return `${before.test.name}: set ${reversal} and ${this.pitch.length} pitch corrections; A ${one(before.accuracy.value)} before, ${one(after.accuracy.value)} after by the same readings${held}; a perfect axis would be given ${one(before.gaugeAlone.accuracy)}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Compensation of an axis: lost motion and pitch table, each with its uncertainty, and the axis predicted afterwards.
 *
 * The lost motion is the mean of all reversals, never the greatest; the table is the mean of both directions with its sign
 * turned round, from the first target on. Too much of a lost motion is as bad as none: `settings` shows it. A vertical axis gets none:
 * its weight closes the play.
 *
 * @throws MeasurementError `granularity`
 * @example
 * const readings = [1, 2, 3, 4].flatMap((run) => [
 *   ...[0, 40, 80].map((at) => ({ target: mm(at), direction: "up", run, deviation: um(at / 20) })),
 *   ...[80, 40, 0].map((at) => ({ target: mm(at), direction: "down", run, deviation: um(at / 20 + 9) })),
 * ]);
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
 * const test = axis.positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "blocks" } });
 * axis.compensation(axis.positioning(test)).pitch.map(({ correction }) => correction.in("um")).join() // => "0,-2,-4"
 */
export function compensation(found: Positioning, options: CompensationOptions = {}): Compensation {
  const stepUm = (options.granularity ?? um(1)).in("um");
  if (stepUm > 0) return new Compensation(found, stepUm);
  throw new MeasurementError(
    "granularity",
    `compensation: granularity ${options.granularity}; give the smallest correction that the control takes, such as um(1)`,
  );
}

/** a table of every other run, tried on the runs between */
function heldOut(test: PositioningTest, stepUm: number): Positioning | undefined {
  const runs = [...new Set(test.readings.map(({ run }) => run))];
  if (runs.length < 4) return undefined;
  const made = new Set(runs.filter((_, i) => i % 2 === 0));
  const none: Table = { reversalUm: 0, pitchUm: test.targetsMm.map(() => 0), targetsMm: test.targetsMm };
  const table = tableOf(positioning(corrected(test, none, (run) => made.has(run))), stepUm);
  return positioning(corrected(test, table, (run) => !made.has(run)));
}

function settingOf(test: PositioningTest, table: Table, share: number): SetReversal {
  const { figures } = positioning(corrected(test, table, () => true, share));
  return {
    share,
    set: um(share * table.reversalUm),
    meanReversal: um(figures.meanReversal),
    accuracy: um(figures.accuracy),
    systematic: um(figures.systematic),
  };
}

function printPlain(value: number): string {
  return String(Number(value.toFixed(3)));
}
