import { MeasurementError } from "../measurement-error.js";
import {
  display,
  type Length,
  type MimeBundle,
  mm,
  Quantity,
  type Temperature,
  type Time,
  um,
} from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { type Gauge, heightFactor, type SheetFile } from "../survey/index.js";
import {
  type ArrangedReadings,
  arrangeReadings,
  needNoMissedTurn,
  type PlainReading,
  type Whereabouts,
} from "./arranged-readings.js";
import { type LengthReference, referenceInputs } from "./length-reference.js";

export type AxisName = "X" | "Y" | "Z";

/** One reading of a positioning test, in the order in which they were taken. */
export interface PositioningReading {
  readonly target: Length;
  /** the side of approach: "up" with the coordinate rising */
  readonly direction: "up" | "down";
  /** number of the run, from 1 */
  readonly run: number;
  /** actual − target */
  readonly deviation: Length;
  /** since the first reading */
  readonly time?: Time;
  readonly temperature?: Temperature;
}

export interface PositioningTestOptions {
  readonly axis: AxisName;
  readonly readings: readonly PositioningReading[];
  readonly gauge: Gauge;
  readonly reference: LengthReference;
  readonly name?: string;
  /** whether gravity acts along the axis; Z unless said otherwise */
  readonly vertical?: boolean;
  /** whether one deliberate move proved which way the deviation counts */
  readonly senseProven?: boolean;
  /** lines kept from the sheet */
  readonly notes?: readonly string[];
  /** the file that the readings came from */
  readonly file?: SheetFile | undefined;
}

/** The readings of a positioning test: every target, up and down, equally often. */
export class PositioningTest {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly name: string;
  readonly axis: AxisName;
  readonly vertical: boolean;
  readonly senseProven: boolean;
  readonly gauge: Gauge;
  readonly reference: LengthReference;
  readonly notes: readonly string[];
  readonly file: SheetFile | undefined;
  /** rising */
  readonly targetsMm: readonly number[];
  readonly runs: number;

  /** @internal made by `positioningTest` and the readers */
  constructor(
    options: Omit<PositioningTestOptions, "readings">,
    /** @internal in the order in which they were taken */
    readonly readings: readonly PlainReading[],
    private readonly arranged: ArrangedReadings,
  ) {
    this.name = options.name ?? `positioning of ${options.axis}`;
    this.axis = options.axis;
    this.vertical = options.vertical ?? options.axis === "Z";
    this.senseProven = options.senseProven ?? false;
    this.gauge = options.gauge;
    this.reference = options.reference;
    this.notes = options.notes ?? [];
    this.file = options.file;
    this.targetsMm = arranged.targetsMm;
    this.runs = arranged.runs.length;
    Object.freeze(this);
  }

  /** Length between the first target and the last. */
  get travel(): Length {
    return mm(this.targetsMm.at(-1)! - this.targetsMm[0]!);
  }

  /** Deviations at a target (from 0) in one direction, run after run. */
  deviations(target: number, direction: "up" | "down"): readonly Length[] {
    const cell = this.arranged.at[direction][target];
    if (cell === undefined) {
      throw new MeasurementError(
        "target",
        `deviations: there is no target ${target}; there are ${this.targetsMm.length}, counted from 0`,
      );
    }
    return cell.map((i) => um(this.readings[i]!.deviationUm));
  }

  /** @internal number of the target of each reading */
  targetNumbers(): number[] {
    const numbers = new Map(this.targetsMm.map((target, i) => [target, i]));
    return this.readings.map(({ targetMm }) => numbers.get(targetMm)!);
  }

  toString(): string {
    const ends = `${printNumber(this.targetsMm[0]!)} mm to ${printNumber(this.targetsMm.at(-1)!)} mm`;
    return `${this.name}: axis ${this.axis}, ${this.targetsMm.length} targets from ${ends}, ${this.runs} runs each way, against ${this.reference.name}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A positioning test from its readings, in the order in which they were taken: up through the targets, then down again.
 *
 * @throws MeasurementError `positioning-reading`, `one-direction`, `targets-out-of-order`, `unequal-runs`, `single-run`, `one-target`,
 *   `rolled-over` where a reading stands a whole turn of the pointer off the others (the gauge states its range per turn), `reference`
 * @see ISO 230-2:2014 (x_ij = actual − target)
 * @example
 * const readings = [1, 2].flatMap((run) => [
 *   ...[0, 40, 80].map((at) => ({ target: mm(at), direction: "up", run, deviation: um(at / 20) })),
 *   ...[80, 40, 0].map((at) => ({ target: mm(at), direction: "down", run, deviation: um(at / 20 + 9) })),
 * ]);
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
 * `${axis.positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "blocks" } })}` // => "positioning of X: axis X, 3 targets from 0 mm to 80 mm, 2 runs each way, against blocks"
 */
export function positioningTest(options: PositioningTestOptions): PositioningTest {
  const { readings, ...rest } = options;
  const name = options.name ?? `positioning of ${options.axis}`;
  return testOfReadings(
    rest,
    readings.map((reading, i) => plainOf(reading, `${name}, reading ${i + 1}`)),
    name,
    (i) => `${name}, reading ${i + 1}`,
  );
}

/** A test of plain readings, wherever they were read from. */
export function testOfReadings(
  options: Omit<PositioningTestOptions, "readings">,
  readings: readonly PlainReading[],
  name: string,
  where: Whereabouts,
): PositioningTest {
  referenceInputs(options.reference);
  const arranged = arrangeReadings(readings, name, where);
  const turn = options.gauge.rangePerTurn;
  if (turn) needNoMissedTurn(readings, arranged, turn.in("um") * Math.abs(heightFactor(options.gauge)), where);
  return new PositioningTest(options, readings, arranged);
}

function plainOf(reading: PositioningReading, where: string): PlainReading {
  const { target, deviation, direction, run, time, temperature } = reading;
  for (const [what, given] of [
    ["target", target],
    ["deviation", deviation],
  ] as const) {
    if (given instanceof Quantity && given.kind === "length") continue;
    refuse(where, `its ${what} is ${String(given)}; give a length such as ${what === "target" ? "mm(40)" : "um(3)"}`);
  }
  if (direction !== "up" && direction !== "down") {
    refuse(
      where,
      `its direction is ${JSON.stringify(direction)}; write "up" or "down", the side it was approached from`,
    );
  }
  if (!(Number.isInteger(run) && run >= 1)) refuse(where, `its run is ${run}; number the runs from 1`);
  return {
    targetMm: target.in("mm"),
    direction,
    run,
    deviationUm: deviation.in("um"),
    ...(time ? { minutes: time.in("min") } : {}),
    ...(temperature ? { celsius: temperature.in("degC") } : {}),
  };
}

function refuse(where: string, sentence: string): never {
  throw new MeasurementError("positioning-reading", `${where}: ${sentence}`);
}
