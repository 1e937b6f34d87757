import { MeasurementError } from "../measurement-error.js";
import { type Angle, deg, type Length, Quantity, um } from "../quantity/index.js";
import { type Input, input } from "../uncertainty/index.js";
import { type Gauge, heightFactor, stepOf } from "./gauge.js";

/** How the gauge is used, as far as its inputs depend on it. */
export interface GaugeUse {
  /** whether every place is approached from the same side; hysteresis counts only where the approach mixes */
  readonly approach?: "same side" | "mixed";
  /** how many readings the value is the mean of; 1 where nothing is said */
  readonly readings?: number;
  /** the largest reading, or difference of two, that the angles of plunger and lever act on; without it they give no input */
  readonly reading?: Length;
  /** how far the angles may lie from those stated for the gauge (none stated = 0°); ± 5°, as set by eye, where nothing is said */
  readonly angleLimit?: Angle;
}

/**
 * The inputs that a gauge brings into an error budget of one height, each with an estimate of zero: what it repeats
 * within or the step it is read to (the larger, never both), its maximum permissible error, its hysteresis where the
 * approach mixes, and the doubt of its angles on the reading given.
 *
 * Heights are taken as already multiplied by the sign and cosines of the gauge (`heightFactor`).
 *
 * @throws MeasurementError `gauge-use`
 * @see JCGM 100:2008, 4.3.7 and F.2.2.1; ± 5° by eye is common practice, no source
 * @example
 * survey.gaugeInputs(gauge({ resolution: um(1), maximumPermissibleError: um(3) })).map((i) => i.label).join("; ") // => "gauge, resolution; gauge, maximum permissible error"
 */
export function gaugeInputs(gauge: Gauge, use: GaugeUse = {}): readonly Input<"length">[] {
  const { approach = "same side", readings = 1 } = use;
  if (!(Number.isInteger(readings) && readings >= 1)) {
    refuse(`readings is ${readings}; give the number of readings that the value is the mean of, 1 or more`);
  }
  if (approach !== "same side" && approach !== "mixed") {
    refuse(`approach is ${JSON.stringify(approach)}; write "same side" or "mixed"`);
  }
  const inputs = [repeats(gauge, readings), scale(gauge)];
  if (approach === "mixed") inputs.push(hysteresis(gauge));
  const angles = use.reading === undefined ? undefined : cosine(gauge, use.reading, use.angleLimit ?? deg(5));
  return angles ? [...inputs, angles] : inputs;
}

/** below half a step repeats are not believed, and averaging does not help below the step itself */
function repeats(gauge: Gauge, readings: number): Input<"length"> {
  const { name, repeatability } = gauge;
  const factor = Math.abs(heightFactor(gauge));
  const step = stepOf(gauge).in("um") * factor;
  const s = (repeatability?.standardDeviation.in("um") ?? 0) * factor;
  const random = s / Math.sqrt(readings);
  if (repeatability && (s >= step / 2 || random >= step / Math.sqrt(12))) {
    return input.normal({
      label: `${name}, repeatability`,
      estimate: um(0),
      standardUncertainty: um(random),
      degreesOfFreedom: repeatability.degreesOfFreedom,
      source: `repeatability of the gauge, mean of ${readings}; the step it is read to is in it`,
    });
  }
  return input.rectangular({
    label: `${name}, resolution`,
    estimate: um(0),
    halfWidth: um(step / 2),
    source: "half the step that is read",
  });
}

function scale({ name, maximumPermissibleError }: Gauge): Input<"length"> {
  return input.rectangular({
    label: `${name}, maximum permissible error`,
    estimate: um(0),
    halfWidth: maximumPermissibleError,
    source: "maximum permissible error over the range used, ±",
  });
}

function hysteresis({ name, hysteresis: whole }: Gauge): Input<"length"> {
  if (whole === undefined || !(whole.si > 0)) {
    return refuse(
      `the approach mixes and ${name} states no hysteresis; find it by approaching one place from both sides, or approach from the same side`,
    );
  }
  return input.rectangular({
    label: `${name}, hysteresis`,
    estimate: um(0),
    halfWidth: whole.over(2),
    source: "half the hysteresis, as the approach mixes",
  });
}

/** the largest error of reading × cos(angles) with each angle off by its limit: standing steeper errs more than flatter */
function cosine(gauge: Gauge, reading: Length, limit: Angle): Input<"length"> | undefined {
  if (!(limit.si >= 0 && limit.in("deg") <= 30)) refuse(`angleLimit is ${limit.text("deg")}; give 0° to 30°`);
  const size = Math.abs(reading.si);
  const off = (angle: Angle | undefined) => {
    const at = Math.abs(angle?.si ?? 0);
    return 1 - Math.cos(at + limit.si) / Math.cos(at);
  };
  const lever = gauge.leverAngle ? off(gauge.leverAngle) : 0;
  const half = size * (off(gauge.plungerTilt) + lever);
  if (!(half > 0)) return undefined;
  const angles = gauge.leverAngle ? "plunger and lever" : "plunger";
  return input.rectangular({
    label: `${gauge.name}, angle of ${angles}`,
    estimate: um(0),
    halfWidth: Quantity.fromSi("length", half),
    source: `angles known to ± ${limit.text("deg")}, on a reading of ${Quantity.fromSi("length", size).text("um")}`,
  });
}

function refuse(sentence: string): never {
  throw new MeasurementError("gauge-use", `gaugeInputs: ${sentence}`);
}
