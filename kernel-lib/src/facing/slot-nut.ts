import { type Length, MPa, type Pressure } from "../quantity/index.js";
import type { Bolt } from "./bolt.js";

/** A nut in a T-slot. */
export interface SlotNut {
  /** along the slot */
  readonly length: Length;
  /** across the slot, at its widest */
  readonly width: Length;
  /** of the thread in it */
  readonly threadHeight: Length;
  /** from the top of the table down to where its thread begins */
  readonly threadBelowTable: Length;
  /** yield or proof stress of its metal; mild steel, 235 N/mm², where left out */
  readonly proofStress?: Pressure;
}

/** lowest common grade of mild steel */
const mildSteel = MPa(235);

/**
 * Area in mm² on which the thread of a nut shears off: π d (m / P) (P / 2 + (d − d2) tan 30°), m the length engaged.
 *
 * @see VDI 2230, shear area of the nut's thread (from memory), nominal diameters
 */
export function nutShearAreaMm2({ diameter, pitch, pitchDiameter }: Bolt, engaged: Length): number {
  const [d, p] = [diameter.in("mm"), pitch.in("mm")];
  const wide = p / 2 + (d - pitchDiameter.in("mm")) * Math.tan(Math.PI / 6);
  return Math.PI * d * (engaged.in("mm") / p) * wide;
}

/** Force in N at which the metal of the nut yields in shear along the thread. */
export function nutThreadN(screw: Bolt, { nut, engaged }: { nut: SlotNut; engaged: Length }): number {
  const yieldMPa = (nut.proofStress ?? mildSteel).in("MPa");
  return nutShearAreaMm2(screw, engaged) * 0.577 * yieldMPa;
}

/** what the force of a nut's thread rests on, in words */
export function nutThreadSource({ proofStress }: SlotNut): string {
  const metal = proofStress
    ? `${proofStress.in("MPa").toFixed(0)} N/mm² as given`
    : "mild steel taken, 235 N/mm² (EN 10025-2, from memory)";
  return `${metal}, shear yield 0.577 of it; area by VDI 2230`;
}
