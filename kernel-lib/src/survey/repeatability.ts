import { median } from "../numerics/median.js";
import { numbersFor, wholeFor } from "./fill.js";
import type { Gauge } from "./gauge.js";
import { type HeightTable, withoutPlaces } from "./height-table.js";
import { detrend, trendBasis } from "./trend.js";

/** How far repeats of one place scatter, in µm. */
export interface RepeatScatter {
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
  readonly source: string;
}

/**
 * Scatter of one reading about its place, pooled over places and passes, after each pass is freed of its own offset
 * and tilt: ν = readings − places − 3 (passes − 1) for places in a plane. Undefined where nothing was read twice.
 */
export function passScatter(table: HeightTable): RepeatScatter | undefined {
  return scatterOf(passResiduals(table));
}

function scatterOf({ residuals, parameters }: ReturnType<typeof passResiduals>): RepeatScatter | undefined {
  const degreesOfFreedom = residuals.length - parameters;
  if (!(degreesOfFreedom > 0)) return undefined;
  const sum = residuals.reduce((total, r) => total + r * r, 0);
  return {
    standardDeviation: Math.sqrt(sum / degreesOfFreedom),
    degreesOfFreedom,
    source: "passes against each other",
  };
}

/** a reading counts as a slip beyond so many robust standard deviations of the others: on clean sheets next to never */
const slipLimit = 6;

/**
 * Scatter of the passes without the places of readings that no scatter explains, and the table without them: a missed turn of the
 * pointer would say that each reading, and so each datum return, may be wrong by as much.
 */
export function scatterWithoutSlips(table: HeightTable): { table: HeightTable; scatter: RepeatScatter | undefined } {
  let left = table;
  let fit = passResiduals(left);
  // one great slip tilts what the others are held against: they are looked at again without it
  for (let round = 0; round < 5; round++) {
    const slips = slipsAmong(fit.residuals, left);
    if (slips.size === 0) break;
    left = withoutPlaces(left, slips);
    fit = passResiduals(left);
  }
  return { table: left, scatter: scatterOf(fit) };
}

/** places of the readings that stand off most, where they are beyond the limit */
function slipsAmong(residuals: Float64Array, { place, step }: HeightTable): ReadonlySet<number> {
  const sizes = residuals.map(Math.abs);
  const some = sizes.filter((size) => size > 0);
  if (some.length === 0) return new Set();
  const limit = slipLimit * Math.max(1.4826 * median(some), step / 2);
  const worst = some.reduce((a, b) => Math.max(a, b), 0);
  return new Set(worst > limit ? place.filter((_, i) => sizes[i]! > Math.max(limit, worst / 2)) : []);
}

/** Scatter within the visits to the datums: readings repeated without moving away. */
export function visitScatter(visits: readonly { readonly z: readonly number[] }[]): RepeatScatter | undefined {
  let sum = 0;
  let degreesOfFreedom = 0;
  for (const { z } of visits) {
    const mean = z.reduce((a, b) => a + b, 0) / z.length;
    for (const value of z) sum += (value - mean) ** 2;
    degreesOfFreedom += z.length - 1;
  }
  if (degreesOfFreedom === 0) return undefined;
  return { standardDeviation: Math.sqrt(sum / degreesOfFreedom), degreesOfFreedom, source: "repeats at the datum" };
}

/** The scatter to work with: from the passes, else from the datum, else the one stated for the gauge. */
export function bestScatter(
  passes: RepeatScatter | undefined,
  visits: readonly { readonly z: readonly number[] }[],
  gauge: Gauge,
): RepeatScatter | undefined {
  const stated = gauge.repeatability && {
    standardDeviation: gauge.repeatability.standardDeviation.in("um"),
    degreesOfFreedom: gauge.repeatability.degreesOfFreedom,
    source: "the repeatability stated for the gauge",
  };
  return passes ?? visitScatter(visits) ?? stated;
}

/**
 * Standard uncertainty of the mean of n readings, µm: s/√n, but where s is below half a step averaging does not help
 * and q/√12 is the least.
 */
export function meanUncertainty(scatter: RepeatScatter | undefined, count: number, step: number) {
  const floor = step / Math.sqrt(12);
  const s = scatter?.standardDeviation ?? 0;
  const random = s / Math.sqrt(count);
  if (scatter && (s >= step / 2 || random >= floor)) {
    return { standardUncertaintyUm: random, degreesOfFreedom: scatter.degreesOfFreedom, source: scatter.source };
  }
  const source = scatter
    ? "the resolution of the gauge, as repeats scatter by less than half a step"
    : "the resolution of the gauge alone, as nothing was read twice";
  return { standardUncertaintyUm: floor, degreesOfFreedom: Number.POSITIVE_INFINITY, source };
}

/** Residuals of readings about place means and a plane a pass, by turns until they stand still; complete passes need
 * one turn. */
function passResiduals(table: HeightTable): { residuals: Float64Array; parameters: number } {
  const { place, pass, z, labels, passes } = table;
  const rowsOf = rowsByPass(pass, passes);
  const repeated = placesReadTwice(table);
  const degree = repeated >= 6 ? 1 : 0;
  const bases = rowsOf.map((rows) =>
    trendBasis(
      {
        x: numbersFor(rows, (i) => table.x[place[i]!]!),
        y: numbersFor(rows, (i) => table.y[place[i]!]!),
      },
      wholeFor(rows, (_, j) => j),
      degree,
    ),
  );
  const residuals = z.slice();
  const before = new Float64Array(residuals.length);
  for (let turn = 0; turn < 60; turn++) {
    before.set(residuals);
    takeMeans(residuals, place, labels.length);
    if (passes.length > 1) {
      rowsOf.forEach((rows, k) => {
        const own = numbersFor(rows, (i) => residuals[i]!);
        const left = detrend(bases[k]!, own);
        for (let j = 0; j < rows.length; j++) residuals[rows[j]!] = left[j]!;
      });
    }
    if (residuals.every((r, i) => Math.abs(r - before[i]!) <= 1e-9 * table.step)) break;
  }
  const planes = bases.slice(1).reduce((sum, basis) => sum + basis.length, 0);
  return { residuals, parameters: labels.length + planes };
}

/** numbers of the readings of each pass */
export function rowsByPass(pass: Int32Array, passes: readonly number[]): readonly Int32Array[] {
  const numberOf = new Map(passes.map((p, k) => [p, k]));
  const sizes = new Int32Array(passes.length);
  for (const p of pass) sizes[numberOf.get(p)!] = sizes[numberOf.get(p)!]! + 1;
  const rows = Array.from(sizes, (size) => new Int32Array(size));
  const filled = new Int32Array(passes.length);
  pass.forEach((p, i) => {
    const k = numberOf.get(p)!;
    rows[k]![filled[k]!] = i;
    filled[k] = filled[k]! + 1;
  });
  return rows;
}

function takeMeans(residuals: Float64Array, place: Int32Array, count: number): void {
  const sum = new Float64Array(count);
  const n = new Int32Array(count);
  place.forEach((p, i) => {
    sum[p] = sum[p]! + residuals[i]!;
    n[p] = n[p]! + 1;
  });
  place.forEach((p, i) => {
    residuals[i] = residuals[i]! - sum[p]! / n[p]!;
  });
}

function placesReadTwice({ place, labels }: HeightTable): number {
  const count = new Int32Array(labels.length);
  for (const p of place) count[p] = count[p]! + 1;
  return count.filter((n) => n > 1).length;
}
