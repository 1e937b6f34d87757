import { MeasurementError } from "../measurement-error.js";
import { leastSquares } from "../numerics/index.js";
import { type Length, MPa, mm, type Pressure } from "../quantity/index.js";
import { counted } from "../words.js";

/** below this chip thickness the power law is not kept to by the metal: it is taken as if the chip were so thick */
const floorMm = 0.05;

/** Specific cutting force by Kienzle's power law; made by `facing.kienzle`. */
export interface Kienzle {
  /** at a chip of 1 mm × 1 mm */
  readonly kc11: Pressure;
  /** exponent m_c */
  readonly mc: number;
  /** k_c at a mean chip thickness; below 0.05 mm that of 0.05 mm */
  readonly at: (chip: Length) => Pressure;
}

/**
 * Kienzle's law k_c = k_c1.1 · h^(−m_c), h in mm, fitted to a table of specific forces by least squares of the logarithms.
 *
 * Tables of makers differ by 5 to 20 %, and the law is held at 0.05 mm for thinner chips: there the cutter rubs, and the
 * force may be larger.
 *
 * @throws MeasurementError `kienzle`
 * @example
 * facing.kienzle([{ chip: mm(0.1), force: MPa(1000) }, { chip: mm(1), force: MPa(500) }]).mc.toFixed(3) // => "0.301"
 */
export function kienzle(rows: readonly { readonly chip: Length; readonly force: Pressure }[]): Kienzle {
  const chips = rows.map(({ chip }) => chip.in("mm"));
  const forces = rows.map(({ force }) => force.in("MPa"));
  if (!(new Set(chips).size >= 2 && [...chips, ...forces].every((value) => value > 0))) {
    throw new MeasurementError(
      "kienzle",
      `kienzle: ${counted(rows.length, "row gives", "rows give")} no law; give two or more different chip thicknesses with their forces, all above zero`,
    );
  }
  const fit = leastSquares([chips.map(() => 1), chips.map(Math.log)], forces.map(Math.log));
  const [level, slope] = [fit.coefficients[0]!, fit.coefficients[1]!];
  return {
    kc11: MPa(Math.exp(level)),
    mc: -slope,
    at: (chip) => MPa(Math.exp(level + slope * Math.log(Math.max(chip.in("mm"), floorMm)))),
  };
}

/**
 * Mean chip thickness of a face cutter: feed per tooth × (cos φ1 − cos φ2) / (φ2 − φ1), for a cut that begins at the rim.
 *
 * @throws MeasurementError `engagement`
 * @example
 * facing.meanChip({ feedPerTooth: mm(0.1), engagedWidth: mm(50), cutterDiameter: mm(50) }).in("mm").toFixed(4) // => "0.0637"
 */
export function meanChip(input: {
  readonly feedPerTooth: Length;
  readonly engagedWidth: Length;
  readonly cutterDiameter: Length;
}): Length {
  const share = input.engagedWidth.si / input.cutterDiameter.si;
  if (!(share > 0 && share <= 1)) {
    throw new MeasurementError(
      "engagement",
      `meanChip: a width of ${input.engagedWidth.text("mm")} is no part of a cutter of ${input.cutterDiameter.text("mm")}; give a width above zero and up to the diameter`,
    );
  }
  return mm((input.feedPerTooth.in("mm") * 2 * share) / Math.acos(1 - 2 * share));
}
