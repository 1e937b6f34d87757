import { printDecimals } from "../quantity/print.js";

export interface Tick {
  readonly at: number;
  readonly text: string;
}

/** Round step (1, 2 or 5 times a power of ten) that divides a span into about `count` parts. */
export function roundStep(span: number, count: number): number {
  const rough = span / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const lead = rough / power;
  return power * (lead < 1.5 ? 1 : lead < 3.5 ? 2 : lead < 7.5 ? 5 : 10);
}

/** Ticks inside a span, at round values; with `sign` −1 the axis is drawn the other way round and the texts say the
 * coordinate as it stands on the sheet. */
export function ticks(from: number, to: number, count: number, sign: 1 | -1 = 1): readonly Tick[] {
  const step = roundStep(to - from, count);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => {
    const at = Number(((first + i) * step).toPrecision(12));
    return { at, text: printDecimals(sign * at, decimals) };
  });
}

const roundLimits = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];

/** The smallest round number that is not below the one given. */
export function roundUp(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const lead = roundLimits.find((limit) => limit * power >= value * (1 - 1e-9)) ?? 10;
  return Number((lead * power).toPrecision(12));
}
