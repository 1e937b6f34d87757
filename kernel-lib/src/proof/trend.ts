import { MeasurementError } from "../measurement-error.js";
import { normalQuantile } from "../numerics/index.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import { counted } from "../words.js";
import { dayNumber, type RecordEntry } from "./record-entry.js";

export interface TrendPoint {
  readonly date: string;
  /** days since the first result */
  readonly day: number;
  readonly valueUm: number;
  readonly standardUncertaintyUm: number;
}

/** from so many results on the limits come from the results themselves */
const enough = 20;
/** mean range of two normal values over their standard deviation, d₂ for samples of two: 2/√π */
const rangeOfTwo = 2 / Math.sqrt(Math.PI);
/** family-wise rate of each alarm in a stable series */
const rate = 0.01;

/** Results over time against control limits; made by `record.trend` and `proof.trend`. */
export class Trend {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly points: readonly TrendPoint[];
  readonly name: string;
  /** what was judged each time, such as "flatness" */
  readonly result: string;
  readonly centreUm: number;
  /** standard deviation that the limits rest on */
  readonly spreadUm: number;
  readonly limitsFrom: string;
  /** limits: centre ± 3 spreads */
  readonly lowUm: number;
  readonly highUm: number;
  /** change per year with its standard uncertainty; undefined for results of one day */
  readonly slopeUmPerYear: { readonly value: number; readonly standardUncertainty: number } | undefined;
  /** what has moved, a sentence each; empty where nothing has */
  readonly alarms: readonly string[];

  /** @internal made by `record.trend` and `proof.trend` */
  constructor(entries: readonly RecordEntry[]) {
    needAlike(entries);
    const days = entries.map(({ date }) => dayNumber(date));
    this.points = entries.map(({ date, valueUm, standardUncertaintyUm }, i) => ({
      date,
      day: days[i]! - days[0]!,
      valueUm,
      standardUncertaintyUm,
    }));
    this.result = entries[0]!.result;
    this.name = `${entries[0]!.subject}: ${entries[0]!.result}`;
    const values = entries.map(({ valueUm }) => valueUm);
    this.centreUm = mean(values);
    const many = values.length >= enough;
    const ranges = values.slice(1).map((v, i) => Math.abs(v - values[i]!));
    this.spreadUm = many
      ? mean(ranges) / rangeOfTwo
      : Math.sqrt(mean(entries.map((e) => e.standardUncertaintyUm ** 2)));
    this.limitsFrom = many
      ? `moving ranges of the ${values.length} results`
      : `u of the results themselves, as ${values.length} are fewer than ${enough}; the part of u that all of them share makes these limits too wide, not too narrow`;
    this.lowUm = this.centreUm - 3 * this.spreadUm;
    this.highUm = this.centreUm + 3 * this.spreadUm;
    this.slopeUmPerYear = slope(this.points, this.spreadUm);
    this.alarms = alarmsOf(this);
    Object.freeze(this);
  }

  toString(): string {
    const um = (v: number) => `${v.toFixed(1)} µm`;
    const state = this.alarms.length === 0 ? "no drift seen" : this.alarms.join("; ");
    return `${this.name}: ${this.points.length} results, mean ${um(this.centreUm)}, limits ${um(this.lowUm)} to ${um(this.highUm)} from ${this.limitsFrom}; ${state}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Trend of results over time, with control limits and alarms for drift.
 *
 * Below 20 results the limits come from the uncertainty of the results, from 20 on from their moving ranges. Alarms: a
 * result beyond 3 spreads; a slope over time beyond chance; eight results running on one side of the mean.
 *
 * @throws MeasurementError `not-alike`, `too-few-results`, `date`
 * @see ISO 7870-2 (from memory): individual values and moving ranges
 * @example
 * const one = (date, valueUm) => ({ date, subject: "table", result: "flatness", valueUm, standardUncertaintyUm: 1, relativeTo: "travel", gauge: "dial", places: "78 places", sheet: "table.csv" });
 * proof.trend([one("2026-01-10", 12), one("2026-03-10", 12.5), one("2026-06-10", 11.8)]).alarms.length // => 0
 */
export function trend(entries: readonly RecordEntry[]): Trend {
  return new Trend(entries.toSorted((a, b) => dayNumber(a.date) - dayNumber(b.date)));
}

function alarmsOf({ points, centreUm, lowUm, highUm, slopeUmPerYear }: Trend): string[] {
  const out = points.filter(({ valueUm }) => !(valueUm >= lowUm && valueUm <= highUm));
  const outside = out.map(({ date, valueUm }) => `${date}: ${valueUm.toFixed(1)} µm lies outside the limits`);
  const limit = normalQuantile(1 - rate / 2);
  const drift = slopeUmPerYear;
  const moves =
    drift && points.length >= 4 && Math.abs(drift.value) > limit * drift.standardUncertainty
      ? [
          `drifts by ${drift.value.toFixed(1)} µm a year ± ${(2 * drift.standardUncertainty).toFixed(1)} µm (k = 2)`.replace(
            "-",
            "−",
          ),
        ]
      : [];
  return [...outside, ...moves, ...longRun(points, centreUm)];
}

/** eight running on one side: 1 in 128 runs of eight by chance */
function longRun(points: readonly TrendPoint[], centreUm: number): string[] {
  let run = 0;
  let side = 0;
  for (const { valueUm, date } of points) {
    const now = Math.sign(valueUm - centreUm);
    run = now !== 0 && now === side ? run + 1 : 1;
    side = now;
    if (run === 8) return [`eight results running on one side of the mean, up to ${date}`];
  }
  return [];
}

function slope(points: readonly TrendPoint[], spreadUm: number) {
  const middle = mean(points.map(({ day }) => day));
  const across = points.reduce((sum, { day }) => sum + (day - middle) ** 2, 0);
  if (!(across > 0)) return undefined;
  const perDay = points.reduce((sum, { day, valueUm }) => sum + (day - middle) * valueUm, 0) / across;
  return { value: 365.25 * perDay, standardUncertainty: (365.25 * spreadUm) / Math.sqrt(across) };
}

function needAlike(entries: readonly RecordEntry[]): void {
  if (!(entries.length >= 2)) {
    throw new MeasurementError(
      "too-few-results",
      `proof.trend: ${counted(entries.length, "result shows", "results show")} no trend; two are needed at least`,
    );
  }
  for (const key of ["subject", "result", "relativeTo", "gauge", "places"] as const) {
    const other = entries.find((entry) => entry[key] !== entries[0]![key]);
    if (!other) continue;
    throw new MeasurementError(
      "not-alike",
      `proof.trend: the result of ${entries[0]!.date} has ${words[key]} "${entries[0]![key]}" and that of ${other.date} "${other[key]}"; only like is held against like, give each a trend of its own`,
    );
  }
}

const words = { subject: "subject", result: "result", relativeTo: "frame", gauge: "gauge", places: "places" } as const;

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
