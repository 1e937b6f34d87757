import type { HeightTable } from "./height-table.js";
import { findOutliers } from "./outlier-test.js";
import { detrend, offNeighbours, trendBasis } from "./trend.js";

/** A place whose passes do not agree. */
export interface PassDisagreement {
  readonly place: number;
  /** the two passes that differ, or the one pass that differs from the mean of the others */
  readonly pass: number;
  readonly against: readonly number[];
  /** reading in `pass` less that in `against`, offset and tilt between the passes taken out, µm */
  readonly difference: number;
  readonly chance: number;
  /** the pass likelier wrong; undefined where nothing speaks for one of the two */
  readonly likelierWrong: number | undefined;
  readonly why: string;
}

/** Mean height of each place in each pass, µm; undefined where the pass did not probe it. */
export function heightsByPass(table: HeightTable): readonly (readonly (number | undefined)[])[] {
  const count = table.labels.length;
  const numberOf = new Map(table.passes.map((pass, k) => [pass, k]));
  const sum = new Float64Array(table.passes.length * count);
  const n = new Int32Array(sum.length);
  for (let i = 0; i < table.z.length; i++) {
    const cell = numberOf.get(table.pass[i]!)! * count + table.place[i]!;
    sum[cell] = sum[cell]! + table.z[i]!;
    n[cell] = n[cell]! + 1;
  }
  return table.passes.map((_, k) =>
    Array.from({ length: count }, (__, i) => {
      const cell = k * count + i;
      return n[cell]! > 0 ? sum[cell]! / n[cell]! : undefined;
    }),
  );
}

/**
 * Places whose passes differ by more than their scatter lets them, after offset and tilt between the passes are taken
 * out. Two passes: the differences are tested; more: each pass against the mean of the others.
 */
export function passDisagreements(table: HeightTable, familyRate: number): readonly PassDisagreement[] {
  const { passes } = table;
  if (passes.length < 2) return [];
  const byPass = heightsByPass(table);
  const tested = passes.length === 2 ? [1] : [...passes.keys()];
  const family = tested.length * table.labels.length;
  const all = table.labels.map((_, place) => {
    const read = byPass.flatMap((heights) => heights[place] ?? []);
    return { sum: read.reduce((a, b) => a + b, 0), count: read.length };
  });
  const found = tested.flatMap((k) => disagreementsOf(table, byPass, all, k, familyRate, family));
  // one bad reading also pulls the mean of the others: keep the pass that stands out most at each place
  const worst = new Map<number, PassDisagreement>();
  for (const one of found) {
    const known = worst.get(one.place);
    if (!known || Math.abs(one.difference) > Math.abs(known.difference)) worst.set(one.place, one);
  }
  return [...worst.values()];
}

function disagreementsOf(
  table: HeightTable,
  byPass: readonly (readonly (number | undefined)[])[],
  all: readonly { readonly sum: number; readonly count: number }[],
  k: number,
  familyRate: number,
  family: number,
): PassDisagreement[] {
  const own = byPass[k]!;
  const both: number[] = [];
  const differences: number[] = [];
  own.forEach((z, place) => {
    const { sum, count } = all[place]!;
    if (z === undefined || count < 2) return;
    both.push(place);
    differences.push(z - (sum - z) / (count - 1));
  });
  const { step } = table;
  const outliers = findOutliers({
    points: { x: both.map((i) => table.x[i]!), y: both.map((i) => table.y[i]!) },
    values: differences,
    degree: 1,
    step,
    roundingVariance: ((step * step) / 12) * (1 + 1 / (table.passes.length - 1)),
    leastSpread: 0.3 * step,
    familyRate,
    family,
  });
  const against = table.passes.filter((_, j) => j !== k);
  return outliers.map(({ index, size, chance }) => {
    const place = both[index]!;
    const base = { place, pass: table.passes[k]!, against, difference: size, chance };
    if (against.length > 1) return { ...base, likelierWrong: table.passes[k]!, why: "the other passes agree" };
    return { ...base, ...whichIsWrong(table, byPass, place, [against[0]!, table.passes[k]!], size) };
  });
}

/** Which of two passes is likelier wrong at a place: the neighbours may say, and swarf reads high only. */
function whichIsWrong(
  table: HeightTable,
  byPass: readonly (readonly (number | undefined)[])[],
  place: number,
  pair: readonly [number, number],
  difference: number,
): { likelierWrong: number | undefined; why: string } {
  const higher = difference > 0 ? pair[1] : pair[0];
  const off = pair.map((pass) => offInPass(table, byPass[table.passes.indexOf(pass)]!, place));
  if (off.some((o) => o === undefined))
    return { likelierWrong: higher, why: "swarf reads high; the neighbours cannot say" };
  const [first, second] = off as [number, number];
  const gap = Math.abs(Math.abs(first) - Math.abs(second));
  const farther = Math.abs(second) > Math.abs(first) ? pair[1] : pair[0];
  if (gap < Math.abs(difference) / 4) return { likelierWrong: undefined, why: "the neighbours fit both equally well" };
  if (farther === higher) return { likelierWrong: farther, why: "it stands off its neighbours, and swarf reads high" };
  return {
    likelierWrong: farther,
    why: "it stands off its neighbours; it reads low, so think of a slip or a slot before swarf",
  };
}

/** how far a place stands off its neighbours in the same pass, µm */
function offInPass(table: HeightTable, heights: readonly (number | undefined)[], place: number): number | undefined {
  const read = [...heights.keys()].filter((i) => heights[i] !== undefined);
  const points = { x: read.map((i) => table.x[i]!), y: read.map((i) => table.y[i]!) };
  return offNeighbours(
    points,
    read.map((i) => heights[i]!),
    read.indexOf(place),
  );
}

/** Offset between two passes and tilt of one against the other, with the uncertainty of the offset. */
export interface PassShift {
  readonly pass: number;
  readonly offset: number;
  readonly standardUncertainty: number;
  /** rise of the later pass against the first from edge to edge along x and along y, µm */
  readonly tiltRange: number;
  readonly degreesOfFreedom: number;
  readonly places: number;
  readonly tiltChiSquared: number;
}

/** Each later pass against the first. */
export function passShifts(table: HeightTable, spread: number): readonly PassShift[] {
  const [first, ...later] = heightsByPass(table);
  return later.flatMap((heights, k) => {
    const both = [...heights.keys()].filter((i) => heights[i] !== undefined && first![i] !== undefined);
    const values = both.map((i) => heights[i]! - first![i]!);
    if (both.length < 6) return [];
    const offset = values.reduce((a, b) => a + b, 0) / both.length;
    const level = detrend(trendBasis(table, both, 0), values);
    const flat = trendBasis(table, both, 1);
    const left = detrend(flat, values);
    const tilt = level.map((value, i) => value - left[i]!);
    const perDifference = Math.SQRT2 * spread;
    return [
      {
        pass: table.passes[k + 1]!,
        offset,
        standardUncertainty: perDifference / Math.sqrt(both.length),
        tiltRange: Math.max(...tilt) - Math.min(...tilt),
        degreesOfFreedom: flat.length - 1,
        places: both.length,
        tiltChiSquared: tilt.reduce((sum, t) => sum + t * t, 0) / perDifference ** 2,
      },
    ];
  });
}
