import { MeasurementError } from "../measurement-error.js";
import { type Angle, type Kind, type Length, Quantity } from "../quantity/index.js";

/** How far repeats of one reading scatter, from a trial of the gauge on its own. */
export interface Repeatability {
  readonly standardDeviation: Length;
  readonly degreesOfFreedom: number;
}

/** An indicator as its owner knows it. ISO 463 (dial), ISO 9493 (lever) and ISO 13102 (digital) say how these figures
 * are found; their limits are the maker's. */
export interface Gauge {
  readonly name: string;
  /** digital: the last digit; analogue: one division */
  readonly resolution: Length;
  /** maximum permissible error over the short range used, ± */
  readonly maximumPermissibleError: Length;
  readonly display?: "digital" | "analogue";
  /** analogue: the part of a division that is estimated, 0.2 for a fifth; 1 where only whole divisions are read */
  readonly fractionEstimated?: number;
  /** maximum permissible error over the whole range, ± */
  readonly maximumPermissibleErrorWhole?: Length;
  readonly range?: Length;
  /** travel of the plunger for one turn of the pointer; lets a missed turn be seen */
  readonly rangePerTurn?: Length;
  readonly hysteresis?: Length;
  readonly repeatability?: Repeatability;
  /** angle β of the plunger to the normal of the surface: height = reading × cos β */
  readonly plungerTilt?: Angle;
  /** angle α of a lever stylus to the surface: height = reading × cos α */
  readonly leverAngle?: Angle;
  /** what it reads when the surface stands high and pushes the stylus in; plus where nothing is said */
  readonly sense?: "plus" | "minus";
}

/** What `gauge` is given: all of a gauge but its name, which may be left out. */
export type GaugeOptions = Omit<Gauge, "name"> & { readonly name?: string };

/**
 * An indicator, from its resolution and the maximum permissible error over the range used.
 *
 * Taken for digital unless `display: "analogue"` is given; an analogue one is taken to be read to whole divisions
 * unless `fractionEstimated` is given.
 *
 * @throws MeasurementError `gauge`
 * @example
 * survey.stepOf(gauge({ resolution: um(2), maximumPermissibleError: um(4), display: "analogue", fractionEstimated: 0.5 })).in("um") // => 1
 */
export function gauge(options: GaugeOptions): Gauge {
  const made: Gauge = { name: "gauge", ...options };
  needSize("resolution", made.resolution, "um(1)");
  needSize("maximumPermissibleError", made.maximumPermissibleError, "um(4)");
  for (const field of ["maximumPermissibleErrorWhole", "range", "rangePerTurn"] as const) {
    if (made[field] !== undefined) needSize(field, made[field], "mm(1)");
  }
  if (made.hysteresis !== undefined) needSize("hysteresis", made.hysteresis, "um(1)", true);
  if (made.repeatability !== undefined) needRepeatability(made.repeatability);
  for (const field of ["plungerTilt", "leverAngle"] as const) {
    if (made[field] !== undefined) needAngle(field, made[field]);
  }
  if (made.range && made.rangePerTurn?.isGreater(made.range)) {
    refuse(`range per turn ${made.rangePerTurn} is more than the range ${made.range}; exchange the two`);
  }
  needFraction(made);
  return Object.freeze(made);
}

/**
 * The smallest step that is read: the last digit, or the part of a division that is estimated.
 *
 * @example
 * survey.stepOf(gauge({ resolution: um(1), maximumPermissibleError: um(4) })).in("um") // => 1
 */
export function stepOf(gauge: Gauge): Length {
  return gauge.resolution.times(gauge.display === "analogue" ? (gauge.fractionEstimated ?? 1) : 1);
}

/**
 * Standard uncertainty of one reading from its resolution: rectangular, half-width half a step.
 *
 * @see JCGM 100:2008, F.2.2.1
 * @example
 * survey.resolutionUncertainty(gauge({ resolution: um(1), maximumPermissibleError: um(3) })).in("um").toFixed(3) // => "0.289"
 */
export function resolutionUncertainty(gauge: Gauge): Length {
  return stepOf(gauge).over(Math.sqrt(12));
}

/**
 * What a reading is multiplied by to be a height: the sign, and the cosines of plunger tilt and lever angle.
 *
 * @example
 * survey.heightFactor(gauge({ resolution: um(1), maximumPermissibleError: um(3), leverAngle: deg(60), sense: "minus" })).toFixed(3) // => "-0.500"
 */
export function heightFactor(gauge: Gauge): number {
  const cos = (angle?: Angle) => (angle ? Math.cos(angle.si) : 1);
  return (gauge.sense === "minus" ? -1 : 1) * cos(gauge.plungerTilt) * cos(gauge.leverAngle);
}

function needSize(field: string, given: unknown, example: string, zeroToo = false): void {
  needKind(field, given, "length", example);
  const size = given as Length;
  if (size.si > 0 || (zeroToo && size.si === 0)) return;
  refuse(`${field} is ${size.text()}; it must be ${zeroToo ? "zero or more" : "greater than zero"}`);
}

function needAngle(field: string, given: unknown): void {
  needKind(field, given, "angle", "deg(15)");
  if (Math.abs((given as Angle).in("deg")) <= 60) return;
  refuse(
    `${field} is ${(given as Angle).text("deg")}; beyond 60° the reading says too little, set the stylus flatter or the plunger straighter`,
  );
}

function needRepeatability({ standardDeviation, degreesOfFreedom }: Repeatability): void {
  needSize("repeatability.standardDeviation", standardDeviation, "um(0.5)", true);
  if (degreesOfFreedom > 0) return;
  refuse(
    `repeatability.degreesOfFreedom is ${degreesOfFreedom}; give a number greater than zero, readings less one for one series`,
  );
}

function needFraction({ display, fractionEstimated: fraction }: Gauge): void {
  if (display !== undefined && display !== "digital" && display !== "analogue") {
    refuse(`display is ${JSON.stringify(display)}; write "digital" or "analogue"`);
  }
  if (fraction === undefined) return;
  if (display !== "analogue")
    refuse('fractionEstimated is given for a digital gauge; leave it out, or write display: "analogue"');
  if (!(fraction > 0 && fraction <= 1)) {
    refuse(
      `fractionEstimated is ${fraction}; give the part of a division that is estimated, 0.2 for a fifth, at most 1`,
    );
  }
}

function needKind(field: string, given: unknown, kind: Kind, example: string): void {
  if (given instanceof Quantity && given.kind === kind) return;
  const article = (name: Kind) => (/^[aeiou]/.test(name) ? "an" : "a");
  const unlike = given instanceof Quantity ? `${article(given.kind)} ${given.kind}` : "which has no unit";
  const shown = given === undefined ? "missing" : `${String(given)}, ${unlike}`;
  refuse(`${field} is ${shown}; give ${article(kind)} ${kind} such as ${example}`);
}

function refuse(sentence: string): never {
  throw new MeasurementError("gauge", `gauge: ${sentence}`);
}
