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

/** least major diameter of a 6g screw and greatest pitch diameter of a 6H nut, mm: ASME B1.13M, the same as ISO 965-2. From
 * public copies of its tables but for M12 and the pitch diameters of M5 to M8 (from memory). */
const leastMetalMm: { readonly [thread: string]: readonly [major: number, pitchDiameter: number] } = {
  M5: [4.826, 4.605],
  M6: [5.794, 5.5],
  M8: [7.76, 7.348],
  M10: [9.732, 9.206],
  M12: [11.701, 11.063],
};

/**
 * Area in mm² on which an inner thread shears off: π d (m / P) (P / 2 + (d − D2) tan 30°), m the length engaged, d the major
 * diameter of the screw, D2 the pitch diameter of the nut.
 *
 * @see FED-STD-H28 and ASME B1.1, shear area of the internal thread, as handbooks quote it; VDI 2230 has the same
 */
export function innerThreadShearMm2(
  majorMm: number,
  pitchDiameterMm: number,
  pitchMm: number,
  engagedMm: number,
): number {
  const wide = pitchMm / 2 + (majorMm - pitchDiameterMm) * Math.tan(Math.PI / 6);
  return Math.PI * majorMm * (engagedMm / pitchMm) * wide;
}

/** Area in mm² on which the thread of a nut shears off: the smallest 6g screw in the widest 6H nut. */
export function nutShearAreaMm2({ thread, pitch }: Bolt, engaged: Length): number {
  const [major, pitchDiameter] = leastMetalMm[thread]!;
  return innerThreadShearMm2(major, pitchDiameter, pitch.in("mm"), engaged.in("mm"));
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
  return `${metal}, shear yield 0.577 of it; area of a 6g screw in a 6H nut, the least metal`;
}
