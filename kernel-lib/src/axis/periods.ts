import { MeasurementError } from "../measurement-error.js";
import { type Length, Quantity } from "../quantity/index.js";
import { sizeText } from "../quantity/size-text.js";
import type { NamedPeriod } from "./positioning-targets.js";

/** What turns in the drive of an axis: each leaves a deviation that comes back with it. */
export interface DrivePeriods {
  /** travel in one turn of the screw */
  readonly lead?: Length;
  /** travel in one turn of the motor, where it differs */
  readonly motorTurn?: Length;
  /** travel from tooth to tooth of a belt or gear */
  readonly mesh?: Length;
  /**
   * Waves looked for in each turn: 1 is one wave a turn, 2 adds one of half its length (a coupling out of line), and so on.
   * One number for all, or one each. 1 unless given; each wave takes two targets.
   */
  readonly harmonics?: number | { readonly lead?: number; readonly motorTurn?: number; readonly mesh?: number };
}

/** more waves in a turn than this are no longer told by any test of an axis */
const mostHarmonics = 6;

/**
 * The periods given, by name, each with as many harmonics as are looked for.
 *
 * @throws MeasurementError `period` for one that is no length above zero, `harmonics` for a count that is none
 */
export function periodsOf(given: DrivePeriods, where: string): readonly NamedPeriod[] {
  const { lead, motorTurn, mesh } = given;
  return (
    [
      ["lead", "turn of the screw", lead],
      ["motorTurn", "turn of the motor", motorTurn],
      ["mesh", "tooth mesh", mesh],
    ] as const
  ).flatMap(([key, name, period]) => {
    if (period === undefined) return [];
    if (!(period instanceof Quantity && period.kind === "length" && period.si > 0)) {
      throw new MeasurementError(
        "period",
        `${where}: ${name} is ${sizeText(period)}; give the travel of one, such as mm(5)`,
      );
    }
    const count = harmonicsOf(given, key, `${where}: ${name}`);
    return Array.from({ length: count }, (_, k) => ({
      name: k === 0 ? name : `${name}, ${k + 1} waves in one`,
      periodMm: period.in("mm") / (k + 1),
    }));
  });
}

function harmonicsOf({ harmonics }: DrivePeriods, key: "lead" | "motorTurn" | "mesh", where: string): number {
  const count = (typeof harmonics === "object" ? harmonics[key] : harmonics) ?? 1;
  if (Number.isInteger(count) && count >= 1 && count <= mostHarmonics) return count;
  throw new MeasurementError(
    "harmonics",
    `${where}: ${count} harmonics; give a whole number from 1 to ${mostHarmonics}, each takes two targets`,
  );
}
