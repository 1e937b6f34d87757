import { MeasurementError } from "../measurement-error.js";
import { display, type MimeBundle, minutes, Quantity, type Temperature, type Time, um } from "../quantity/index.js";
import type { Length } from "../quantity/quantity.js";
import { type Gauge, type SheetFile, stepOf } from "../survey/index.js";
import { counted } from "../words.js";
import type { Settling } from "./settling.js";
import { settling } from "./settling-of-readings.js";

/** A column of a record: minutes from its first row, and values in µm (growth) or °C. */
export interface WarmUpColumn {
  readonly name: string;
  readonly minute: readonly number[];
  readonly value: readonly number[];
}

/** @internal what a record is made from */
export interface WarmUpContent {
  readonly name: string;
  readonly date: string | undefined;
  readonly gauge: Gauge | undefined;
  /** of the day at the first row, where the record is by the clock */
  readonly startSeconds: number | undefined;
  readonly lastMinute: number;
  readonly growths: readonly WarmUpColumn[];
  readonly thermometers: readonly WarmUpColumn[];
  /** smallest step of the thermometers, K */
  readonly thermometerStep: number;
  readonly notes: readonly string[];
  readonly file?: SheetFile | undefined;
}

/** A warm-up record as it stands on its sheet: what gauges showed and what thermometers read, moment by moment. */
export class WarmUp {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly name: string;
  readonly date: string | undefined;
  /** of the columns of growth; missing where there are none */
  readonly gauge: Gauge | undefined;
  /** time of day of the first row; missing where the record counts from its start */
  readonly startsAt: Time | undefined;
  /** names of the columns that hold a length */
  readonly growths: readonly string[];
  /** names of the columns that hold a temperature */
  readonly thermometers: readonly string[];
  /** what the reader should know of the record */
  readonly notes: readonly string[];
  /** the file that the record came from */
  readonly file: SheetFile | undefined;

  /** @internal made by `parseWarmUp` */
  constructor(private readonly content: WarmUpContent) {
    const { name, date, gauge, startSeconds, growths, thermometers, notes } = content;
    this.name = name;
    this.date = date;
    this.gauge = gauge;
    this.startsAt = startSeconds === undefined ? undefined : Quantity.fromSi("time", startSeconds);
    this.growths = Object.freeze(growths.map((column) => column.name));
    this.thermometers = Object.freeze(thermometers.map((column) => column.name));
    this.notes = Object.freeze([...notes]);
    this.file = content.file;
    Object.freeze(this);
  }

  /** from the first row to the last */
  get lasts(): Time {
    return minutes(this.content.lastMinute);
  }

  /** @internal the columns as plain numbers, for drawing and tables */
  columns(): readonly (WarmUpColumn & { readonly kind: "growth" | "temperature" })[] {
    const { growths, thermometers } = this.content;
    return [
      ...growths.map((column) => ({ ...column, kind: "growth" as const })),
      ...thermometers.map((column) => ({ ...column, kind: "temperature" as const })),
    ];
  }

  /**
   * The settling curve of a growth, sign and angles of the gauge put in; the only one where no name is given.
   *
   * @throws MeasurementError `no-such-column`, and all that `heat.settling` refuses
   */
  growth(column?: string, options: { readonly timeConstants?: 1 | 2 } = {}): Settling<"length"> {
    const { name, minute, value } = this.find("growth", this.content.growths, column);
    const resolution: Length = stepOf(this.gauge!);
    return settling({ name, times: minute.map(minutes), values: value.map(um), resolution, ...options });
  }

  /**
   * The settling curve of a thermometer; the only one where no name is given.
   *
   * @throws MeasurementError `no-such-column`, and all that `heat.settling` refuses
   */
  temperature(column?: string, options: { readonly timeConstants?: 1 | 2 } = {}): Settling<"temperature difference"> {
    const { name, minute, value } = this.find("temperature", this.content.thermometers, column);
    const resolution = Quantity.fromSi("temperature difference", this.content.thermometerStep);
    const values = value.map((celsius): Temperature => Quantity.fromSi("temperature", celsius + 273.15));
    return settling<Temperature>({ name, times: minute.map(minutes), values, resolution, ...options });
  }

  /**
   * The rows between two moments, counted from the first row of this record; the part's own times start at its first row. For
   * a record of warming up and cooling down: each of the two settles by itself.
   *
   * @throws MeasurementError `span` where fewer than two rows lie between them
   */
  between(from: Time, to: Time): WarmUp {
    const [low, high] = [from.in("min"), to.in("min")];
    const all = [...new Set(this.columns().flatMap(({ minute }) => minute))].filter((t) => t >= low && t <= high);
    const start = Math.min(...all);
    if (!(all.length >= 2)) {
      throw new MeasurementError(
        "span",
        `${this.name}: ${counted(all.length, "row")} from ${from.text("min")} to ${to.text("min")}; the record runs from 0 min to ${this.lasts.text("min")}, give a longer span of it`,
      );
    }
    const cut = (column: WarmUpColumn): WarmUpColumn => {
      const kept = column.minute.flatMap((t, i) => (t >= low && t <= high ? [i] : []));
      return {
        name: column.name,
        minute: kept.map((i) => column.minute[i]! - start),
        value: kept.map((i) => column.value[i]!),
      };
    };
    const { growths, thermometers, startSeconds } = this.content;
    return new WarmUp({
      ...this.content,
      startSeconds: startSeconds === undefined ? undefined : startSeconds + 60 * start,
      lastMinute: Math.max(...all) - start,
      growths: growths.map(cut),
      thermometers: thermometers.map(cut),
    });
  }

  /** What was read, how long and how often. */
  toString(): string {
    const rows = Math.max(...this.columns().map(({ minute }) => minute.length));
    const growths = this.growths.length > 0 ? `growth of ${this.growths.join(", ")}` : "no growth";
    const warm = this.thermometers.length > 0 ? `thermometers ${this.thermometers.join(", ")}` : "no thermometer";
    return `${this.name}: ${rows} moments over ${Math.round(this.content.lastMinute)} min, ${growths}, ${warm}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private find(what: string, columns: readonly WarmUpColumn[], name: string | undefined): WarmUpColumn {
    const found = name === undefined ? columns : columns.filter((column) => column.name === name.toLowerCase());
    if (found.length === 1) return found[0]!;
    const given = name === undefined ? `has ${columns.length} columns of ${what}` : `has no ${what} "${name}"`;
    const names = columns.map((column) => column.name);
    throw new MeasurementError(
      "no-such-column",
      `${this.name}: ${given}; ${names.length > 0 ? `give one of ${names.join(", ")}` : `a column of ${what} is needed, read the record again with one`}`,
    );
  }
}
