import { MeasurementError } from "../measurement-error.js";
import type { Length } from "../quantity/index.js";
import type { LevelRun } from "./level-runs.js";

/** A line of a union jack before it is read. */
export type UnionJackLine = Omit<LevelRun, "readings" | "turned"> & {
  /** how many readings it takes */
  readonly steps: number;
};

/**
 * The eight lines of a union jack over a rectangle: four sides, two diagonals, two middle lines, all with one foot. Give
 * each its `readings` and hand them to `levelRuns`.
 *
 * @param area corners in mm
 * @throws MeasurementError `foot` unless the foot divides sides and diagonals into an even number of steps each
 * @example
 * form.unionJackLines({ xMm: [0, 480], yMm: [0, 360] }, mm(60)).map((line) => line.steps).join() // => "8,8,6,6,10,10,8,6"
 */
export function unionJackLines(
  area: { readonly xMm: readonly [number, number]; readonly yMm: readonly [number, number] },
  foot: Length,
): readonly UnionJackLine[] {
  const [[x0, x1], [y0, y1]] = [area.xMm, area.yMm];
  const [xm, ym] = [(x0 + x1) / 2, (y0 + y1) / 2];
  const lines = [
    ["front", x0, y0, x1, y0],
    ["back", x0, y1, x1, y1],
    ["left", x0, y0, x0, y1],
    ["right", x1, y0, x1, y1],
    ["rising diagonal", x0, y0, x1, y1],
    ["falling diagonal", x0, y1, x1, y0],
    ["middle along x", x0, ym, x1, ym],
    ["middle along y", xm, y0, xm, y1],
  ] as const;
  return lines.map(([line, sx, sy, ex, ey]) => {
    const length = Math.hypot(ex - sx, ey - sy);
    const pairs = Math.round(length / foot.in("mm") / 2);
    if (!(pairs >= 1 && Math.abs(length - 2 * pairs * foot.in("mm")) <= 0.01 * foot.in("mm"))) {
      throw new MeasurementError(
        "foot",
        `unionJackLines: a foot of ${foot.text("mm")} does not cut the ${line} of ${Number(length.toFixed(2))} mm into an even number of steps; choose sides in the ratio 4 to 3 and a foot that goes an even number of times into both`,
      );
    }
    return { line, start: { xMm: sx, yMm: sy }, end: { xMm: ex, yMm: ey }, foot, steps: 2 * pairs };
  });
}
