import { display, type Length, type MimeBundle, mm, type Time, um } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import type { Gauge } from "../survey/index.js";
import { durationText } from "../survey/plan.js";
import { type ReadingScatter, readingScatter } from "./gauge-alone.js";
import { type LengthReference, referenceInputs, unsaidOf } from "./length-reference.js";
import { type PositioningPlanOptions, readPlanOptions } from "./positioning-plan-options.js";
import { positioningPlanSheet } from "./positioning-plan-sheet.js";
import type { AxisName } from "./positioning-test.js";
import { type PerfectAxis, perfectAxis } from "./simulated-tests.js";

/** One target of a plan. */
export interface PlannedTarget {
  readonly target: Length;
  /** what is put together there; empty without blocks and at the stop itself */
  readonly blocks: readonly Length[];
}

/** One reading of a plan, in its order. */
export interface PlannedPosition {
  readonly order: number;
  readonly run: number;
  readonly direction: "up" | "down";
  /** number of the target, from 0 */
  readonly target: number;
}

/** What a test after this plan can be expected to tell. */
export interface ExpectedOfTest {
  /** U of the lost motion, k = 2, drift not in it: a play below it cannot be told from nothing */
  readonly lostMotion: Length;
  /** U of the pitch over the whole span of the targets, k = 2 */
  readonly overSpan: Length;
  readonly scatter: ReadingScatter;
}

/** A positioning test planned before it is taken: targets, cycles, time, what it can tell. */
export class PositioningPlan {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly axis: AxisName;
  readonly title: string;
  readonly vertical: boolean;
  readonly gauge: Gauge;
  readonly reference: LengthReference;
  readonly targets: readonly PlannedTarget[];
  /** random offsets reach so far to both sides of the even places */
  readonly offset: Length;
  readonly cycles: number;
  readonly readings: readonly PlannedPosition[];
  /** how far the axis goes beyond the outermost targets before it turns */
  readonly overTravel: Length;
  readonly dwell: Time;
  readonly time: Time;
  /** periods that these targets cannot tell, and why */
  readonly aliased: readonly string[];
  /** what the column to fill in holds */
  readonly reads: "deviation" | "position";
  readonly notes: readonly string[];
  readonly seed: number;

  /** @internal made by `positioningPlan` */
  constructor(options: PositioningPlanOptions) {
    const read = readPlanOptions(options);
    this.axis = options.axis;
    this.title = options.title ?? `positioning of ${options.axis}`;
    this.vertical = options.vertical ?? options.axis === "Z";
    this.gauge = options.gauge;
    this.reference = options.reference;
    this.targets = read.drawn.targets.map(({ atMm, stack }) => ({
      target: mm(atMm),
      blocks: (stack?.blocksMm ?? []).map((block) => mm(block)),
    }));
    this.offset = mm(read.drawn.offsetMm);
    this.cycles = read.cycles;
    this.readings = orderOf(this.targets.length, read.cycles);
    this.overTravel = mm(read.overTravelMm);
    this.dwell = read.dwell;
    const path = 2 * (this.span.in("mm") + 2 * read.overTravelMm) * read.cycles;
    this.time = read.dwell.plus(read.timePerReading).times(this.readings.length).plus(read.timeOfPath(path));
    this.aliased = read.drawn.aliased;
    this.reads = options.reads ?? "deviation";
    this.seed = options.seed ?? 1;
    this.notes = notesOf(this, read.periods.length);
    Object.freeze(this);
  }

  /** From the first target to the last. */
  get span(): Length {
    return this.targets.at(-1)!.target.minus(this.targets[0]!.target);
  }

  /** What a test after this plan can be expected to tell. */
  get expected(): ExpectedOfTest {
    return expectedOf(this);
  }

  /** What a perfect axis would be given; simulated when it is read. */
  get gaugeAlone(): PerfectAxis {
    const { standardDeviation, step } = readingScatter(this.gauge);
    return perfectAxis({ targets: this.targets.length, runs: this.cycles, standardDeviation, step, seed: this.seed });
  }

  /** Whether blocks carry the lengths. */
  get usesBlocks(): boolean {
    return this.targets.some(({ blocks }) => blocks.length > 0);
  }

  /** The open sheet to fill in, reading by reading; filled in, `axis.readPositioning` reads it. */
  toCsv(): string {
    return positioningPlanSheet(this);
  }

