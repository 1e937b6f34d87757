import { MeasurementError } from "../measurement-error.js";
import type { Time } from "../quantity/index.js";

/** Money as the reader states it. */
export interface Outlay {
  readonly amount: number;
  /** three letters of ISO 4217: "EUR", "GBP" */
  readonly currency: string;
}

/** What an option asks of the reader; what is left out is printed as "not given" and never taken as zero. */
export interface Effort {
  readonly hours?: Time;
  readonly outlay?: Outlay;
}

/**
 * Money laid out for an option.
 *
 * @throws MeasurementError `outlay`
 * @example
 * decision.outlay(120, "EUR").currency // => "EUR"
 */
export function outlay(amount: number, currency: string): Outlay {
  if (!(amount >= 0) || !Number.isFinite(amount)) {
    throw new MeasurementError("outlay", `outlay: ${amount} is not a sum of money; give zero or more`);
  }
  if (!/^[A-Z]{3}$/.test(currency)) {
    throw new MeasurementError(
      "outlay",
      `outlay: "${currency}" is not a currency; give the three letters of ISO 4217, such as "EUR"`,
    );
  }
  return Object.freeze({ amount, currency });
}

/** "2 h, 120 EUR"; "not given" where nothing was. */
export function hoursText({ hours }: Effort): string {
  return hours ? hours.text("h") : "not given";
}

export function outlayText({ outlay: sum }: Effort): string {
  return sum ? `${sum.amount} ${sum.currency}` : "not given";
}
