import type { HeightTable } from "./height-table.js";
import { findOutliers, type Outlier } from "./outlier-test.js";
import { meanUncertainty, type RepeatScatter } from "./repeatability.js";

/** the smooth form that a map of so many places can be held against: a cubic needs places to spare */
function degreeFor(count: number): number {
  if (count >= 30) return 3;
  if (count >= 14) return 2;
  return 1;
}

/**
 * Places that stand off the smooth run of all the others. That is a question, not a fault: a ding, a burr and a slip
 * of the pen look alike.
 *
 * @param heights mean height of each place, µm
 */
export function spatialOutliers(
  table: HeightTable,
  heights: readonly number[],
  scatter: RepeatScatter | undefined,
  familyRate: number,
): readonly Outlier[] {
  const usual = Math.max(1, Math.round(table.z.length / table.labels.length));
  const least = meanUncertainty(scatter, usual, table.step).standardUncertaintyUm;
  return findOutliers({
    points: table,
    values: heights,
    degree: degreeFor(heights.length),
    step: table.step,
    roundingVariance: table.step ** 2 / 12,
    leastSpread: Math.max(0.25 * table.step, Math.sqrt(Math.max(0, least ** 2 - table.step ** 2 / 12))),
    familyRate,
    family: heights.length,
  });
}

/** Single readings that stand off the smooth run of all readings, passes brought to one level; sees a bad reading where
 * the form is smooth. */
export function readingOutliers(
  table: HeightTable,
  levelled: ArrayLike<number>,
  familyRate: number,
): readonly Outlier[] {
  const points = {
    x: Array.from(table.place, (p) => table.x[p]!),
    y: Array.from(table.place, (p) => table.y[p]!),
  };
  return findOutliers({
    points,
    values: levelled,
    degree: degreeFor(table.labels.length),
    step: table.step,
    roundingVariance: table.step ** 2 / 12,
    leastSpread: 0.25 * table.step,
    familyRate,
    family: levelled.length,
  });
}
