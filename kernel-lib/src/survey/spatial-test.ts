import { numbersFor } from "./fill.js";
import type { HeightTable } from "./height-table.js";
import { findOutliers, type Outlier } from "./outlier-test.js";
import { meanUncertainty, type RepeatScatter } from "./repeatability.js";
import { bestDegree, detrend, offNeighbours, type Points, trendBasis } from "./trend.js";

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
  const found = findOutliers({
    points: table,
    values: heights,
    degree: bestDegree(table, heights),
    step: table.step,
    roundingVariance: table.step ** 2 / 12,
    leastSpread: Math.max(0.25 * table.step, Math.sqrt(Math.max(0, least ** 2 - table.step ** 2 / 12))),
    familyRate,
    family: heights.length,
  });
  return found.filter((one) => standsAlone(table, heights, one));
}

/** Single readings that stand high against the smooth run of all readings, passes brought to one level: swarf, seen
 * where the form is smooth even if the passes alone cannot prove it. */
export function readingOutliers(
  table: HeightTable,
  levelled: ArrayLike<number>,
  familyRate: number,
): readonly Outlier[] {
  const points = {
    x: numbersFor(table.place, (p) => table.x[p]!),
    y: numbersFor(table.place, (p) => table.y[p]!),
  };
  const found = findOutliers({
    points,
    values: levelled,
    degree: bestDegree(points, levelled),
    step: table.step,
    roundingVariance: table.step ** 2 / 12,
    leastSpread: 0.25 * table.step,
    familyRate,
    family: levelled.length,
    highOnly: true,
  });
  return found.filter((one) => standsAlone(points, levelled, one));
}

/** A corner that falls away smoothly also stands off the trend; a ding, a burr or a bad reading stands off its nearest
 * neighbours by most of the same. */
function standsAlone(points: Points, values: ArrayLike<number>, { index, size }: Outlier): boolean {
  const all = Array.from({ length: values.length }, (_, i) => i);
  const left = detrend(trendBasis(points, all, bestDegree(points, values)), values);
  const off = offNeighbours(points, left, index);
  return off === undefined || off / size > 0.6;
}
