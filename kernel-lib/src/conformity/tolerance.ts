import { MeasurementError } from "../measurement-error.js";
import { type Kind, Quantity, type UnitSystem } from "../quantity/index.js";
import type { Measured } from "../uncertainty/index.js";

/** What is allowed: an upper limit, a lower one, or both. */
export interface Tolerance<K extends Kind> {
  readonly upper?: Quantity<K>;
  readonly lower?: Quantity<K>;
  /** who says so: a standard, the maker's sheet, the job */
  readonly source?: string;
}

/** "at most 20 µm", "between 12 mm and 13 mm" */
export function toleranceText<K extends Kind>({ upper, lower }: Tolerance<K>, system?: UnitSystem): string {
  if (upper && lower) return `between ${lower.text(system)} and ${upper.text(system)}`;
  return upper ? `at most ${upper.text(system)}` : `at least ${lower?.text(system)}`;
}

/** @throws MeasurementError `tolerance` */
export function checkTolerance<K extends Kind>(where: string, measured: Measured<K>, tolerance: Tolerance<K>): void {
  checkLimits(where, measured.kind, tolerance);
}

/** @throws MeasurementError `tolerance` */
export function checkLimits<K extends Kind>(where: string, kind: K, tolerance: Tolerance<K>): void {
  const limits = [tolerance.lower, tolerance.upper].filter((limit) => limit !== undefined);
  if (limits.length === 0) {
    throw new MeasurementError("tolerance", `${where}: no limit is given; give upper, lower or both`);
  }
  for (const limit of limits) {
    if (limit instanceof Quantity && limit.kind === kind) continue;
    throw new MeasurementError(
      "tolerance",
      `${where}: the limit ${String(limit)} is no ${kind}; give it as the measured value is given`,
    );
  }
  if (limits.length === 2 && !(tolerance.lower!.si < tolerance.upper!.si)) {
    throw new MeasurementError(
      "tolerance",
      `${where}: the lower limit ${tolerance.lower} is not below the upper limit ${tolerance.upper}; exchange them`,
    );
  }
}
