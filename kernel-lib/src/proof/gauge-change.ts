import { type Gauge, stepOf } from "../survey/index.js";

/**
 * Standard uncertainty that the error of the gauge leaves in a difference of two of its readings, µm.
 *
 * The error is one smooth unknown curve over the gauge's own reading, the same in both surveys: a wave of unknown length
 * (a sixth of what was read to four times as much, eight steps of the gauge at least, an assumption) and of any size within
 * ± the maximum permissible error. Equal readings share it whole, readings far apart share nothing. Two gauges share
 * nothing anywhere.
 *
 * @param spanUm how far the readings of a survey spread
 * @returns the uncertainty as a function of how far apart two readings lie, µm
 */
export function gaugeChangeUm(before: Gauge, after: Gauge, spanUm: number): (apartUm: number) => number {
  // any size within the limit, and a wave: limit / √3 / √2
  const [a, b] = [before, after].map(({ maximumPermissibleError }) => maximumPermissibleError.in("um") / Math.sqrt(6));
  if (!isOneGauge(before, after)) return () => Math.hypot(a!, b!);
  const lengths = waveShares.map((share) => Math.max(spanUm * share, 8 * stepOf(before).in("um")));
  return (apartUm) => {
    const shared = lengths.reduce((sum, length) => sum + Math.cos((2 * Math.PI * apartUm) / length), 0);
    return a! * Math.sqrt(2 * Math.max(0, 1 - shared / lengths.length));
  };
}

/** Whether two surveys name one and the same gauge. */
export function isOneGauge(a: Gauge, b: Gauge): boolean {
  return (
    a.name === b.name &&
    a.resolution.si === b.resolution.si &&
    a.maximumPermissibleError.si === b.maximumPermissibleError.si
  );
}

/** lengths of the wave in parts of the span, even in their logarithm from 1/6 to 4 */
const waveShares = Array.from({ length: 24 }, (_, i) => 4 * 24 ** -((i + 0.5) / 24));
