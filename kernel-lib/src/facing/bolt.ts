import { MeasurementError } from "../measurement-error.js";
import { type Area, type Force, type Length, MPa, mm, mm2, newton, type Pressure } from "../quantity/index.js";

/** Property class of a steel screw: tensile strength and yield are in its name. */
export type PropertyClass = "8.8" | "10.9" | "12.9";

/** A coarse metric screw under load. */
export interface Bolt {
  readonly thread: string;
  readonly propertyClass: PropertyClass;
  readonly diameter: Length;
  readonly pitch: Length;
  /** d2 = d − 0.649519 P */
  readonly pitchDiameter: Length;
  /** d3 = d − 1.226869 P */
  readonly rootDiameter: Length;
  /** A_s = π/4 ((d2 + d3)/2)² */
  readonly stressArea: Area;
  /** nominal yield, from the name of the class: 8.8 is 0.8 of 800 N/mm² */
  readonly yieldStrength: Pressure;
  /** proof stress × stress area */
  readonly proofLoad: Force;
}

/** coarse pitch P in mm: ISO 261 */
const pitches: { readonly [thread: string]: number } = { M5: 0.8, M6: 1, M8: 1.25, M10: 1.5, M12: 1.75 };

/** nominal yield and proof stress in N/mm², up to M16: ISO 898-1 */
const classes: { readonly [C in PropertyClass]: readonly [nominalYield: number, proof: number] } = {
  "8.8": [640, 580],
  "10.9": [900, 830],
  "12.9": [1080, 970],
};

/**
 * Coarse metric screw by thread and property class: diameters, stress area, yield and proof load.
 *
 * @throws MeasurementError `unknown-thread`, `property-class`
 * @see ISO 724 (diameters), ISO 898-1 (stress area, proof stress); tabled proof loads differ by up to 0.6 % by rounding
 * @example
 * facing.bolt("M10", "8.8").stressArea.in("mm2").toFixed(1) // => "58.0"
 */
export function bolt(thread: string, propertyClass: PropertyClass): Bolt {
  const pitch = Object.hasOwn(pitches, thread) ? pitches[thread] : undefined;
  if (pitch === undefined) {
    throw new MeasurementError(
      "unknown-thread",
      `bolt: "${thread}" is not in the table of coarse threads; use ${Object.keys(pitches).join(", ")}`,
    );
  }
  if (!Object.hasOwn(classes, propertyClass)) {
    throw new MeasurementError(
      "property-class",
      `bolt: "${propertyClass}" is not a property class of the table; read it on the head of the screw: ${Object.keys(classes).join(", ")}`,
    );
  }
  const [yieldMPa, proofMPa] = classes[propertyClass];
  const diameter = Number(thread.slice(1));
  const [d2, d3] = [diameter - 0.649519 * pitch, diameter - 1.226869 * pitch];
  const area = (Math.PI / 4) * ((d2 + d3) / 2) ** 2;
  return {
    thread,
    propertyClass,
    diameter: mm(diameter),
    pitch: mm(pitch),
    pitchDiameter: mm(d2),
    rootDiameter: mm(d3),
    stressArea: mm2(area),
    yieldStrength: MPa(yieldMPa),
    proofLoad: newton(area * proofMPa),
  };
}
