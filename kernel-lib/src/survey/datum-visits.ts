import { fCdf } from "../numerics/distributions.js";
import type { HeightTable } from "./height-table.js";
import { meanUncertainty, type RepeatScatter, visitScatter } from "./repeatability.js";

/** One visit to a datum: the readings taken there one after the other. */
export interface Visit {
  readonly label: string;
  readonly pass: number;
  readonly when: number;
  readonly z: readonly number[];
  readonly mean: number;
  readonly standardUncertainty: number;
  /** visits one after the other, with no place of the map between, are one round */
  readonly round: number;
}

/** Readings at one datum, one after the other; a reading of a place, or of another datum, ends the visit. */
export function datumVisits(table: HeightTable, passes: RepeatScatter | undefined): readonly Visit[] {
  const { label, pass, z, when } = table.datum;
  if (!when || !table.when || z.length === 0) return [];
  const places = table.when.slice().sort();
  const visits: { label: string; pass: number; times: number[]; z: number[]; round: number }[] = [];
  let passed = 0;
  let round = 0;
  for (let i = 0; i < z.length; i++) {
    const before = countUpTo(places, when[i]!, passed);
    if (before > passed && visits.length > 0) round++;
    const last = visits.at(-1);
    if (last && last.round === round && last.label === label[i] && last.pass === pass[i]) {
      last.times.push(when[i]!);
      last.z.push(z[i]!);
    } else visits.push({ label: label[i]!, pass: pass[i]!, times: [when[i]!], z: [z[i]!], round });
    passed = before;
  }
  return withUncertainty(table.step, passes, visits);
}

function withUncertainty(
  step: number,
  passes: RepeatScatter | undefined,
  visits: readonly { label: string; pass: number; times: number[]; z: number[]; round: number }[],
): Visit[] {
  const within = visitScatter(visits);
  const scatter = scatterOfVisits(passes, visits);
  const between = extraBetween(passes, within);
  return visits.map(({ times, ...visit }) => ({
    ...visit,
    when: mean(times),
    mean: mean(visit.z),
    standardUncertainty: Math.hypot(between, meanUncertainty(scatter, visit.z.length, step).standardUncertaintyUm),
  }));
}

/** scatter of a reading at a datum: pooled from passes and repeats, or the repeats alone where coming back adds more */
export function scatterOfVisits(
  passes: RepeatScatter | undefined,
  visits: readonly { readonly z: readonly number[] }[],
): RepeatScatter | undefined {
  const within = visitScatter(visits);
  if (!within || !passes) return within ?? passes;
  if (extraBetween(passes, within) > 0) return within;
  const degreesOfFreedom = within.degreesOfFreedom + passes.degreesOfFreedom;
  const sum =
    within.standardDeviation ** 2 * within.degreesOfFreedom + passes.standardDeviation ** 2 * passes.degreesOfFreedom;
  return {
    standardDeviation: Math.sqrt(sum / degreesOfFreedom),
    degreesOfFreedom,
    source: "passes and repeats at the datum",
  };
}

/** what coming back to a place adds to repeats without moving away, where an F test at 1 % sees it */
function extraBetween(passes: RepeatScatter | undefined, within: RepeatScatter | undefined): number {
  if (!passes || !within) return 0;
  const extra = passes.standardDeviation ** 2 - within.standardDeviation ** 2;
  if (!(extra > 0)) return 0;
  if (within.standardDeviation === 0) return Math.sqrt(extra);
  const f = (passes.standardDeviation / within.standardDeviation) ** 2;
  return 1 - fCdf(f, passes.degreesOfFreedom, within.degreesOfFreedom) < 0.01 ? Math.sqrt(extra) : 0;
}

function countUpTo(sorted: Float64Array, limit: number, start: number): number {
  let count = start;
  while (count < sorted.length && sorted[count]! <= limit) count++;
  return count;
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
