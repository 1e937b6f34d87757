import type { TwoWayAnova } from "../numerics/index.js";
import type { Length } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { type Gauge, type Repeatability, stepOf } from "./gauge.js";

/** above this p-value the interaction is taken into the repeats */
export const poolAbove = 0.25;

/** Whether the interaction was kept, and why. */
export function interactionNote(
  { interaction }: TwoWayAnova,
  kept: boolean,
  said: boolean,
  { part, operator }: { readonly part: string; readonly operator: string },
): string {
  const p = interaction.p < 0.001 ? "below 0.001" : interaction.p.toFixed(3);
  const what = `whether ${operator}s differ more at some ${part}s than at others (the interaction): p is ${p}`;
  const done = kept ? "it is kept" : "it is taken into the repeats";
  return `${what}; ${done}, ${said ? "as asked" : `the limit being ${poolAbove} (common practice, no source)`}`;
}

/** Repeats that scatter by less than half a step show the step, not the gauge. */
export function resolutionNotes({ standardDeviation }: Repeatability, gauge: Gauge | undefined): readonly string[] {
  if (standardDeviation.si === 0) {
    return ["all repeats agree: the step of the gauge hides its scatter, which is no proof that there is none"];
  }
  const step = gauge && stepOf(gauge);
  if (!step || standardDeviation.si >= step.si / 2) return [];
  return [
    `the repeats scatter by ${short(standardDeviation)}, less than half a step of ${step}: take ${short(step.over(Math.sqrt(12)))} (step/√12) at least for one reading`,
  ];
}

/** three significant digits */
export function short(length: Length): string {
  return Math.abs(length.in("um")) < 1000
    ? `${printNumber(length.in("um"), 3)} µm`
    : `${printNumber(length.in("mm"), 3)} mm`;
}
