import { MeasurementError } from "../measurement-error.js";
import { printNumber } from "../quantity/print.js";
import type { Effort, Outlay } from "./effort.js";

/** What is at stake, in the reader's own money or hours. */
export interface Stakes {
  /** what an hour of the reader's is worth; left out, all is counted in hours and no money may be named */
  readonly hourlyValue?: Outlay;
  /** what it costs where the surface does not keep the tolerance after all: the job done over, a spoilt part */
  readonly ifMissed: Effort;
  /** what one more survey of the same places takes */
  readonly measuringAgain: Effort;
}

/** Hours and money of the reader turned into one number. */
export interface Purse {
  /** "EUR", or "h" */
  readonly unit: string;
  /** missing where an hour has no price */
  readonly hourlyValue: number | undefined;
  /** hours and money of an effort, apart */
  partsOf(what: string, effort: Effort): { readonly hours: number; readonly money: number };
  costOf(what: string, effort: Effort): number;
}

/** @throws MeasurementError `stakes` */
export function purseOf({ hourlyValue, ifMissed, measuringAgain }: Stakes): Purse {
  const unit = hourlyValue?.currency ?? "h";
  const perHour = hourlyValue?.amount ?? 1;
  const partsOf = (what: string, { hours, outlay }: Effort) => {
    if (outlay !== undefined && outlay.amount > 0 && outlay.currency !== unit) {
      const wanted = hourlyValue
        ? `give all money in ${unit}, the currency of the hourly value`
        : "give the value of an hour (hourlyValue), so that hours and money can be added";
      refuse(`${what} names ${outlay.amount} ${outlay.currency}; ${wanted}`);
    }
    return { hours: hours?.in("h") ?? 0, money: outlay?.amount ?? 0 };
  };
  const purse: Purse = {
    unit,
    hourlyValue: hourlyValue?.amount,
    partsOf,
    costOf: (what, effort) => {
      const { hours, money } = partsOf(what, effort);
      return hours * perHour + money;
    },
  };
  if (!(purse.costOf("ifMissed", ifMissed) > 0)) {
    refuse("ifMissed is nothing; give the hours or the outlay that it costs where the tolerance is not kept");
  }
  if (!(purse.costOf("measuringAgain", measuringAgain) > 0)) {
    refuse("measuringAgain is nothing; give the hours that one more survey takes");
  }
  return purse;
}

/** "43 EUR", "2.1 h" */
export function sumText(value: number, unit: string): string {
  return `${printNumber(Number(value.toPrecision(Math.abs(value) >= 10 ? 3 : 2)))} ${unit}`;
}

function refuse(sentence: string): never {
  throw new MeasurementError("stakes", `decision.options, stakes: ${sentence}`);
}
