import { MeasurementError } from "../measurement-error.js";
import { type Length, Quantity } from "../quantity/index.js";
import type { NamedPeriod } from "./positioning-targets.js";

/** What turns in the drive of an axis: each leaves a deviation that comes back with it. */
export interface DrivePeriods {
  /** travel in one turn of the screw */
  readonly lead?: Length;
  /** travel in one turn of the motor, where it differs */
  readonly motorTurn?: Length;
  /** travel from tooth to tooth of a belt or gear */
  readonly mesh?: Length;
}

/** The periods given, by name. @throws MeasurementError `period` */
export function periodsOf({ lead, motorTurn, mesh }: DrivePeriods, where: string): readonly NamedPeriod[] {
  return (
    [
      ["turn of the screw", lead],
      ["turn of the motor", motorTurn],
      ["tooth mesh", mesh],
    ] as const
  ).flatMap(([name, period]) => {
    if (period === undefined) return [];
    if (period instanceof Quantity && period.kind === "length" && period.si > 0) {
      return [{ name, periodMm: period.in("mm") }];
    }
    throw new MeasurementError(
      "period",
      `${where}: ${name} is ${String(period)}; give the travel of one, such as mm(5)`,
    );
  });
}
