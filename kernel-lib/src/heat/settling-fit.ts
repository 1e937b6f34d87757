import { MeasurementError } from "../measurement-error.js";
import { leastSquares, type NonlinearFit, nonlinearLeastSquares } from "../numerics/index.js";
import { type SettlingParameters, valueAt, valuePartials } from "./settling-curve.js";

/** A settling curve through readings; times in minutes from the first, values in µm or K. */
export interface SettlingFit {
  readonly parameters: SettlingParameters;
  readonly covariance: readonly (readonly number[])[];
  /** y − curve */
  readonly residuals: readonly number[];
  /** of one reading, not below what the resolution leaves */
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
  /** correlation of each residual with the next */
  readonly lagCorrelation: number;
  /** what the standard errors were widened by for residuals that follow each other; 1 where they do not */
  readonly widened: number;
  readonly evidence: readonly Evidence[];
}

export interface Evidence {
  readonly model: "no change" | "straight line" | "one time constant" | "two time constants";
  /** share of the evidence among the curves tried, 0 to 1 */
  readonly share: number;
}

interface Candidate {
  readonly model: Evidence["model"];
  readonly sum: number;
  readonly count: number;
  readonly fit?: NonlinearFit;
}

/**
 * Fits one and two time constants, a line and no change, and takes what has most evidence: exp(−½ (n ln (S/n) + k ln n)) for
 * k parameters and n readings (Schwarz's criterion).
 *
 * @see Schwarz, Annals of Statistics 6 (1978), 461–464, from memory
 */
export function fitSettling(
  where: string,
  t: readonly number[],
  y: readonly number[],
  step: number,
  constants: 1 | 2 | undefined,
): SettlingFit {
  const n = y.length;
  const one = curve(where, t, y, 1);
  const two = constants === 1 || n < 9 ? undefined : curve(where, t, y, 2);
  const candidates = [straight("no change", [t.map(() => 1)], y), straight("straight line", [t.map(() => 1), t], y)];
  for (const found of [one, two]) if (found) candidates.push(found);
  const range = Math.max(...y) - Math.min(...y);
  const floor = n * Math.max(step ** 2 / 12, (1e-9 * range) ** 2, Number.MIN_VALUE);
  const scores = candidates.map(({ sum, count }) => n * Math.log(Math.max(sum, floor) / n) + count * Math.log(n));
  const least = Math.min(...scores);
  const weights = scores.map((score) => Math.exp((least - score) / 2));
  const total = weights.reduce((a, b) => a + b, 0);
  const evidence = candidates.map(({ model }, k) => ({ model, share: weights[k]! / total }));
  const best = candidates[scores.indexOf(least)]!;
  const asked = constants === undefined ? best : constants === 1 ? one : two;
  if (!best.fit || !asked?.fit) return refuse(where, best.model, t, constants);
  return finished(where, asked.fit, t, y, step, evidence);
}

function refuse(where: string, best: Evidence["model"], t: readonly number[], constants: number | undefined): never {
  const span = t.at(-1)! - t[0]!;
  const seen = {
    "no change": "the readings do not change beyond their scatter",
    "straight line": "the readings run straight and do not bend yet",
    "one time constant": `${constants} time constants cannot be told apart`,
    "two time constants": `${constants} time constants cannot be told apart`,
  }[best];
  throw new MeasurementError(
    "not-settling",
    `${where}: over ${span.toPrecision(3)} min ${seen}, so that no time constant can be found; read on until the curve flattens, or read more often at the start`,
  );
}

function finished(
  where: string,
  fit: NonlinearFit,
  t: readonly number[],
  y: readonly number[],
  step: number,
  evidence: readonly Evidence[],
): SettlingFit {
  // time constants were fitted by their logarithms
  const scale = fit.coefficients.map((c, k) => (isConstant(k) ? Math.exp(c) : 1));
  const parameters = fit.coefficients.map((c, k) => (isConstant(k) ? Math.exp(c) : c));
  const standardDeviation = Math.max(fit.residualStandardDeviation, step / Math.sqrt(12));
  const residuals = y.map((value, i) => value - valueAt(parameters, t[i]!));
  const lagCorrelation = lagOne(residuals);
  const follows = lagCorrelation > 2.33 / Math.sqrt(y.length);
  const widened = follows ? Math.sqrt((1 + lagCorrelation) / (1 - lagCorrelation)) : 1;
  const variance = (standardDeviation * widened) ** 2;
  const covariance = fit.covarianceFactor.map((row, i) => row.map((v, j) => v * variance * scale[i]! * scale[j]!));
  parameters.forEach((value, k) => {
    const share = Math.sqrt(covariance[k]![k]!) / value;
    if (!isConstant(k) || share < 0.5) return;
    throw new MeasurementError(
      "not-settling",
      `${where}: the time constant of ${value.toPrecision(2)} min is known to ± ${Math.round(100 * share)} % only (standard error); read on until the curve flattens, or read more often at the start`,
    );
  });
  const { degreesOfFreedom } = fit;
  return { parameters, covariance, residuals, standardDeviation, degreesOfFreedom, lagCorrelation, widened, evidence };
}