  toString(): string {
    const { targets, cycles, readings, expected } = this;
    const perMetre = targets.length / this.span.in("m");
    return `${this.title}: ${targets.length} targets (${printNumber(perMetre, 2)} a metre) from ${place(targets[0]!.target)} to ${place(targets.at(-1)!.target)}, ${cycles} runs each way, ${readings.length} readings, about ${durationText(this.time)}; U of the lost motion about ${printNumber(expected.lostMotion.in("um"), 2)} µm, of the pitch ${printNumber(expected.overSpan.in("um"), 2)} µm over the span`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A positioning test planned before it is taken: at least five targets and five a metre, at even places with random offsets
 * (seeded) so that no turn of screw, motor or mesh stays unseen; five runs up and down; travel beyond the ends, dwell and time.
 * With blocks the targets are what blocks give, counted from a stop at the first target, none a whole number of turns.
 *
 * `toCsv()` gives the sheet to fill in, `blankSheet` the paper one.
 *
 * @throws MeasurementError `positioning-plan`, `blocks`, `period`, `reference`
 * @see ISO 230-2:2014 (targets with random offsets, five a metre, five runs; from memory)
 * @example
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
 * const test = { axis: "X", travel: [mm(0), mm(500)], lead: mm(5), gauge: dial, reference: { name: "glass scale" } };
 * axis.positioningPlan(test).readings.length // => 70
 */
export function positioningPlan(options: PositioningPlanOptions): PositioningPlan {
  return new PositioningPlan(options);
}

/** up through the targets and down again, run after run */
function orderOf(count: number, cycles: number): readonly PlannedPosition[] {
  const up = Array.from({ length: count }, (_, i) => i);
  const cycle = [
    ...up.map((target) => ({ direction: "up" as const, target })),
    ...up.toReversed().map((target) => ({ direction: "down" as const, target })),
  ];
  return Array.from({ length: cycles }, (_, i) => i + 1)
    .flatMap((run) => cycle.map((reading) => ({ run, ...reading })))
    .map((reading, i) => ({ order: i + 1, ...reading }));
}

function expectedOf({ targets, cycles, gauge, reference, span }: PositioningPlan): ExpectedOfTest {
  const scatter = readingScatter(gauge);
  const s = scatter.standardDeviation.in("um");
  const error = gauge.maximumPermissibleError.in("um") / Math.sqrt(3);
  const hysteresis = (gauge.hysteresis?.in("um") ?? 0) / Math.sqrt(3);
  const all = 2 * cycles * targets.length;
  const places = targets.map(({ target }) => target.in("m"));
  const middle = places.reduce((a, b) => a + b, 0) / places.length;
  const squares = 2 * cycles * places.reduce((sum, x) => sum + (x - middle) ** 2, 0);
  const metres = span.in("m");
  const scale = Math.hypot(...referenceInputs(reference).map(({ uncertaintySi }) => uncertaintySi * 1e6));
  return {
    lostMotion: um(2 * Math.hypot((2 * s) / Math.sqrt(all), error, hysteresis)),
    overSpan: um(2 * metres * Math.hypot(s / Math.sqrt(squares), error / metres, scale)),
    scatter,
  };
}

function notesOf(plan: PositioningPlan, periods: number): readonly string[] {
  const { aliased, cycles, span, vertical, reference, overTravel } = plan;
  return [
    ...aliased,
    periods === 0 ? "no lead is given: the targets may stand whole turns of the screw apart, give the lead" : "",
    cycles < 5 ? `${cycles} runs each way, where the standard asks for 5` : "",
    span.in("m") > 2 ? "a travel above 2 m, for which the standard has another test cycle" : "",
    `go ${place(overTravel)} beyond the outermost targets before each turn: it must be more than the play, or the approach is not what the sheet says`,
    plan.usesBlocks
      ? "lengths are counted from a stop at the first target; write what the certificate says each stack is longer in the column reference"
      : "",
    vertical
      ? "gravity holds this axis on one flank: its play stays hidden in this test; take a ladder of small moves free and under a known upward pull as well"
      : "",
    ...unsaidOf(reference),
  ].filter((line) => line !== "");
}

function place(length: Length): string {
  return `${printNumber(length.in("mm"))} mm`;
}
