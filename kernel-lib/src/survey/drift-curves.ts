import { leastSquares } from "../numerics/least-squares.js";
import { type DriftFit, interpolate, weightedLine } from "./drift.js";

/** A curve that the datum returns may follow: no drift, a line, settling, straight from return to return. */
export interface DriftCurve {
  readonly model: "none seen" | "straight line" | "settling" | "between returns";
  /** drift at a moment, µm, zero at the first one */
  readonly shift: (t: number) => number;
  /** what one standard uncertainty of each of its independent causes does at a moment, µm */
  readonly doubts: readonly ((t: number) => number)[];
  /** share of the evidence among the curves tried, 0 to 1 */
  readonly share: number;
  /** time constant, in the unit of the times; of settling only */
  readonly timeConstant?: number;
}

type Scored = Omit<DriftCurve, "share"> & { readonly score: number };

/**
 * Every curve that the returns can bear, with its share of the evidence: exp(−½ (χ² + k ln n)) for k parameters and n
 * visits (Schwarz's criterion), shares summing to one.
 *
 * @see Schwarz, Annals of Statistics 6 (1978), 461–464, from memory
 */
export function driftCurves(fit: DriftFit): readonly DriftCurve[] {
  const middle = (fit.from + fit.to) / 2;
  const doubt = (t: number) => fit.slopeUncertainty * (t - middle);
  const price = Math.log(fit.visits.length);
  const scored: Scored[] = [
    { model: "none seen", shift: () => 0, doubts: [doubt], score: fit.misfitFlat },
    {
      model: "straight line",
      shift: (t) => fit.slope * (t - fit.from),
      doubts: [doubt],
      score: fit.misfitLine + price,
    },
    ...settling(fit, price),
    ...betweenReturns(fit, price),
  ];
  const best = scored.reduce((least, { score }) => Math.min(least, score), Number.POSITIVE_INFINITY);
  const weights = scored.map(({ score }) => Math.exp((best - score) / 2));
  const total = weights.reduce((a, b) => a + b, 0);
  return scored.map(({ score: _, ...curve }, k) => ({ ...curve, share: weights[k]! / total }));
}

function betweenReturns({ rounds }: DriftFit, price: number): Scored[] {
  if (!rounds) return [];
  const { when, shift, fit } = rounds;
  return [
    {
      model: "between returns",
      shift: (t) => interpolate(when, shift, t),
      doubts: roundModes(shift.length - 1, fit.covarianceFactor).map(
        (mode) => (t: number) => interpolate(when, mode, t),
      ),
      score: fit.residualSumOfSquares + (shift.length - 1) * price,
    },
  ];
}

/** a (1 − exp(−(t − t₀)/τ)), τ between a fifteenth of the survey and the whole of it */
function settling(drift: DriftFit, price: number): Scored[] {
  const { visits, from, to, groups, groupOf } = drift;
  if (visits.length - groups.length < 3) return [];
  const span = to - from;
  const lineAt = (logTau: number) => weightedLine(visits, groupOf, riseOf(drift, Math.exp(logTau)));
  const [low, high] = [Math.log(span / 15), Math.log(span)];
  const steps = 24;
  const grid = Array.from({ length: steps + 1 }, (_, k) => low + ((high - low) * k) / steps);
  const sizes = grid.map((logTau) => lineAt(logTau).misfit);
  const at = sizes.indexOf(Math.min(...sizes));
  // least at an end: it is a line, or a jump that no return shows
  if (at === 0 || at === steps) return [];
  const logTau = vertex(grid.slice(at - 1, at + 2), sizes.slice(at - 1, at + 2));
  const tau = Math.exp(logTau);
  const { slope: size, misfit } = lineAt(logTau);
  const fit = fitSettling(drift, tau);
  const labels = groups.length;
  const covariance = [0, 1].map((i) => [0, 1].map((j) => fit.covarianceFactor[labels + i]![labels + j]!));
  const [first, second] = covariance as [[number, number], [number, number]];
  const [l11, l21] = [Math.sqrt(first[0]), second[0] / Math.sqrt(first[0])];
  const l22 = Math.sqrt(Math.max(0, second[1] - l21 * l21));
  const bend = bendOf(drift, tau);
  const rise = riseOf(drift, tau);
  return [
    {
      model: "settling",
      shift: (t) => size * rise(t),
      doubts: [(t) => l11 * rise(t) + l21 * bend(t), (t) => l22 * bend(t)],
      score: misfit + 2 * price,
      timeConstant: tau,
    },
  ];
}

function riseOf({ from }: DriftFit, tau: number): (t: number) => number {
  return (t) => 1 - Math.exp(-(t - from) / tau);
}

/** how the curve changes with the logarithm of its time constant, for a size of one */
function bendOf({ from }: DriftFit, tau: number): (t: number) => number {
  return (t) => (-(t - from) / tau) * Math.exp(-(t - from) / tau);
}

/** size and bend fitted together, for their covariance */
function fitSettling(drift: DriftFit, tau: number) {
  const { visits, groups, groupOf } = drift;
  const over = (value: (t: number) => number) => visits.map((v) => value(v.when) / v.standardUncertainty);
  const columns = groups.map((group) => visits.map((v) => (groupOf(v) === group ? 1 / v.standardUncertainty : 0)));
  columns.push(over(riseOf(drift, tau)), over(bendOf(drift, tau)));
  return leastSquares(
    columns,
    visits.map((v) => v.mean / v.standardUncertainty),
  );
}

/** where the parabola through three evenly spaced values is least */
function vertex(at: readonly number[], values: readonly number[]): number {
  const [a, b, c] = values as [number, number, number];
  const bend = a - 2 * b + c;
  const step = at[1]! - at[0]!;
  return bend > 0 ? at[1]! + (step * (a - c)) / (2 * bend) : at[1]!;
}

/** the covariance of the rounds, cut into independent columns (Cholesky); the first round is exactly zero */
function roundModes(size: number, covariance: readonly (readonly number[])[]): number[][] {
  const labels = covariance.length - size;
  const factor: number[][] = [];
  for (let i = 0; i < size; i++) {
    factor.push(new Array<number>(size).fill(0));
    for (let j = 0; j <= i; j++) {
      let rest = covariance[labels + i]![labels + j]!;
      for (let k = 0; k < j; k++) rest -= factor[i]![k]! * factor[j]![k]!;
      factor[i]![j] = i === j ? Math.sqrt(Math.max(rest, 0)) : rest / factor[j]![j]!;
    }
  }
  return factor.map((_, j) => [0, ...factor.map((row) => row[j]!)]);
}
