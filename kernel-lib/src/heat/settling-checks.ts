import { MeasurementError } from "../measurement-error.js";
import type { Quantity, Time } from "../quantity/index.js";
import { withArticle } from "../words.js";
import type { SettlingKind } from "./settling-content.js";

/** @internal a limit in µm or K */
export function limitOf<D extends SettlingKind>(kind: D, where: string, change: Quantity<D>): number {
  if (change.kind === kind && change.si > 0) return kind === "length" ? change.si * 1e6 : change.si;
  throw new MeasurementError("limit", `${where}: ${change}; give ${withArticle(kind)} greater than zero as the limit`);
}

/** @internal a span of time in minutes */
export function spanOf(where: string, span: Time): number {
  if (span.kind === "time" && span.si > 0) return span.in("min");
  throw new MeasurementError("limit", `${where}: ${span}; give a time greater than zero, such as minutes(30)`);
}

/** @internal a moment in minutes from the first reading */
export function minuteOf(where: string, moment: Time): number {
  if (moment.si >= 0) return moment.in("min");
  throw new MeasurementError(
    "before-the-record",
    `${where}: ${moment.text("min")} lies before the first reading; give times from the first reading on`,
  );
}
