import { MeasurementError } from "../measurement-error.js";
import { display, type MimeBundle, minutes, Quantity, type Time } from "../quantity/index.js";
import { Measured } from "../uncertainty/index.js";
import { limitOf, minuteOf, spanOf } from "./settling-checks.js";
import type { SettlingContent, SettlingKind, SettlingReading } from "./settling-content.js";
import {
  centralPartials,
  changeWithin,
  type Figure,
  lastCrossing,
  leftAt,
  oneAt,
  rateAt,
  type SettlingParameters,
  valueAt,
  valuePartials,
} from "./settling-curve.js";
import type { Evidence } from "./settling-fit.js";
import { measuredParameters, notesOf } from "./settling-measured.js";
import { Wait } from "./wait.js";

/**
 * A warm-up or cooling curve fitted to a record: y₀ + a (1 − exp(−t/τ)) with one or two time constants, t from the first
 * reading. Its figures share the inputs of the fit, so that they stay correlated in later budgets.
 */
export class Settling<D extends SettlingKind> {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly kind: D;
  readonly name: string;
  /** the quickest first */
  readonly timeConstants: readonly Measured<"time">[];
  /** all that it changes by, from the first reading to the end */
  readonly total: Measured<D>;
  /** what was still to come at the last reading */
  readonly remaining: Measured<D>;
  /** scatter of one reading about the curve, not below what the resolution leaves */
  readonly scatter: Quantity<D>;
  readonly degreesOfFreedom: number;
  /** how the evidence was shared among the curves tried */
  readonly evidence: readonly Evidence[];
  /** what the reader should know of the fit */
  readonly notes: readonly string[];
  private readonly parameters: SettlingParameters;
  private readonly measured: readonly Measured<"number">[];
  private readonly readings: readonly SettlingReading[];

  /** @internal made by `settling` */
  constructor({ kind, name, readings, fit }: SettlingContent<D>) {
    this.kind = kind;
    this.name = name;
    this.readings = readings;
    this.parameters = fit.parameters;
    this.measured = measuredParameters(name, fit);
    this.degreesOfFreedom = fit.degreesOfFreedom;
    this.evidence = fit.evidence;
    this.scatter = this.quantity(fit.standardDeviation);
    this.timeConstants = fit.parameters.flatMap((tau, k) =>
      k > 0 && k % 2 === 0 ? [this.time(tau, oneAt(k, fit.parameters.length))] : [],
    );
    this.total = this.change((p) => leftAt(p, 0));
    this.remaining = this.change((p) => leftAt(p, this.lastMinute));
    this.notes = notesOf(fit, this.lastMinute, Math.max(...fit.parameters.filter((_, k) => k > 0 && k % 2 === 0)));
    Object.freeze(this);
  }

  /** the slowest time constant, which decides how long to wait */
  get timeConstant(): Measured<"time"> {
    return this.timeConstants.at(-1)!;
  }

  /** readings of the record */
  toArray(): readonly SettlingReading[] {
    return this.readings;
  }

  /** @internal minutes from the first reading to the last */
  get lastMinute(): number {
    return this.readings.at(-1)!.minute;
  }

  /** @internal the curve and its standard uncertainty, µm or K, for drawing */
  bandAt(minute: number): { readonly value: number; readonly standardUncertainty: number } {
    const value = this.combined(valuePartials(this.parameters, minute), "number", 0);
    return { value: valueAt(this.parameters, minute), standardUncertainty: value.standardUncertainty.si };
  }

  /**
   * What comes between two moments, counted from the first reading: what a survey taken meanwhile has in it.
   *
   * @throws MeasurementError `before-the-record` where a moment lies before the first reading
   */
  changeBetween(from: Time, to: Time): Measured<D> {
    const [start, end] = [from, to].map((moment) => minuteOf("changeBetween", moment));
    return this.change((p) => leftAt(p, start!) - leftAt(p, end!));
  }

