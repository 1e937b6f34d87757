import { fCdf, tCdf } from "../numerics/distributions.js";
import { type LeastSquares, leastSquares } from "../numerics/least-squares.js";
import { datumVisits, scatterOfVisits, type Visit } from "./datum-visits.js";
import type { HeightTable } from "./height-table.js";
import { passScatter, type RepeatScatter, scatterWithoutSlips } from "./repeatability.js";

/** What the datum returns say of drift. Heights in µm, times in the unit of the sheet. */
export interface DriftFit {
  readonly visits: readonly Visit[];
  /** visits of one group share one unknown height: a datum, or a datum in one pass where each pass has its own zero */
  readonly groups: readonly string[];
  readonly groupOf: (visit: Visit) => string;
  /** χ² of the visits about no drift, and about the line */
  readonly misfitFlat: number;
  readonly misfitLine: number;
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
}

/** Fits the datum returns; undefined where there are none, where their order is unknown, or where none was repeated. */
export function fitDrift(table: HeightTable, oneZero: boolean): DriftFit | undefined {
  const passes = scatterWithoutDrift(table, oneZero);
  const visits = datumVisits(table, passes);
  const when = table.when;
  if (!when || visits.length === 0) return undefined;
  const groups = [...new Set(visits.map((v) => groupOf(v, oneZero)))];
  const dof = visits.length - groups.length;
  if (dof < 1) return undefined;
  const scatter = scatterOfVisits(passes, visits);
  const nu = scatter?.degreesOfFreedom ?? Number.POSITIVE_INFINITY;
  const { slope, information, misfit } = weightedLine(visits, (visit) => groupOf(visit, oneZero));
  if (!(information > 0)) return undefined;
  const slopeUncertainty = 1 / Math.sqrt(information);
  const { from, to } = spanOf(when, visits);
  const rounds = oneZero ? fitRounds(visits) : undefined;
  return {
    visits,
    groups,
    groupOf: (visit) => groupOf(visit, oneZero),
    misfitFlat: misfit + slope * slope * information,
    misfitLine: misfit,
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
  };
}

/** Scatter of the passes; where drift itself makes up much of it, that of the readings brought from round to round. */
function scatterWithoutDrift(whole: HeightTable, oneZero: boolean): RepeatScatter | undefined {
  const { table, scatter: passes } = scatterWithoutSlips(whole);
  const rounds = oneZero ? fitRounds(datumVisits(table, passes)) : undefined;
  const { when } = table;
  if (!passes || !rounds || !when) return passes;
  const level = passScatter({
    ...table,
    z: table.z.map((z, i) => z - interpolate(rounds.when, rounds.shift, when[i]!)),
  });
  // a quarter less is more than the rounds can take out of clean readings by chance
  return level && level.standardDeviation < 0.75 * passes.standardDeviation ? level : passes;
}

/** line through the visits, each group with a height of its own, against time or what time is turned into */
export function weightedLine(
  visits: readonly Visit[],
  group: (visit: Visit) => string,
  turned: (when: number) => number = (when) => when,
) {
  let information = 0;
  let moment = 0;
  let square = 0;
  const times = new Map(visits.map((v) => [v, turned(v.when)]));
  for (const one of new Set(visits.map(group))) {
    const members = visits.filter((v) => group(v) === one);
    const weights = members.map((v) => v.standardUncertainty ** -2);
    const total = weights.reduce((a, b) => a + b, 0);
    // counted from the first, so that visits at one moment are so to the last digit
    const since = members.map((v) => times.get(v)! - times.get(members[0]!)!);
    const t0 = since.reduce((sum, t, i) => sum + t * weights[i]!, 0) / total;
    const z0 = members.reduce((sum, v, i) => sum + v.mean * weights[i]!, 0) / total;
    members.forEach((v, i) => {
      information += weights[i]! * (since[i]! - t0) ** 2;
      moment += weights[i]! * (since[i]! - t0) * (v.mean - z0);
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

/** Growth of the doubt between returns, µm² per unit of time (Brownian bridge): variance of the steps between rounds beyond
 * a smooth curve and beyond their own uncertainty. */
export function wanderOf({ when, shift, fit }: NonNullable<DriftFit["rounds"]>, curve: (t: number) => number): number {
  const labels = fit.coefficients.length - (shift.length - 1);
  const covariance = (i: number, j: number) =>
    i < 1 || j < 1 ? 0 : fit.covarianceFactor[labels + i - 1]![labels + j - 1]!;
  let excess = 0;
  for (let k = 1; k < shift.length; k++) {
    const step = shift[k]! - shift[k - 1]! - (curve(when[k]!) - curve(when[k - 1]!));
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

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}

/** straight from knot to knot, level beyond the ends */
export function interpolate(at: readonly number[], values: readonly number[], t: number): number {
  const after = at.findIndex((knot) => knot >= t);
  if (after < 0) return values.at(-1)!;
  if (after === 0) return values[0]!;
  const share = (t - at[after - 1]!) / (at[after]! - at[after - 1]!);
  return values[after - 1]! + share * (values[after]! - values[after - 1]!);
}
