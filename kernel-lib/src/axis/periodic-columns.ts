import { leastSquares } from "../numerics/index.js";
import { printNumber } from "../quantity/print.js";

/** A period that a fit may look for, and how well these targets can see it. */
export interface PeriodColumns {
  readonly name: string;
  readonly periodMm: number;
  readonly cos: readonly number[];
  readonly sin: readonly number[];
  /** why it can't be told at these targets; empty where it can */
  readonly aliased: string;
}

/** below this part of its variance left beside constant, slope and the periods before it, a wave is not told from them */
const leastLeft = 0.1;

/** Columns of each period at the targets; one that looks like a constant, a slope or another period is marked. */
export function periodColumns(
  targetsMm: readonly number[],
  periods: readonly { readonly name: string; readonly periodMm: number }[],
): readonly PeriodColumns[] {
  const base: (readonly number[])[] = [targetsMm.map(() => 1), targetsMm];
  return periods.map(({ name, periodMm }) => {
    const wave = (of: (angle: number) => number) => targetsMm.map((at) => of((2 * Math.PI * at) / periodMm));
    const [cos, sin] = [wave(Math.cos), wave(Math.sin)];
    const told = stands(cos, base) && stands(sin, [...base, cos]);
    if (told) base.push(cos, sin);
    return { name, periodMm, cos, sin, aliased: told ? "" : aliasWords(targetsMm, name, periodMm) };
  });
}

function stands(column: readonly number[], others: readonly (readonly number[])[]): boolean {
  if (column.length <= others.length + 1) return false;
  return leastSquares(others, column).residualSumOfSquares > leastLeft * (column.length / 2);
}

function aliasWords(targetsMm: readonly number[], name: string, periodMm: number): string {
  const turns = targetsMm.slice(1).map((at, i) => (at - targetsMm[i]!) / periodMm);
  const whole = turns.every((turn) => Math.round(turn) >= 1 && Math.abs(turn - Math.round(turn)) < 0.08);
  const why = whole
    ? "the targets stand whole periods apart, so that it looks like a constant"
    : "at these targets it looks like a slope, a constant or another period";
  return `${name} (${printNumber(periodMm)} mm): ${why}; it can't be told, choose targets with random offsets`;
}
