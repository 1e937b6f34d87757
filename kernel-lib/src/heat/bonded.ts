import { type Force, type Length, type Pressure, Quantity, type TemperatureDifference } from "../quantity/index.js";
import type { ExpansionCoefficient, ThermalDrift } from "../quantity/quantity.js";

/** What the two-layer strip is made of. */
export interface BondedStrip {
  readonly length: Length;
  readonly width: Length;
  readonly warming: TemperatureDifference;
  readonly upperThickness: Length;
  readonly lowerThickness: Length;
  readonly upperExpansion: ExpansionCoefficient;
  readonly lowerExpansion: ExpansionCoefficient;
  readonly upperModulus: Pressure;
  readonly lowerModulus: Pressure;
}

/** What it does; a type, not an interface, as the outputs of a model have to be. */
export type BondedFigures = {
  readonly bow: Length;
  readonly bowPerKelvin: ThermalDrift;
  readonly forceFree: Force;
  readonly forceFlat: Force;
};

/**
 * @internal Two layers bonded over their whole length, evenly warm: curvature
 * 6 Δα ΔT (1 + m)² / (h (3 (1 + m)² + (1 + m n)(m² + 1/(m n)))), m = t₁/t₂, n = E₁/E₂, h = t₁ + t₂; bow = curvature × L²/8.
 * Force at mid-length: 2 × curvature × (E₁I₁ + E₂I₂)/h where the pair may bow, Δα ΔT/(1/E₁A₁ + 1/E₂A₂) where it is held flat.
 */
export function bondedFigures(s: BondedStrip): BondedFigures {
  const [t1, t2] = [s.upperThickness.si, s.lowerThickness.si];
  const [e1, e2] = [s.upperModulus.si, s.lowerModulus.si];
  const [m, n, h] = [t1 / t2, e1 / e2, t1 + t2];
  const strainPerKelvin = s.upperExpansion.si - s.lowerExpansion.si;
  const shape = (6 * (1 + m) ** 2) / (h * (3 * (1 + m) ** 2 + (1 + m * n) * (m * m + 1 / (m * n))));
  const bowPerKelvin = (shape * strainPerKelvin * s.length.si ** 2) / 8;
  const bending = (s.width.si * (e1 * t1 ** 3 + e2 * t2 ** 3)) / 12;
  const strain = strainPerKelvin * s.warming.si;
  const flat = (strain * s.width.si) / (1 / (e1 * t1) + 1 / (e2 * t2));
  return {
    bow: Quantity.fromSi("length", bowPerKelvin * s.warming.si),
    bowPerKelvin: Quantity.fromSi("thermal drift", bowPerKelvin),
    forceFree: Quantity.fromSi("force", (2 * shape * strain * bending) / h),
    forceFlat: Quantity.fromSi("force", flat),
  };
}
