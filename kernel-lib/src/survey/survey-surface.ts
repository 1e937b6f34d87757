import { datumVisits } from "./datum-visits.js";
import { correctDrift } from "./drift-correction.js";
import { wholeFor } from "./fill.js";
import { heightFactor } from "./gauge.js";
import { type HeightTable, heightTable } from "./height-table.js";
import { type KnownCourse, withoutCourse } from "./known-course.js";
import { bestScatter, meanUncertainty, passScatter } from "./repeatability.js";
import type { Sheet } from "./sheet.js";
import type { Surface } from "./surface.js";

/** The map of a sheet: what is known beforehand taken out, drift where the datum returns show it, passes brought to one
 * level, means taken. */
export function surfaceOf(sheet: Sheet, sheetState: string | undefined, known?: KnownCourse): Surface {
  const read = heightTable(sheet);
  const { table, modesUm } = known ? withoutCourse(read, known, sheet.name) : { table: read, modesUm: [] };
  const { gauge, frame, removed, oneZero } = sheet.preamble;
  const { perReading, drift } = correctDrift(table, oneZero);
  const corrected = { ...table, z: table.z.map((z, i) => z - perReading[i]!) };
  const { heights, counts, levelled } = placeMeans(corrected);
  const passes = passScatter(corrected);
  const scatter = bestScatter(passes, datumVisits(table, passes), gauge);
  const usual = counts.length / counts.reduce((sum, n) => sum + 1 / n, 0);
  const factor = heightFactor(gauge);
  const done = [
    factor === 1 ? "" : `readings were multiplied by ${factor.toFixed(4)} for the sign and the angles of the gauge`,
    known?.statement ?? "",
    drift.statement,
    levelled,
    ...removed.map(({ place, pass, reason }) => `${place}, pass ${pass} was set aside: ${reason}`),
  ];
  return {
    name: sheet.name,
    frame,
    gauge,
    places: table.labels.map((label, i) => ({
      label,
      xMm: table.x[i]!,
      yMm: table.y[i]!,
      zUm: heights[i]!,
      count: counts[i]!,
    })),
    noise: meanUncertainty(scatter, usual, table.step),
    drift: known ? { ...drift, modesUm: [...modesUm, ...drift.modesUm] } : drift,
    done: done.filter((sentence) => sentence !== ""),
    ...(sheetState === undefined ? {} : { sheetState }),
  };
}

/** Means of the places with the offsets between passes taken out, so that a place missing from a pass is not lifted
 * by it. Complete passes give plain means. */
function placeMeans(table: HeightTable): { heights: number[]; counts: number[]; levelled: string } {
  const { labels, passes, place, pass, z } = table;
  const counts = new Array<number>(labels.length).fill(0);
  for (const p of place) counts[p] = counts[p]! + 1;
  const numberOf = new Map(passes.map((p, k) => [p, k]));
  const passNumber = wholeFor(pass, (p) => numberOf.get(p)!);
  const offset = new Float64Array(passes.length);
  let heights: number[] = [];
  for (let turn = 0; turn < 500; turn++) {
    heights = meansBy(place, labels.length, (i) => z[i]! - offset[passNumber[i]!]!);
    let moved = 0;
    const next = meansBy(passNumber, passes.length, (i) => z[i]! - heights[place[i]!]!);
    const level = next.reduce((a, b) => a + b, 0) / passes.length;
    next.forEach((mean, k) => {
      moved = Math.max(moved, Math.abs(mean - level - offset[k]!));
      offset[k] = mean - level;
    });
    if (moved <= 1e-9 * table.step) break;
  }
  const uneven = counts.some((n) => n !== counts[0]);
  const levelled =
    uneven && passes.length > 1
      ? "the passes were brought to one level before means were taken, as some places lack a pass"
      : "";
  return { heights, counts, levelled };
}

function meansBy(group: Int32Array, count: number, value: (i: number) => number): number[] {
  const sum = new Array<number>(count).fill(0);
  const n = new Array<number>(count).fill(0);
  group.forEach((g, i) => {
    sum[g] = sum[g]! + value(i);
    n[g] = n[g]! + 1;
  });
  return sum.map((s, i) => s / n[i]!);
}
