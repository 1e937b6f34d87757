import { MeasurementError } from "../measurement-error.js";
import { type Length, Quantity, type Temperature, type Time } from "../quantity/index.js";
import { counted, withArticle } from "../words.js";
import { Settling } from "./settling.js";
import type { SettlingKind } from "./settling-content.js";
import { fitSettling } from "./settling-fit.js";

/** Readings in time: each a growth, or each a temperature. */
export interface SettlingSpec<V extends Length | Temperature> {
  /** what was read: "spindle nose" */
  readonly name: string;
  readonly times: readonly Time[];
  readonly values: readonly V[];
  /** of the gauge or thermometer; the scatter is never believed below what it leaves */
  readonly resolution?: V extends Length ? Length : Quantity<"temperature difference">;
  /** 1 or 2; by the evidence where left out */
  readonly timeConstants?: 1 | 2;
}

/** the kind of what changes */
export type ChangeOf<V> = V extends Length ? "length" : "temperature difference";

const leastReadings = 6;

/**
 * A warm-up or cooling curve through readings in time, with one time constant or two, as the evidence has it.
 *
 * The curve runs to its end by itself: the machine must have been left at one speed, in one room, all the time. The standard
 * errors take the scatter as independent from reading to reading; where the residuals follow each other they are widened.
 *
 * @throws MeasurementError `settling-readings`, `not-settling`
 * @see ISO 230-3 for how such a record is taken; Levenberg–Marquardt in `numerics.nonlinearLeastSquares`
 * @example
 * heat.settling({
 *   name: "spindle",
 *   times: [0, 10, 20, 40, 60, 90, 120, 180].map(minutes),
 *   values: [0, 4.9, 8.5, 13.1, 15.8, 17.9, 19.1, 19.7].map(um),
 *   resolution: um(0.1),
 * }).timeConstants.length // => 1
 */
export function settling<V extends Length | Temperature>(spec: SettlingSpec<V>): Settling<ChangeOf<V>> {
  const { name, times, values, resolution, timeConstants } = spec;
  const where = `settling "${name}"`;
  checkReadings(where, times, values);
  const isLength = values[0]!.kind === "length";
  const size = isLength ? 1e6 : 1;
  const start = times[0]!.in("min");
  const t = times.map((time) => time.in("min") - start);
  const y = (values as readonly Pick<Length, "si">[]).map(({ si }) => (isLength ? si * size : si - 273.15));
  const step = resolution === undefined ? 0 : resolution.si * size;
  const fit = fitSettling(where, t, y, step, timeConstants);
  return new Settling<ChangeOf<V>>({
    kind: (isLength ? "length" : "temperature difference") as SettlingKind as ChangeOf<V>,
    name,
    readings: t.map((minute, i) => ({ minute, value: y[i]! })),
    fit: inOrderOfTime(fit),
  });
}

/** the quicker time constant first */
function inOrderOfTime(fit: ReturnType<typeof fitSettling>): ReturnType<typeof fitSettling> {
  const { parameters: p, covariance } = fit;
  if (p.length < 5 || p[2]! <= p[4]!) return fit;
  const order = [0, 3, 4, 1, 2];
  return {
    ...fit,
    parameters: order.map((k) => p[k]!),
    covariance: order.map((i) => order.map((j) => covariance[i]![j]!)),
  };
}

function checkReadings(
  where: string,
  times: readonly Time[],
  values: readonly Quantity<"length" | "temperature">[],
): void {
  const refuse = (what: string): never => {
    throw new MeasurementError("settling-readings", `${where}: ${what}`);
  };
  if (times.length !== values.length) {
    refuse(`${times.length} times for ${values.length} readings; give the time of each reading`);
  }
  if (times.length < leastReadings) {
    refuse(
      `${counted(times.length, "reading")}; a curve with its uncertainty needs ${leastReadings} at least, read on`,
    );
  }
  const kind = values[0]!.kind;
  const other = values.findIndex((value) => value.kind !== kind || !["length", "temperature"].includes(value.kind));
  if (other >= 0) {
    refuse(
      `reading ${other + 1} is ${values[other]}, ${values[other] instanceof Quantity ? withArticle(values[other].kind) : "no quantity"}; give lengths throughout, or temperatures throughout`,
    );
  }
  const wrong = times.findIndex((time) => time.kind !== "time");
  if (wrong >= 0) refuse(`time ${wrong + 1} is ${times[wrong]}; give times such as minutes(10)`);
  const back = times.findIndex((time, i) => i > 0 && !(time.si > times[i - 1]!.si));
  if (back >= 0) {
    refuse(
      `time ${back + 1} is ${times[back]!.text("min")}, not after the ${times[back - 1]!.text("min")} before it; put the readings in the order of time, one a moment`,
    );
  }
}
