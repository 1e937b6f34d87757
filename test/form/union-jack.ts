import { type LevelNetwork, levelNetwork, levelRuns, unionJackLines } from "../../kernel-lib/src/form/index.js";
import { mm, umPerM } from "../../kernel-lib/src/quantity/index.js";
import type { Frame } from "../../kernel-lib/src/survey/index.js";

export const frame: Frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
export const instrument = { name: "block level", resolution: umPerM(0.01), maximumPermissibleError: umPerM(0.01) };
export const lines = unionJackLines({ xMm: [0, 480], yMm: [0, 360] }, mm(60));

type Height = (xMm: number, yMm: number) => number;

/** Readings in µm/m of all lines, a list a line, what `noise` gives added to each. */
export function readingsOn(height: Height, noise: () => number = () => 0): number[][] {
  return lines.map(({ start, end, steps }) => {
    const at = (i: number) =>
      height(start.xMm + ((end.xMm - start.xMm) * i) / steps, start.yMm + ((end.yMm - start.yMm) * i) / steps);
    return Array.from({ length: steps }, (_, i) => (at(i + 1) - at(i)) / 0.06 + noise());
  });
}

export function networkOf(
  readings: readonly (readonly number[])[],
  turned?: readonly (readonly number[])[],
): LevelNetwork {
  const runs = lines.map((line, i) => ({
    ...line,
    readings: readings[i]!.map((v) => umPerM(v)),
    ...(turned ? { turned: turned[i]!.map((v) => umPerM(-v)) } : {}),
  }));
  return levelNetwork({ name: "plate", frame, instrument, zero: "a line", tilt: "not wanted", ...levelRuns(runs) });
}

/**
 * The classical arithmetic: each diagonal turned until its ends stand alike and its middle at zero, each side laid
 * between the corners so found, each middle line between the middles of the sides.
 *
 * @returns heights by label, in µm
 */
export function classicalHeights(readings: readonly (readonly number[])[]): Map<string, number> {
  const heights = new Map<string, number>();
  const label = (line: (typeof lines)[number], i: number) => {
    const { start, end, steps } = line;
    const x = start.xMm + ((end.xMm - start.xMm) * i) / steps;
    const y = start.yMm + ((end.yMm - start.yMm) * i) / steps;
    return `(${Number(x.toFixed(1))}, ${Number(y.toFixed(1))})`;
  };
  const summed = (values: readonly number[]) => {
    const sums = [0];
    for (const v of values) sums.push(sums.at(-1)! + v * 0.06);
    return sums;
  };
  const lay = (k: number, from: number, to: number, shift = 0) => {
    const line = lines[k]!;
    const sums = summed(readings[k]!);
    sums.forEach((z, i) => {
      const at = label(line, i);
      const value = z + from + ((to - from - sums.at(-1)!) * i) / line.steps + shift;
      if (!heights.has(at)) heights.set(at, value);
    });
  };
  for (const k of [4, 5]) {
    const sums = summed(readings[k]!);
    const middle = lines[k]!.steps / 2;
    lay(k, 0, 0, -(sums[middle]! - sums.at(-1)! / 2));
  }
  for (const k of [0, 1, 2, 3, 6, 7]) {
    const line = lines[k]!;
    lay(k, heights.get(label(line, 0))!, heights.get(label(line, line.steps))!);
  }
  return heights;
}
