import type { SurfaceSource } from "../form/index.js";
import { MeasurementError } from "../measurement-error.js";
import { fQuantile } from "../numerics/index.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import { minutes, type Time } from "../quantity/index.js";
import { withCaveats } from "../uncertainty/caveat.js";
import { type Difference, difference } from "./difference.js";

export interface SettledInput {
  readonly first: SurfaceSource;
  readonly second: SurfaceSource;
  /** time between the two surveys */
  readonly apart: Time;
}

/** Two surveys of an untouched surface, one a while after the other; made by `proof.settled`. */
export class Settled {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** nothing moved between them beyond what the readings scatter */
  readonly agree: boolean;

  /** @internal made by `settled` */
  constructor(
    readonly difference: Difference,
    readonly apart: Time,
    /** mean square of the differences over that of the noise, and the limit for it */
    readonly ratio: number,
    readonly limit: number,
  ) {
    this.agree = ratio <= limit && difference.changed.length === 0;
    Object.freeze(this);
  }

  toString(): string {
    const { ratio, limit, difference: found, agree } = this;
    const { caveats } = found;
    const apart = this.apart.text("min");
    const figures = `differences of ${ratio.toFixed(2)} times the noise in variance, limit ${limit.toFixed(2)}`;
    if (agree)
      return withCaveats(`settled: the two surveys ${apart} apart agree (${figures}); it may be judged`, caveats);
    const places = found.changed.slice(0, 5).map(({ label }) => label);
    const where = places.length > 0 ? `, most at ${places.join(", ")}` : "";
    const sentence = `not settled: something still moves between the two surveys ${apart} apart (${figures}${where}); let spindle and table cool and survey again`;
    return withCaveats(sentence, caveats);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/** common practice, no source */
const leastApart = minutes(30);

/**
 * Whether a surface has settled after it was cut or worked on: two surveys at least half an hour apart, offset and tilt
 * taken out, agree within their noise. Warm spindle and plate bow as they cool, and a survey taken meanwhile proves nothing.
 *
 * Two tests: the differences together (F at 97.5 %) and each place (simultaneous limit at 95 %). So up to 8 in 100 settled
 * surfaces are called not settled; rounding to the step of the gauge makes it fewer.
 *
 * @throws MeasurementError `too-soon`, `two-frames`, `other-places`
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = (name, bow) => ({ name, frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places: [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 50 * i, yMm: 50 * j, zUm: bow * (i - 1.5) ** 2, count: 2 }))), noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 12 } });
 * proof.settled({ first: map("at 14:00", 3), second: map("at 14:40", 1), apart: minutes(40) }).agree // => false
 */
export function settled({ first, second, apart }: SettledInput): Settled {
  if (!(apart.si >= leastApart.si)) {
    throw new MeasurementError(
      "too-soon",
      `proof.settled: the surveys are ${apart.text("min")} apart; half an hour is needed at least, survey once more then`,
    );
  }
  const found = difference({ before: first, after: second });
  const noise = [found.before, found.after].map(({ noise: { standardUncertaintyUm: u } }) => u ** 2);
  const freedom = found.changes.length - 3;
  const meanSquare = found.changes.reduce((sum, { changeUm }) => sum + changeUm ** 2, 0) / freedom;
  const limit = fQuantile(0.975, freedom, found.degreesOfFreedom);
  return new Settled(found, apart, meanSquare / (noise[0]! + noise[1]!), limit);
}
