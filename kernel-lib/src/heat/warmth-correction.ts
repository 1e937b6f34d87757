import { MeasurementError } from "../measurement-error.js";
import { tQuantile } from "../numerics/index.js";
import { display, type MimeBundle, Quantity, type Time, um } from "../quantity/index.js";
import type { Gauge, Reading, Surface, Survey } from "../survey/index.js";
import { type AnyInput, input, Measured } from "../uncertainty/index.js";
import type { Settling } from "./settling.js";

/** A survey read while the spindle grew, and the curve of that growth. */
export interface WarmthCorrectionSpec {
  readonly survey: Survey;
  /** growth under the same speed and the same room, as `record.growth()` gives it */
  readonly curve: Settling<"length">;
  /** when the first reading of the record was taken, as the sheet of the survey counts: a time of day, or from its start */
  readonly recordStart: Time;
  /** what the growth does to the heights: a spindle that grows down pushes the stylus in and raises them */
  readonly heights: "raised" | "lowered";
  /** that of the record: its own error, in full over the whole change, joins the doubt */
  readonly gauge?: Gauge;
}

/** One reading and the growth since the first reading of its survey. */
export interface WarmReading {
  readonly place: string;
  readonly pass: number;
  readonly time: Time;
  readonly growth: Measured<"length">;
}

/** A survey with the growth of a warming machine taken out of each reading. */
export class WarmthCorrection {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** growth between the first reading and the last */
  readonly change: Measured<"length">;
  /** the map; doubt of the curve is shared by its heights, and what the datum returns still show is taken out too */
  readonly surface: Surface;
  /** what the reader should know */
  readonly notes: readonly string[];
  private readonly warm: readonly WarmReading[];

  /** @internal made by `correctedForWarmth` */
  constructor(readonly spec: WarmthCorrectionSpec) {
    const { survey, curve, heights } = spec;
    const readings = inTime([...survey.readings(), ...survey.datumReturns]);
    const start = spec.recordStart.si;
    const first = readings[0]!.time!.si;
    const growthAt = grownSince(spec, first - start);
    this.warm = readings.map(({ place, pass, time }) => ({
      place,
      pass,
      time: time!,
      growth: growthAt(time!.si - start),
    }));
    this.change = this.warm.at(-1)!.growth;
    const sign = heights === "raised" ? 1 : -1;
    const causes = [...new Set(this.warm.flatMap(({ growth }) => growth.terms.map((term) => term.input)))];
    const widened = tQuantile(0.975, curve.degreesOfFreedom) / tQuantile(0.975, Number.POSITIVE_INFINITY);
    const course = {
      statement: this.statement,
      shiftUm: (seconds: number) => sign * growthAt(seconds - start).in("um"),
      doubtsUm: (seconds: number) => doubtsOf(growthAt(seconds - start), causes).map((u) => u * widened),
    };
    this.surface = survey.surfaceWithout(course);
    this.notes = Object.freeze(this.notesOf(readings.at(-1)!.time!.si - start));
    Object.freeze(this);
  }

  /** the readings in the order of time, datum returns among them */
  toArray(): readonly WarmReading[] {
    return this.warm;
  }

