import { MeasurementError } from "../measurement-error.js";
import { type Density, GPa, gPerCm3, MPa, type Pressure } from "../quantity/index.js";

/** What a plate is made of, as far as bending and bearing go. */
export interface PlateMaterial {
  readonly name: string;
  readonly modulus: Pressure;
  /** limits of the modulus as a share of it: 0.03 for ± 3 % */
  readonly modulusWithin: number;
  readonly poisson: number;
  readonly density: Density;
  /** 0.2 % proof stress, least: pressure under a head stays below it */
  readonly proofStress: Pressure;
  readonly source: string;
}

/** modulus GPa, its limits, Poisson's ratio, density g/cm³, least proof stress N/mm² */
const table = {
  "aluminium 6061-T651": [69, 0.03, 0.33, 2.7, 240],
  "aluminium 5083-O": [70, 0.03, 0.33, 2.66, 115],
  "mild steel": [207, 0.02, 0.3, 7.85, 235],
  "grey iron": [101, 0.11, 0.26, 7.15, 100],
} as const;

/** A material of the table of plates. */
export type PlateMaterialName = keyof typeof table;

/**
 * Plate material by name: modulus with its limits, Poisson's ratio, density, least 0.2 % proof stress.
 *
 * Moduli of 6061, steel and grey iron (G3000): Callister, appendix B.2; the rest from memory, common handbook values.
 * For grey iron a pressure is given in place of a proof stress. Give your own figures where you have a certificate.
 *
 * @throws MeasurementError `unknown-material`
 * @example
 * facing.plateMaterial("aluminium 6061-T651").modulus.in("GPa") // => 69
 */
export function plateMaterial(name: PlateMaterialName): PlateMaterial {
  if (!Object.hasOwn(table, name)) {
    throw new MeasurementError(
      "unknown-material",
      `facing.plateMaterial: "${name}" is not in the table; use ${Object.keys(table).join(", ")}, or give the figures of your certificate`,
    );
  }
  const [modulus, modulusWithin, poisson, density, proof] = table[name];
  return {
    name,
    modulus: GPa(modulus),
    modulusWithin,
    poisson,
    density: gPerCm3(density),
    proofStress: MPa(proof),
    source: "handbook values; modulus of 6061, steel and grey iron: Callister B.2, the rest from memory",
  };
}