function straight(model: Evidence["model"], columns: readonly (readonly number[])[], y: readonly number[]): Candidate {
  return { model, sum: leastSquares(columns, y).residualSumOfSquares, count: columns.length };
}

/** the best curve with one or two time constants; undefined where they cannot be told apart */
function curve(where: string, t: readonly number[], y: readonly number[], constants: 1 | 2): Candidate | undefined {
  const plain = (p: readonly number[]) => p.map((c, k) => (isConstant(k) ? Math.exp(c) : c));
  // beyond these a curve is a line or a jump, and the search would run on for ever
  const [least, most] = constants === 1 ? [0, 100 * t.at(-1)!] : [shortestStep(t) / 2, 2 * t.at(-1)!];
  const isOut = (p: readonly number[]) => plain(p).some((tau, k) => isConstant(k) && !(tau > least && tau < most));
  try {
    const fit = nonlinearLeastSquares({
      where,
      y,
      model: (p, row) => (isOut(p) ? Number.NaN : valueAt(plain(p), t[row]!)),
      partials: (p, row) => {
        const values = plain(p);
        return valuePartials(values, t[row]!).map((d, k) => (isConstant(k) ? d * values[k]! : d));
      },
      start: startOf(t, y, constants),
      mostSteps: 100,
    });
    if (constants === 2 && !isToldApart(fit)) return undefined;
    const model = constants === 1 ? "one time constant" : "two time constants";
    return { model, sum: fit.residualSumOfSquares, count: 1 + 2 * constants, fit };
  } catch (error) {
    if (error instanceof MeasurementError) return undefined;
    throw error;
  }
}

/** whether each size and each time constant is known to better than half of itself */
function isToldApart({ coefficients, standardErrors }: NonlinearFit): boolean {
  return coefficients.every((c, k) => k === 0 || standardErrors[k]! < 0.5 * (isConstant(k) ? 1 : Math.abs(c)));
}

function shortestStep(t: readonly number[]): number {
  return t.slice(1).reduce((least, at, i) => Math.min(least, at - t[i]!), Number.POSITIVE_INFINITY);
}

/** the best of a grid of time constants, the rest solved straight */
function startOf(t: readonly number[], y: readonly number[], constants: 1 | 2): number[] {
  const span = t.at(-1)!;
  const ratio = constants === 1 ? 1.5 : 2;
  const grid = Array.from({ length: constants === 1 ? 15 : 8 }, (_, k) => 1.5 * span * ratio ** -k);
  const tried = constants === 1 ? grid.map((a) => [a]) : grid.flatMap((a, i) => grid.slice(i + 1).map((b) => [b, a]));
  let best: { readonly sum: number; readonly start: number[] } = { sum: Number.POSITIVE_INFINITY, start: [] };
  for (const taus of tried) {
    const columns = [t.map(() => 1), ...taus.map((tau) => t.map((at) => -Math.expm1(-at / tau)))];
    const { coefficients, residualSumOfSquares: sum } = leastSquares(columns, y);
    if (!(sum < best.sum)) continue;
    best = { sum, start: [coefficients[0]!, ...taus.flatMap((tau, k) => [coefficients[k + 1]!, Math.log(tau)])] };
  }
  return best.start;
}

function isConstant(k: number): boolean {
  return k > 0 && k % 2 === 0;
}

function lagOne(e: readonly number[]): number {
  const square = e.reduce((sum, v) => sum + v * v, 0);
  const next = e.slice(1).reduce((sum, v, i) => sum + v * e[i]!, 0);
  return square > 0 ? next / square : 0;
}
