import { MeasurementError } from "../measurement-error.js";
import { counted } from "../words.js";

/** One independent part of a combined uncertainty. */
export interface VarianceLine {
  readonly label: string;
  /** |sensitivity| × standard uncertainty, in the unit of the result */
  readonly contribution: number;
  readonly degreesOfFreedom: number;
}

/**
 * Effective degrees of freedom of a combined standard uncertainty (Welch–Satterthwaite formula).
 *
 * A line taken as exactly known has `degreesOfFreedom: Infinity` and drops out. The lines must be uncorrelated, and each
 * spread estimated from readings of its own; lines that share an estimate are to be combined into one first.
 *
 * @param lines all in the unit of the result
 * @returns ν_eff, not rounded; JCGM 100 G.4.1 truncates it before looking up k
 * @throws MeasurementError `no-uncertainty` when no line contributes
 * @see JCGM 100:2008, annex G.4
 * @example
 * uncertainty.effectiveDegreesOfFreedom([
 *   { label: "repeatability", contribution: 3, degreesOfFreedom: 9 },
 *   { label: "certificate", contribution: 4, degreesOfFreedom: Infinity },
 * ]) // => 69.44444444444444
 */
export function effectiveDegreesOfFreedom(lines: readonly VarianceLine[]): number {
  // scaled by the largest line, so that no unit makes a fourth power overflow or vanish
  const scale = lines.reduce((most, line) => Math.max(most, Math.abs(line.contribution)), 0);
  if (!(scale > 0)) {
    throw new MeasurementError(
      "no-uncertainty",
      `effectiveDegreesOfFreedom: ${counted(lines.length, "budget line sums", "budget lines sum")} to variance 0; at least one contribution must be greater than zero`,
    );
  }
  let variance = 0;
  let spread = 0;
  for (const { contribution, degreesOfFreedom } of lines) {
    const part = (contribution / scale) ** 2;
    variance += part;
    spread += (part * part) / degreesOfFreedom;
  }
  return variance ** 2 / spread;
}