  /** What was taken out, and what the datum returns say of the rest. */
  toString(): string {
    return `${this.spec.survey.name}: ${this.statement}; after that ${this.surface.drift!.statement}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private get statement(): string {
    const { curve, heights } = this.spec;
    return `the growth of ${curve.name} was taken out by the time of each reading: ${this.change} from the first to the last, by which it had ${heights} the heights`;
  }

  private notesOf(lastSeconds: number): string[] {
    const { curve, gauge } = this.spec;
    const late = this.warm.filter(({ time }) => time.si - this.spec.recordStart.si > 60 * curve.lastMinute).length;
    return [
      "holds where the machine ran at the same speed in the same room as for the record; what the datum returns still show says how far it did",
      ...(late > 0
        ? [
            `${late} of ${this.warm.length} readings came after the end of the record, up to ${Math.ceil(lastSeconds / 60 - curve.lastMinute)} min: there it rests on the curve alone`,
          ]
        : []),
      ...(gauge ? [] : ["the error of the record's own gauge is not in the doubt; give the gauge to put it in"]),
    ];
  }
}

/**
 * A survey taken while the machine warmed up, with the growth since its first reading taken out of each reading by its time.
 *
 * The doubt of the curve goes into the map as causes that its heights share (covariance), widened for the degrees of freedom
 * of the fit, and from there into form, budget and difference. The datum returns are corrected too and say what is left.
 *
 * @throws MeasurementError `no-times` for a survey whose readings have no time, `before-the-record` where one was read before the
 *   record begins, `heat-value`
 * @see ISO 230-3 for drift by warmth; `survey.surface()` where no record was taken
 * @example
 * const nose = heat.readWarmUp("data/warm-up-spindle.csv").between(minutes(0), minutes(180)).growth("nose");
 * const rows = [0, 30, 60, 90].map((t, i) => `${"ABCD"[i]}1,${50 * i},0,${Math.round(23 * (1 - Math.exp(-t / 41)))},1,${t}`);
 * const head = ["# relative to: travel", "# front: y-", "# +x: right", "# +y: back", "# gauge resolution: 1 um", "# gauge maximum permissible error: 3 um"];
 * const read = parseSurvey([...head, "place,x/mm,y/mm,z/um,pass,time/min", ...rows].join("\n"));
 * heat.correctedForWarmth({ survey: read, curve: nose, recordStart: minutes(0), heights: "raised" }).change.in("um").toFixed(0) // => "20"
 */
export function correctedForWarmth(spec: WarmthCorrectionSpec): WarmthCorrection {
  const { survey, curve, recordStart, heights } = spec;
  if (survey.timesAre === undefined) {
    throw new MeasurementError(
      "no-times",
      `${survey.name}: not every reading has a time; what grew meanwhile can be taken out by the time of each reading only: read with a column time, or let the datum returns tell the drift`,
    );
  }
  if (!(curve.kind === "length" && recordStart.kind === "time")) {
    throw new MeasurementError(
      "heat-value",
      `correctedForWarmth: ${curve.name} is a curve of a ${curve.kind} that starts at ${recordStart}; give a curve of growth and a time`,
    );
  }
  if (!(heights === "raised" || heights === "lowered")) {
    throw new MeasurementError(
      "heat-value",
      `correctedForWarmth: heights are ${JSON.stringify(heights)}; write "raised" where the growth pushes the stylus in, else "lowered"`,
    );
  }
  const first = inTime([...survey.readings(), ...survey.datumReturns])[0]!;
  if (!(first.time!.si >= recordStart.si)) {
    throw new MeasurementError(
      "before-the-record",
      `${survey.name}: ${first.place}, pass ${first.pass} was read ${Quantity.fromSi("time", recordStart.si - first.time!.si).text("min")} before the first reading of the record of ${curve.name}; give recordStart as the sheet counts its times (${survey.timesAre}), or record the growth from before the survey on`,
    );
  }
  return new WarmthCorrection(spec);
}

function inTime(readings: readonly Reading[]): Reading[] {
  return [...readings].sort((a, b) => a.time!.si - b.time!.si);
}

/** growth since a moment of the record, seconds from its first reading */
function grownSince({ curve, gauge }: WarmthCorrectionSpec, first: number): (seconds: number) => Measured<"length"> {
  const from = Quantity.fromSi("time", first);
  const error =
    gauge &&
    Measured.from(
      input.rectangular({
        label: "gauge of the record",
        estimate: um(0),
        halfWidth: gauge.maximumPermissibleError,
        source: "maximum permissible error",
      }),
    );
  const known = new Map<number, Measured<"length">>();
  return (seconds) => {
    const found = known.get(seconds);
    if (found) return found;
    const plain = curve.changeBetween(from, Quantity.fromSi("time", seconds));
    const growth = error ? plain.plus(error.times(plain.value.si / curve.total.value.si)) : plain;
    known.set(seconds, growth);
    return growth;
  };
}

/** µm for one standard uncertainty of each cause */
function doubtsOf({ terms }: Measured<"length">, causes: readonly AnyInput[]): number[] {
  return causes.map((cause) => {
    const term = terms.find((one) => one.input === cause);
    return term ? term.sensitivity * cause.uncertaintySi * 1e6 : 0;
  });
}
