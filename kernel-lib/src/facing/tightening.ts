import { MeasurementError } from "../measurement-error.js";
import { type Force, type Length, newton, newtonMetre, type Torque } from "../quantity/index.js";
import type { Bolt } from "./bolt.js";

/** Friction of a screw, 0 to 1: in the thread µ_G and under the head µ_K. */
export interface ScrewFriction {
  readonly thread: number;
  readonly head: number;
}

/** Mean diameter on which the head rubs, D_Km. */
export function headFrictionDiameter(headDiameter: Length, hole: Length): Length {
  return headDiameter.plus(hole).over(2);
}

/**
 * Tightening torque for a preload: M_A = F_M (0.16 P + 0.58 d2 µ_G + D_Km µ_K / 2).
 *
 * @param friction in the thread and under the head
 * @param rubbing mean diameter on which the head rubs, D_Km
 * @throws MeasurementError `friction`
 * @see VDI 2230:2001, formula for M_A (60° thread)
 * @example
 * facing.tighteningTorque(facing.bolt("M10", "8.8"), kN(25), { thread: 0.14, head: 0.14 }, mm(13.5)).in("N.m").toFixed(1) // => "47.9"
 */
export function tighteningTorque(screw: Bolt, preload: Force, friction: ScrewFriction, rubbing: Length): Torque {
  return newtonMetre((preload.in("N") * leverMm(screw, friction, rubbing)) / 1000);
}

/**
 * Preload that a torque gives: the same formula the other way round.
 *
 * @throws MeasurementError `friction`
 * @see VDI 2230:2001
 * @example
 * facing.preloadFromTorque(facing.bolt("M10", "8.8"), newtonMetre(48), { thread: 0.14, head: 0.14 }, mm(13.5)).in("kN").toFixed(1) // => "25.0"
 */
export function preloadFromTorque(screw: Bolt, torque: Torque, friction: ScrewFriction, rubbing: Length): Force {
  return newton((torque.in("N.m") * 1000) / leverMm(screw, friction, rubbing));
}

/**
 * Preload by the short formula T = K d F: one factor for pitch and friction together.
 *
 * A check for the longer formula, with K read from a table for the state of the surfaces (0.20 for dry steel, common
 * practice).
 *
 * @throws MeasurementError `friction`
 * @example
 * facing.preloadByNutFactor(mm(10), newtonMetre(50), 0.2).in("kN").toFixed(1) // => "25.0"
 */
export function preloadByNutFactor(diameter: Length, torque: Torque, factor: number): Force {
  if (!(factor > 0 && factor < 1)) {
    refuse("preloadByNutFactor", `a factor of ${factor}; give K of the short formula, between 0 and 1, such as 0.2`);
  }
  return newton((torque.in("N.m") * 1000) / (factor * diameter.in("mm")));
}

/**
 * Greatest preload of a screw while it is tightened: tension and torsion together at 0.9 of the yield.
 *
 * F_M = A_0 ν R_p / √(1 + 3 (1.5 (d2/d0) (P/(π d2) + 1.155 µ_G))²), d0 of the stress area, ν = 0.9.
 *
 * @throws MeasurementError `friction`
 * @see VDI 2230:2001, assembly preload
 * @example
 * facing.greatestPreload(facing.bolt("M10", "8.8"), 0.12).in("kN").toFixed(1) // => "29.6"
 */
export function greatestPreload(screw: Bolt, threadFriction: number): Force {
  needFriction("greatestPreload", threadFriction);
  const d2 = screw.pitchDiameter.in("mm");
  const d0 = Math.sqrt((4 * screw.stressArea.in("mm2")) / Math.PI);
  const twist = 1.5 * (d2 / d0) * (screw.pitch.in("mm") / (Math.PI * d2) + 1.155 * threadFriction);
  return newton((screw.stressArea.in("mm2") * 0.9 * screw.yieldStrength.in("MPa")) / Math.sqrt(1 + 3 * twist ** 2));
}

/** torque over preload, mm */
function leverMm(screw: Bolt, friction: ScrewFriction, rubbing: Length): number {
  needFriction("tighteningTorque", friction.thread);
  needFriction("tighteningTorque", friction.head);
  const thread = 0.16 * screw.pitch.in("mm") + 0.58 * screw.pitchDiameter.in("mm") * friction.thread;
  return thread + (rubbing.in("mm") * friction.head) / 2;
}

function needFriction(where: string, value: number): void {
  if (value > 0 && value < 1) return;
  refuse(where, `a coefficient of friction of ${value}; give a number between 0 and 1, such as 0.12 for oiled steel`);
}

function refuse(where: string, sentence: string): never {
  throw new MeasurementError("friction", `facing.${where}: ${sentence}`);
}
