import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, type Slope, um } from "../quantity/index.js";

export interface RidgesInput {
  readonly cutterRadius: Length;
  /** sideways move from one pass to the next */
  readonly stepOver: Length;
  /** tilt of the spindle in the plane of the feed, against the surface that is cut */
  readonly tiltAlongFeed: Slope;
  /** tilt of the spindle across the feed, against the surface that is cut */
  readonly tiltAcrossFeed: Slope;
}

/** What a cutter out of tram leaves; made by `facing.ridges`. */
export class Ridges {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  constructor(
    /** peak to valley of what the tilted cutter leaves, all passes together (lower envelope of its tilted circles) */
    readonly height: Length,
    /** the same after a second round of passes offset by half a step */
    readonly heightAfterHalfStep: Length,
    /** check: step between passes from the tilt across the feed alone, step-over × tilt */
    readonly step: Length,
    /** check: hollow from the tilt along the feed alone, tilt × (R − √(R² − step-over²/4)) */
    readonly hollow: Length,
  ) {
    Object.freeze(this);
  }

  toString(): string {
    const print = (length: Length) => `${length.in("um").toFixed(1)} µm`;
    return `ridges of ${print(this.height)}, ${print(this.heightAfterHalfStep)} after a second round offset by half a step; checks for one tilt alone: step ${print(this.step)}, hollow ${print(this.hollow)}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Ridges that a face cutter leaves when the spindle is out of tram.
 *
 * The height is taken from the lower envelope of the tilted circles over all passes. `step` and `hollow` are the closed
 * forms for one tilt alone; they are checks and do not add. The height is that between passes, with a pass on both sides.
 * Over a whole plate a lean across the feed leaves more: the strip on the outside of the last pass on the leaning side is
 * cut by no further pass and rises up to (diameter − step-over − run-out) × tilt above the rest. Give the last pass
 * so much more run-out, or read `texture` of `facing.replay`, which has the edge in it.
 *
 * @throws MeasurementError `step-over` when the passes would leave strips uncut
 * @example
 * facing.ridges({ cutterRadius: mm(25), stepOver: mm(30), tiltAlongFeed: slope(um(20), mm(150)), tiltAcrossFeed: slope(um(20), mm(150)) }).height.in("um").toFixed(1) // => "2.1"
 */
export function ridges(input: RidgesInput): Ridges {
  const radius = input.cutterRadius.in("mm");
  const stepOver = input.stepOver.in("mm");
  if (!(radius > 0) || !(stepOver > 0 && stepOver < 2 * radius)) {
    throw new MeasurementError(
      "step-over",
      `ridges: a step-over of ${input.stepOver.text()} with a cutter of radius ${input.cutterRadius.text()} leaves strips uncut; keep it above 0 and below the diameter`,
    );
  }
  const along = Math.abs(input.tiltAlongFeed.in("um/m"));
  const across = Math.abs(input.tiltAcrossFeed.in("um/m"));
  return new Ridges(
    um(envelopeUm(radius, stepOver, along, across)),
    um(envelopeUm(radius, stepOver / 2, along, across)),
    um((stepOver * across) / 1000),
    um(hollowUm(radius, stepOver, along)),
  );
}

function hollowUm(radiusMm: number, widthMm: number, alongUmPerM: number): number {
  return (alongUmPerM * (radiusMm - Math.sqrt(radiusMm ** 2 - widthMm ** 2 / 4))) / 1000;
}

/** Peak to valley over one step-over of the lowest rim seen at each line of the work. Front and back rim both pass a
 * line in a pass that runs clear through, so the lower of the two counts. */
function envelopeUm(radiusMm: number, stepMm: number, alongUmPerM: number, acrossUmPerM: number): number {
  const left = (t: number) => (acrossUmPerM * t - alongUmPerM * Math.sqrt(Math.max(0, radiusMm ** 2 - t * t))) / 1000;
  const neighbours = Math.ceil(radiusMm / stepMm) + 1;
  const samples = 4000;
  let high = Number.NEGATIVE_INFINITY;
  let low = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= samples; i++) {
    const y = (i / samples - 0.5) * stepMm;
    let cut = Number.POSITIVE_INFINITY;
    for (let pass = -neighbours; pass <= neighbours; pass++) {
      const t = y - pass * stepMm;
      if (Math.abs(t) <= radiusMm) cut = Math.min(cut, left(t));
    }
    high = Math.max(high, cut);
    low = Math.min(low, cut);
  }
  return high - low;
}
