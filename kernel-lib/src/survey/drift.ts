import { fCdf, tCdf } from "../numerics/distributions.js";
import { type LeastSquares, leastSquares } from "../numerics/least-squares.js";
import type { HeightTable } from "./height-table.js";
import { meanUncertainty, passScatter, type RepeatScatter, visitScatter } from "./repeatability.js";

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

/** What the datum returns say of drift. Heights in µm, times in the unit of the sheet. */
export interface DriftFit {
  readonly visits: readonly Visit[];
  readonly slope: number;
  readonly slopeUncertainty: number;
  readonly degreesOfFreedom: number;
  /** first and last moment of the survey */
  readonly from: number;
  readonly to: number;
  /** drift over the whole survey by the straight line, and its standard uncertainty */
  readonly total: number;
  readonly totalUncertainty: number;
  /** chance of as steep a line, and of as bent a run, with no drift at all */
  readonly lineChance: number;
  readonly bendChance: number;
  /** largest misclosure: last less first return at one datum */
  readonly misclosure: { readonly label: string; readonly size: number } | undefined;
  /** times and shifts of the rounds, the first being zero, with the fit they come from */
  readonly rounds:
    | { readonly when: readonly number[]; readonly shift: readonly number[]; readonly fit: LeastSquares }
    | undefined;
  /** growth of the doubt between returns, µm² per unit of time (Brownian bridge), from the misclosures */
  readonly wander: number;
}

/** Fits the datum returns; undefined where there are none, where their order is unknown, or where none was repeated. */
export function fitDrift(table: HeightTable, oneZero: boolean): DriftFit | undefined {
  const passes = passScatter(table);
  const visits = datumVisits(table, passes);
  const when = table.when;
  if (!when || visits.length === 0) return undefined;
  const groups = [...new Set(visits.map((v) => groupOf(v, oneZero)))];
  const dof = visits.length - groups.length;
  if (dof < 1) return undefined;
  const scatter = scatterOfVisits(passes, visits);
  const nu = scatter?.degreesOfFreedom ?? Number.POSITIVE_INFINITY;
  const { slope, information, misfit } = weightedLine(visits, oneZero);
  if (!(information > 0)) return undefined;
  const slopeUncertainty = 1 / Math.sqrt(information);
  const { from, to } = spanOf(when, visits);
  const rounds = oneZero ? fitRounds(visits) : undefined;
  return {
    visits,
    slope,
    slopeUncertainty,
    degreesOfFreedom: nu,
    from,
    to,
    total: slope * (to - from),
    totalUncertainty: slopeUncertainty * (to - from),
    lineChance: 2 * tCdf(-Math.abs(slope) / slopeUncertainty, nu),
    bendChance: dof < 2 ? 1 : 1 - fCdf(misfit / (dof - 1), dof - 1, Math.min(nu, 1e6)),
    misclosure: largestMisclosure(visits, oneZero),
    rounds,
    wander: rounds ? wanderOf(rounds, slope) : 0,
  };
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
function scatterOfVisits(
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

function weightedLine(visits: readonly Visit[], oneZero: boolean) {
  let information = 0;
  let moment = 0;
  let square = 0;
  for (const group of new Set(visits.map((v) => groupOf(v, oneZero)))) {
    const members = visits.filter((v) => groupOf(v, oneZero) === group);
    const weights = members.map((v) => v.standardUncertainty ** -2);
    const total = weights.reduce((a, b) => a + b, 0);
    const t0 = members.reduce((sum, v, i) => sum + v.when * weights[i]!, 0) / total;
    const z0 = members.reduce((sum, v, i) => sum + v.mean * weights[i]!, 0) / total;
    members.forEach((v, i) => {
      information += weights[i]! * (v.when - t0) ** 2;
      moment += weights[i]! * (v.when - t0) * (v.mean - z0);
      square += weights[i]! * (v.mean - z0) ** 2;
    });
  }
  const slope = information > 0 ? moment / information : 0;
  return { slope, information, misfit: Math.max(0, square - slope * moment) };
}

/** one shift a round, the same at every datum; needs each round tied to the first by a datum they share */
function fitRounds(visits: readonly Visit[]): DriftFit["rounds"] {
  const numbers = [...new Set(visits.map((v) => v.round))];
  const labels = [...new Set(visits.map((v) => v.label))];
  if (numbers.length < 2 || visits.length < labels.length + numbers.length - 1) return undefined;
  const column = (belongs: (v: Visit) => boolean) => visits.map((v) => (belongs(v) ? 1 / v.standardUncertainty : 0));
  const columns = [
    ...labels.map((label) => column((v) => v.label === label)),
    ...numbers.slice(1).map((round) => column((v) => v.round === round)),
  ];
  if (!isTied(visits, numbers)) return undefined;
  const fit = leastSquares(
    columns,
    visits.map((v) => v.mean / v.standardUncertainty),
  );
  const when = numbers.map((round) => mean(visits.filter((v) => v.round === round).map((v) => v.when)));
  return { when, shift: [0, ...fit.coefficients.slice(labels.length)], fit };
}

function isTied(visits: readonly Visit[], numbers: readonly number[]): boolean {
  const reached = new Set([numbers[0]!]);
  for (let grew = true; grew; ) {
    const labels = new Set(visits.filter((v) => reached.has(v.round)).map((v) => v.label));
    const size = reached.size;
    for (const v of visits) if (labels.has(v.label)) reached.add(v.round);
    grew = reached.size > size;
  }
  return reached.size === numbers.length;
}

/** variance of the steps between rounds beyond a straight line and beyond their own uncertainty, per unit of time */
function wanderOf({ when, shift, fit }: NonNullable<DriftFit["rounds"]>, slope: number): number {
  const labels = fit.coefficients.length - (shift.length - 1);
  const covariance = (i: number, j: number) =>
    i < 1 || j < 1 ? 0 : fit.covarianceFactor[labels + i - 1]![labels + j - 1]!;
  let excess = 0;
  for (let k = 1; k < shift.length; k++) {
    const step = shift[k]! - shift[k - 1]! - slope * (when[k]! - when[k - 1]!);
    excess += step ** 2 - (covariance(k, k) - 2 * covariance(k, k - 1) + covariance(k - 1, k - 1));
  }
  return Math.max(0, excess / (when.at(-1)! - when[0]!));
}

function largestMisclosure(visits: readonly Visit[], oneZero: boolean): DriftFit["misclosure"] {
  const misclosures = [...new Set(visits.map((v) => groupOf(v, oneZero)))].flatMap((group) => {
    const members = visits.filter((v) => groupOf(v, oneZero) === group);
    return members.length < 2 ? [] : [{ label: members[0]!.label, size: members.at(-1)!.mean - members[0]!.mean }];
  });
  return misclosures.sort((a, b) => Math.abs(b.size) - Math.abs(a.size))[0];
}

function spanOf(when: Float64Array, visits: readonly Visit[]): { from: number; to: number } {
  const times = [visits[0]!.when, visits.at(-1)!.when];
  return {
    from: when.reduce((a, b) => Math.min(a, b), Math.min(...times)),
    to: when.reduce((a, b) => Math.max(a, b), Math.max(...times)),
  };
}

function groupOf(visit: Visit, oneZero: boolean): string {
  return oneZero ? visit.label : `${visit.label} in pass ${visit.pass}`;
}

function countUpTo(sorted: Float64Array, limit: number, start: number): number {
  let count = start;
  while (count < sorted.length && sorted[count]! <= limit) count++;
  return count;
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
