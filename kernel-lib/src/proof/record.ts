import { MeasurementError } from "../measurement-error.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import type { RecordEntry } from "./record-entry.js";
import { Trend } from "./trend.js";

/** A line of the record as it stands in the file. */
export interface RecordLine extends RecordEntry {
  readonly line: number;
  /** version that wrote it */
  readonly version: string;
  /** checksum of the line before, and of this one */
  readonly previous: string;
  readonly sha256: string;
}

/** The file that a record was read from, as `versions` names it. */
export interface RecordFile {
  readonly name: string;
  readonly sha256: string;
  readonly state: "sealed";
  readonly kind: "record";
}

/** Which results a trend is taken of. */
export interface TrendOf {
  readonly subject: string;
  readonly result: string;
  /** only results taken with this gauge, where the record holds others too */
  readonly gauge?: string;
}

/** Results in the order of their dates; made by `proof.readRecord` and `proof.appendToRecord`. */
export class ResultRecord {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `readRecord` */
  constructor(
    readonly name: string,
    private readonly lines: readonly RecordLine[],
    /** absent after `appendToRecord`: read the record again */
    readonly file?: RecordFile,
  ) {
    Object.freeze(this);
  }

  get length(): number {
    return this.lines.length;
  }

  at(i: number): RecordLine | undefined {
    return this.lines.at(i);
  }

  toArray(): readonly RecordLine[] {
    return [...this.lines];
  }

  [Symbol.iterator](): Iterator<RecordLine> {
    return this.lines[Symbol.iterator]();
  }

  /**
   * Trend of one result of one subject, corrected lines left out, in the order of dates. Only like is held against like:
   * the same frame, gauge and places; `gauge` leaves out what another gauge read.
   *
   * @throws MeasurementError `record`, `not-alike`, `too-few-results`
   */
  trend(of: TrendOf): Trend {
    const corrected = new Set(this.lines.map(({ corrects }) => corrects));
    const found = this.lines.filter(
      (line) =>
        line.subject === of.subject &&
        line.result === of.result &&
        (of.gauge === undefined || line.gauge === of.gauge) &&
        !corrected.has(line.line),
    );
    if (found.length === 0) {
      const by = (gauge: string) => (of.gauge === undefined ? "" : ` by ${gauge}`);
      const known = [...new Set(this.lines.map(({ subject, result, gauge }) => `${subject}: ${result}${by(gauge)}`))];
      throw new MeasurementError(
        "record",
        `${this.name}: has no ${of.result} of ${of.subject}${by(of.gauge ?? "")}; it has ${known.slice(0, 5).join(", ")}`,
      );
    }
    return new Trend(found.toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : a.line - b.line)));
  }

  toString(): string {
    const last = this.lines.at(-1);
    return last
      ? `${this.name}: ${this.lines.length} results from ${this.lines[0]!.date} to ${last.date}, no line changed since it was written`
      : `${this.name}: no results`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}