  /**
   * How long until it changes by less than a limit per span of time, as a rate: 1 µm in 10 min.
   *
   * @throws MeasurementError `limit`
   */
  waitUntilRate({ change, per }: { readonly change: Quantity<D>; readonly per: Time }): Wait {
    const limit = limitOf(this.kind, "waitUntilRate", change);
    const span = spanOf("waitUntilRate", per);
    const rate: Figure = (p, t) => span * rateAt(p, t);
    return this.wait(`the rate is below ${change} in ${per}`, rate, limit);
  }

  /**
   * How long until two surveys some time apart agree: until less than a limit comes within that time.
   *
   * @throws MeasurementError `limit`
   */
  waitUntilAgreement({ change, apart }: { readonly change: Quantity<D>; readonly apart: Time }): Wait {
    const limit = limitOf(this.kind, "waitUntilAgreement", change);
    const span = spanOf("waitUntilAgreement", apart);
    return this.wait(`two readings ${apart} apart agree to ${change}`, changeWithin(span), limit);
  }

  /**
   * How long until less than a limit is still to come.
   *
   * @throws MeasurementError `limit`
   */
  waitUntilLeft(change: Quantity<D>): Wait {
    return this.wait(`less than ${change} is still to come`, leftAt, limitOf(this.kind, "waitUntilLeft", change));
  }

  /**
   * How long until a share of the whole change is done, such as 0.95.
   *
   * @throws MeasurementError `limit`
   */
  waitUntilShare(share: number): Wait {
    if (!(share > 0 && share < 1)) {
      throw new MeasurementError("limit", `waitUntilShare: ${share}; give a share between 0 and 1, such as 0.95`);
    }
    const relative: Figure = (p, t) => leftAt(p, t) / leftAt(p, 0);
    return this.wait(`${Number((100 * share).toPrecision(6))} % of the change is done`, relative, 1 - share);
  }

  /** Total change and time constants, in one line. */
  toString(): string {
    const taus = this.timeConstants.map((tau) => tau.text("min")).join(" and ");
    const verb = this.total.value.si >= 0 ? "rise" : "fall";
    const size = this.total.times(this.total.value.si >= 0 ? 1 : -1);
    return `${this.name}: the readings ${verb} by ${size} in all, time constant${this.timeConstants.length > 1 ? "s" : ""} ${taus}; ${this.remaining} still to come at the last reading`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private wait(what: string, figure: Figure, limit: number): Wait {
    const p = this.parameters;
    const minute = lastCrossing(figure, p, limit);
    // implicit function: the moment moves so that the figure stays at the limit
    const moment = (parameters: SettlingParameters) => lastCrossing(figure, parameters, limit);
    const partials = minute > 0 ? centralPartials(moment, p, 1e-5, Math.max(...p.map(Math.abs))) : p.map(() => 0);
    return new Wait(what, this.name, this.time(minute, partials), minutes(this.lastMinute));
  }

  private change(figure: (p: SettlingParameters) => number): Measured<D> {
    const p = this.parameters;
    const size = Math.max(...p.filter((_, k) => k % 2 === 1).map(Math.abs));
    return this.combined(
      centralPartials((q) => figure(q), p, 1e-4, size),
      this.kind,
      this.quantity(figure(p)).si,
      this.quantity(1).si,
    );
  }

  private time(minute: number, partials: readonly number[]): Measured<"time"> {
    return this.combined(partials, "time", minute * 60, 60);
  }

  private combined<K extends "number" | "time" | SettlingKind>(
    partials: readonly number[],
    kind: K,
    si: number,
    perUnit = 1,
  ): Measured<K> {
    const terms = this.measured.flatMap((parameter, k) =>
      parameter.terms.map(({ input: base, sensitivity }) => ({
        input: base,
        sensitivity: sensitivity * partials[k]! * perUnit,
      })),
    );
    return Measured.of(Quantity.fromSi(kind, si), terms);
  }

  private quantity(value: number): Quantity<D> {
    return Quantity.fromSi(this.kind, this.kind === "length" ? value * 1e-6 : value);
  }
}
