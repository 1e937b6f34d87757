import { MeasurementError } from "../measurement-error.js";
import {
  type CuttingSpeed,
  display,
  type Feed,
  type Length,
  type MimeBundle,
  minutes,
  mmPerMin,
  mPerMin,
  type Power,
  type Pressure,
  Quantity,
  type RotationalSpeed,
  type Time,
} from "../quantity/index.js";
import { sizeText } from "../quantity/size-text.js";
import { cutCautions } from "./cautions.js";

export interface PassInput {
  /** size of the area in the direction of the feed */
  readonly lengthAlongFeed: Length;
  /** size of the area across the feed */
  readonly widthAcrossFeed: Length;
  readonly cutterDiameter: Length;
  readonly stepOver: Length;
  readonly spindleSpeed: RotationalSpeed;
  readonly teeth: number;
  readonly feedPerTooth: Length;
  /** how far the cutter's rim runs clear of the area on every side */
  readonly runOut: Length;
  /** feed of the way back above the work, one-way cutting */
  readonly returnFeed: Feed;
}

/** What a round of passes comes to. */
export interface PassFacts {
  readonly count: number;
  /** the step-over that spreads the passes evenly, not above the one asked for */
  readonly stepOver: Length;
  readonly feed: Feed;
  readonly cuttingSpeed: CuttingSpeed;
  /** travel of the cutter's centre that one pass needs along the feed */
  readonly travelAlongFeed: Length;
  /** from the centre line of the first pass to that of the last */
  readonly travelAcrossFeed: Length;
  /** cutting one-way and returning above the work; without tool changes and measuring */
  readonly time: Time;
}

/** One round of parallel passes over the area; made by `facing.pass`. */
export class Passes implements PassFacts {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly count: number;
  readonly stepOver: Length;
  readonly feed: Feed;
  readonly cuttingSpeed: CuttingSpeed;
  readonly travelAlongFeed: Length;
  readonly travelAcrossFeed: Length;
  readonly time: Time;
  readonly cautions: readonly string[] = cutCautions;

  constructor(facts: PassFacts) {
    this.count = facts.count;
    this.stepOver = facts.stepOver;
    this.feed = facts.feed;
    this.cuttingSpeed = facts.cuttingSpeed;
    this.travelAlongFeed = facts.travelAlongFeed;
    this.travelAcrossFeed = facts.travelAcrossFeed;
    this.time = facts.time;
    Object.freeze(this);
  }

  /** The plan as lines of a table. */
  get rows(): readonly (readonly [what: string, value: string])[] {
    return [
      ["passes, one-way", String(this.count)],
      ["step-over", `${this.stepOver.in("mm").toFixed(1)} mm`],
      ["feed", this.feed.text()],
      ["cutting speed", `${this.cuttingSpeed.in("m/min").toFixed(0)} m/min`],
      ["travel along the feed", `${this.travelAlongFeed.in("mm").toFixed(0)} mm`],
      ["travel across the feed", `${this.travelAcrossFeed.in("mm").toFixed(0)} mm`],
      ["time in the cut and back", `${this.time.in("min").toFixed(0)} min`],
    ];
  }

  toString(): string {
    return this.rows.map(([what, value]) => `${what} ${value}`).join(", ");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Passes of a face cutter over an area: how many, feed, cutting speed, travel and time. One-way, return above the work.
 *
 * Every pass runs clear through (half a diameter and the run-out at both ends), so that front and back rim pass all of
 * the area. The rim of the first and last pass clears the side edges by the run-out.
 *
 * @throws MeasurementError `step-over`, `not-positive`
 * @example
 * facing.pass({ lengthAlongFeed: mm(460), widthAcrossFeed: mm(200), cutterDiameter: mm(50), stepOver: mm(30), spindleSpeed: perMin(600), teeth: 1, feedPerTooth: mm(0.1), runOut: mm(3), returnFeed: mmPerMin(300) }).count // => 7
 */
export function pass(input: PassInput): Passes {
  needPositive(input);
  const diameter = input.cutterDiameter.in("mm");
  const asked = input.stepOver.in("mm");
  if (!(asked < diameter)) {
    throw new MeasurementError(
      "step-over",
      `pass: a step-over of ${input.stepOver.text()} leaves strips uncut under a cutter of ${input.cutterDiameter.text()}; keep it below the diameter`,
    );
  }
  const across = Math.max(0, input.widthAcrossFeed.in("mm") + 2 * input.runOut.in("mm") - diameter);
  const gaps = Math.ceil(across / asked - 1e-9);
  const travelAlong = input.lengthAlongFeed.plus(input.cutterDiameter).plus(input.runOut.times(2));
  const feed = mmPerMin(input.spindleSpeed.in("1/min") * input.teeth * input.feedPerTooth.in("mm"));
  const count = gaps + 1;
  const cutting = (travelAlong.in("mm") * count) / feed.in("mm/min");
  const returning = (travelAlong.in("mm") * gaps + across) / input.returnFeed.in("mm/min");
  return new Passes({
    count,
    stepOver: input.stepOver.times(gaps > 0 ? across / gaps / asked : 1),
    feed,
    cuttingSpeed: mPerMin((Math.PI * diameter * input.spindleSpeed.in("1/min")) / 1000),
    travelAlongFeed: travelAlong,
    travelAcrossFeed: input.stepOver.times(across / asked),
    time: minutes(cutting + returning),
  });
}

/**
 * Power drawn from the motor in milling: a_p · a_e · v_f · k_c / η.
 *
 * @param input depth and width of cut, feed, specific cutting force, efficiency of the drive (0 to 1)
 * @throws MeasurementError `efficiency`
 * @see common handbook formula; makers' k_c values differ by 5 to 20 %
 * @example
 * facing.millingPower({ depth: mm(2), width: mm(80), feed: mmPerMin(280), specificForce: MPa(1800), efficiency: 0.8 }).in("kW").toFixed(2) // => "1.68"
 */
export function millingPower(input: {
  readonly depth: Length;
  readonly width: Length;
  readonly feed: Feed;
  readonly specificForce: Pressure;
  readonly efficiency: number;
}): Power {
  const { depth, width, feed, specificForce, efficiency } = input;
  if (!(efficiency > 0 && efficiency <= 1)) {
    throw new MeasurementError(
      "efficiency",
      `millingPower: an efficiency of ${efficiency} is not a share of the motor's power; give a number above 0 and up to 1`,
    );
  }
  return Quantity.fromSi("power", (depth.si * width.si * feed.si * specificForce.si) / efficiency);
}

function needPositive(input: PassInput): void {
  const named = Object.entries(input).map(([name, v]) => [name, typeof v === "number" ? v : (v as Length).si] as const);
  for (const [name, value] of named) {
    if (value > 0 || (name === "runOut" && value === 0)) continue;
    throw new MeasurementError(
      "not-positive",
      `pass: ${name} is ${sizeText(input[name as keyof PassInput])}; give a value above zero`,
    );
  }
  if (!Number.isInteger(input.teeth)) {
    throw new MeasurementError("not-positive", `pass: teeth is ${input.teeth}; give a whole number of teeth`);
  }
}
