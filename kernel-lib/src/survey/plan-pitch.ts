import { simultaneousFactor } from "../numerics/index.js";
import { type Length, Quantity, um } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { diameterAbove, missOf, needSize, pitchFor, refusePlan } from "./plan-detection.js";
import { expectedPlace } from "./plan-expected.js";
import { expectedTerms, type PlanOptions } from "./plan-options.js";
import type { PlannedGrid } from "./plan-places.js";

/** The pitch asked for, or the one that the smallest defect needs; its limit grows a little with the number of places. */
export function pitchesOf(
  options: PlanOptions,
  countAt: (pitch: number) => number,
): { pitchX: number; pitchY: number } {
  const { pitch, smallestDefect: defect } = options;
  if (pitch instanceof Quantity) return { pitchX: needSize(pitch, "pitch"), pitchY: needSize(pitch, "pitch") };
  if (pitch) return { pitchX: needSize(pitch.x, "pitch x"), pitchY: needSize(pitch.y, "pitch y") };
  if (!defect)
    return refusePlan(
      "neither pitch nor smallestDefect is given; give the pitch, or the smallest defect that must not be missed",
    );
  let found = pitchFor(defect.diameter, defect.chance).in("mm");
  for (let turn = 0; defect.height && turn < 3; turn++) {
    const limit = um(expectedPlace(expectedTerms(options)) * simultaneousFactor(countAt(found)));
    const seen = diameterAbove(defect.diameter, defect.height, limit);
    if (!(seen.si > 0)) {
      refusePlan(
        `a defect ${defect.height} high is not told from scatter, which takes ${printNumber(limit.in("um"), 2)} µm; take more passes or a better gauge`,
      );
    }
    found = pitchFor(seen, defect.chance).in("mm");
  }
  return { pitchX: found, pitchY: found };
}

/** Over which diameter the smallest defect exceeds the limit, and the chance that no place lies there. */
export interface Detection {
  readonly diameter: Length;
  readonly missChance: number;
}

export function detectionOf(
  grid: PlannedGrid,
  { smallestDefect: defect }: PlanOptions,
  limit: Length,
): Detection | undefined {
  if (!defect) return undefined;
  const diameter = defect.height ? diameterAbove(defect.diameter, defect.height, limit) : defect.diameter;
  const [gx, gy] = [gapsOf(grid.x), gapsOf(grid.y)];
  const cells = gx.flatMap((a) => gy.map((b) => a * b * missOf(diameter.in("mm") / 2, a, b)));
  const whole = gx.reduce((s, a) => s + a, 0) * gy.reduce((s, b) => s + b, 0);
  return { diameter, missChance: cells.reduce((s, c) => s + c, 0) / whole };
}

export function gapsOf(positions: readonly number[]): number[] {
  return positions.slice(1).map((at, i) => Number((at - positions[i]!).toFixed(6)));
}
