import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, Quantity } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { sizeText } from "../quantity/size-text.js";

export interface DriveTrainOptions {
  readonly name?: string;
  /** full steps of the motor in a turn: 200 for a step of 1.8° */
  readonly fullStepsPerTurn: number;
  /** commands in a full step; 1 unless said otherwise */
  readonly microsteps?: number;
  /** turns of the motor for one turn of the screw; 1 unless said otherwise */
  readonly motorTurnsPerScrewTurn?: number;
  /** travel in one turn of the screw */
  readonly lead: Length;
  /** the smallest move that a gauge has seen, from a ladder of small moves */
  readonly smallestMoveSeen?: Length;
}

/** One commanded place and what the drive can give. */
export interface CommandedPlace {
  readonly asked: Length;
  /** whole microsteps from zero */
  readonly steps: number;
  readonly given: Length;
  /** given − asked */
  readonly rounding: Length;
}

/** What a stepper, its ratio and its screw make of a command. */
export class DriveTrain {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly name: string;
  readonly lead: Length;
  readonly microsteps: number;
  /** travel of the axis for one full step of the motor */
  readonly fullStep: Length;
  /** travel for one microstep: the smallest command, not the smallest move */
  readonly microstep: Length;
  /** travel for one turn of the motor */
  readonly motorTurn: Length;
  /** commands per millimetre, as a control wants it */
  readonly stepsPerMm: number;
  /** part of the holding torque that one microstep asks for: friction above it swallows the step */
  readonly torqueOfMicrostep: number;
  readonly smallestMoveSeen: Length | undefined;

  /** @internal made by `driveTrain` */
  constructor(options: DriveTrainOptions) {
    const { fullStepsPerTurn, microsteps = 1, motorTurnsPerScrewTurn = 1, lead } = options;
    this.name = options.name ?? "drive";
    this.lead = lead;
    this.microsteps = microsteps;
    this.motorTurn = lead.over(motorTurnsPerScrewTurn);
    this.fullStep = this.motorTurn.over(fullStepsPerTurn);
    this.microstep = this.fullStep.over(microsteps);
    this.stepsPerMm = (fullStepsPerTurn * microsteps * motorTurnsPerScrewTurn) / lead.in("mm");
    this.torqueOfMicrostep = Math.sin(Math.PI / (2 * microsteps));
    this.smallestMoveSeen = options.smallestMoveSeen;
    Object.freeze(this);
  }

  /** What places asked for become, each rounded to the nearest microstep from zero: roundings do not add up. */
  places(asked: readonly Length[]): readonly CommandedPlace[] {
    return asked.map((place) => {
      const steps = Math.round(place.si / this.microstep.si) + 0;
      const given = this.microstep.times(steps);
      return { asked: place, steps, given, rounding: given.minus(place) };
    });
  }

  /** What equal moves in a row become: places are sums of the move, so that some moves are a step longer than others. */
  repeated(move: Length, count: number): readonly CommandedPlace[] {
    if (!(Number.isInteger(count) && count >= 1 && count <= 10_000)) {
      refuse(`repeated: ${count} moves; give a whole number from 1 to 10000`);
    }
    return this.places(Array.from({ length: count }, (_, i) => move.times(i + 1)));
  }

  /** After how many equal moves the rounding begins anew; 1 where each lands on the grid, undefined beyond 1000. */
  patternOf(move: Length): number | undefined {
    const steps = Math.abs(move.si / this.microstep.si);
    if (!(steps > 0)) return refuse(`patternOf: a move of ${move}; give one that is not zero`);
    for (let n = 1; n <= 1000; n++) if (Math.abs(n * steps - Math.round(n * steps)) < 1e-6) return n;
    return undefined;
  }

  /** Steps per millimetre that take a slope of the deviations out: divided by 1 + slope. */
  stepsPerMmFor(slope: Quantity<"slope">): number {
    return this.stepsPerMm / (1 + slope.si);
  }

  toString(): string {
    const seen = this.smallestMoveSeen
      ? `smallest move seen ${this.smallestMoveSeen.text("um")}`
      : "the smallest move seen is not tested (a ladder of small moves tells)";
    const torque =
      this.microsteps > 1
        ? `; one microstep asks for ${printNumber(100 * this.torqueOfMicrostep, 2)} % of the holding torque, and the grid begins anew when the power comes on`
        : "";
    return `${this.name}: full step ${printNumber(this.fullStep.in("um"), 4)} µm, smallest command ${printNumber(this.microstep.in("um"), 4)} µm (1/${this.microsteps} step), ${printNumber(this.stepsPerMm)} steps a millimetre; ${seen}${torque}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A drive train: motor steps, microsteps, ratio and lead; which commands land on its grid and what rounding the rest gets.
 *
 * @throws MeasurementError `drive-train`
 * @see torque of a microstep: sine of the electrical angle, from memory
 * @example
 * axis.driveTrain({ fullStepsPerTurn: 200, microsteps: 8, lead: mm(4) }).stepsPerMm // => 400
 */
export function driveTrain(options: DriveTrainOptions): DriveTrain {
  const { fullStepsPerTurn, microsteps = 1, motorTurnsPerScrewTurn = 1, lead } = options;
  for (const [what, count] of [
    ["fullStepsPerTurn", fullStepsPerTurn],
    ["microsteps", microsteps],
  ] as const) {
    if (!(Number.isInteger(count) && count >= 1)) refuse(`${what} is ${count}; give a whole number from 1`);
  }
  if (!(motorTurnsPerScrewTurn > 0 && Number.isFinite(motorTurnsPerScrewTurn))) {
    refuse(`motorTurnsPerScrewTurn is ${motorTurnsPerScrewTurn}; give a number above zero, 2 for a belt of 2 : 1`);
  }
  if (!(lead instanceof Quantity && lead.kind === "length" && lead.si > 0)) {
    refuse(`lead is ${sizeText(lead)}; give the travel of one turn of the screw, such as mm(4)`);
  }
  return new DriveTrain(options);
}

function refuse(sentence: string): never {
  throw new MeasurementError("drive-train", `driveTrain: ${sentence}`);
}
