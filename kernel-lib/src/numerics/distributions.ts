import { MeasurementError } from "../measurement-error.js";
import { incompleteBeta, incompleteGamma, logGamma, type Tails } from "./incomplete.js";

/** The four distributions that budgets and tests need. Probabilities and quantiles only; the one place to change if a
 * library is to take over. Checked against NIST TN 1297 table B.1 and tables of quantiles in the tests. */

/** Probability that a standard normal value is at most z. @example numerics.normalCdf(1.6448536269514722).toFixed(6) // => "0.950000" */
export function normalCdf(z: number): number {
  const small = normalUpper(Math.abs(z));
  return z < 0 ? small : 1 - small;
}

/** Standard normal quantile. @example numerics.normalQuantile(0.95).toFixed(4) // => "1.6449" */
export function normalQuantile(p: number): number {
  needProbability("normalQuantile", p);
  if (p === 0.5) return 0;
  const q = Math.min(p, 1 - p);
  const size = solveTail(normalUpper, normalDensity, q, Math.sqrt(-2 * Math.log(2 * q)) || 0.1);
  return p < 0.5 ? -size : size;
}

/** Probability that Student's t with `degreesOfFreedom` (need not be whole; `Infinity` is normal) is at most `t`.
 * @example numerics.tCdf(1, 1).toFixed(6) // => "0.750000" */
export function tCdf(t: number, degreesOfFreedom: number): number {
  needDegrees("tCdf", degreesOfFreedom);
  const small = tUpper(Math.abs(t), degreesOfFreedom);
  return t < 0 ? small : 1 - small;
}

/**
 * Quantile of Student's t; degrees of freedom need not be whole, `Infinity` gives the normal quantile.
 * @example numerics.tQuantile(0.975, 10).toFixed(6) // => "2.228139"
 */
export function tQuantile(p: number, degreesOfFreedom: number): number {
  needProbability("tQuantile", p);
  needDegrees("tQuantile", degreesOfFreedom);
  const nu = degreesOfFreedom;
  if (nu === Number.POSITIVE_INFINITY) return normalQuantile(p);
  if (p === 0.5) return 0;
  const q = Math.min(p, 1 - p);
  const z = -normalQuantile(q);
  const start = z * (1 + (z * z + 1) / (4 * nu));
  const size = solveTail(
    (t) => tUpper(t, nu),
    (t) => tDensity(t, nu),
    q,
    start,
  );
  return p < 0.5 ? -size : size;
}

/** Probability that chi-squared with the given degrees of freedom is at most `x`.
 * @example numerics.chiSquaredCdf(2 * Math.LN2, 2).toFixed(6) // => "0.500000" */
export function chiSquaredCdf(x: number, degreesOfFreedom: number): number {
  needDegrees("chiSquaredCdf", degreesOfFreedom);
  return incompleteGamma(degreesOfFreedom / 2, x / 2).lower;
}

/** Quantile of chi-squared. @example numerics.chiSquaredQuantile(0.95, 10).toFixed(6) // => "18.307038" */
export function chiSquaredQuantile(p: number, degreesOfFreedom: number): number {
  needProbability("chiSquaredQuantile", p);
  needDegrees("chiSquaredQuantile", degreesOfFreedom);
  const half = degreesOfFreedom / 2;
  const density = (x: number) => Math.exp((half - 1) * Math.log(x / 2) - x / 2 - logGamma(half)) / 2;
  // Wilson and Hilferty's cube; the power law of the lower tail where the cube fails
  const h = 1 / (9 * half);
  const cube = 2 * half * (1 - h + normalQuantile(p) * Math.sqrt(h)) ** 3;
  const start = cube > 0 ? cube : 2 * Math.exp((Math.log(p) + logGamma(half + 1)) / half);
  return solveSmallerTail((x) => incompleteGamma(half, x / 2), density, p, start);
}

/** Probability that F with the two degrees of freedom is at most `f`. @example numerics.fCdf(3, 2, 4).toFixed(2) // => "0.84" */
export function fCdf(f: number, numerator: number, denominator: number): number {
  return fTails("fCdf", f, numerator, denominator).lower;
}

/** Probability that F exceeds `f`: the p-value of an F test. @example numerics.fUpperTail(3, 2, 4).toFixed(2) // => "0.16" */
export function fUpperTail(f: number, numerator: number, denominator: number): number {
  return fTails("fUpperTail", f, numerator, denominator).upper;
}

/** Quantile of F. @example numerics.fQuantile(0.95, 2, 10).toFixed(6) // => "4.102821" */
export function fQuantile(p: number, numerator: number, denominator: number): number {
  needProbability("fQuantile", p);
  const tails = (f: number) => fTails("fQuantile", f, numerator, denominator);
  const a = numerator / 2;
  const b = denominator / 2;
  const constant = logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(numerator / denominator);
  const density = (f: number) =>
    Math.exp(constant + (a - 1) * Math.log(f) - (a + b) * Math.log1p((numerator / denominator) * f));
  return solveSmallerTail(tails, density, p, 1);
}

/** for z not below zero */
function normalUpper(z: number): number {
  return incompleteGamma(0.5, (z * z) / 2).upper / 2;
}

function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
}

/** for t not below zero */
function tUpper(t: number, nu: number): number {
  if (nu === Number.POSITIVE_INFINITY) return normalUpper(t);
  const square = t * t;
  if (square === Number.POSITIVE_INFINITY) return 0;
  return 0.5 * incompleteBeta(nu / 2, 0.5, nu / (nu + square), square / (nu + square)).lower;
}

function tDensity(t: number, nu: number): number {
  const ratio = logGamma((nu + 1) / 2) - logGamma(nu / 2) - Math.log(nu * Math.PI) / 2;
  return Math.exp(ratio - ((nu + 1) / 2) * Math.log1p((t * t) / nu));
}

function fTails(where: string, f: number, numerator: number, denominator: number): Tails {
  needDegrees(where, numerator);
  needDegrees(where, denominator);
  if (!(f > 0)) return { lower: 0, upper: 1 };
  const sum = numerator * f + denominator;
  return incompleteBeta(numerator / 2, denominator / 2, (numerator * f) / sum, denominator / sum);
}

/** x > 0 at which the tail, rising or falling, has the probability p */
function solveSmallerTail(
  tails: (x: number) => Tails,
  density: (x: number) => number,
  p: number,
  start: number,
): number {
  if (p > 0.5) return solveTail((x) => tails(x).upper, density, 1 - p, start);
  return solveTail(
    (x) => tails(x).lower,
    (x) => -density(x),
    p,
    start,
  );
}

/** Newton's method on the logarithm of a falling tail (density > 0) or a rising one (density < 0), kept in a bracket. */
function solveTail(tail: (x: number) => number, density: (x: number) => number, p: number, start: number): number {
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let x = start;
  for (let step = 0; step < 400; step++) {
    const reached = tail(x);
    const slope = density(x);
    const tooFar = slope < 0 ? reached > p : reached < p;
    if (tooFar) high = x;
    else low = x;
    const newton = x + (reached * Math.log(reached / p)) / slope;
    if (Math.abs(newton - x) <= 4e-16 * Math.abs(x)) return newton;
    x = newton > low && newton < high ? newton : inside(x, low, high);
    if (x === low || x === high) return x;
  }
  return x;
}

/** a point to go on from where Newton's leaves the bracket: bounds can be many powers of ten apart */
function inside(x: number, low: number, high: number): number {
  if (high === Number.POSITIVE_INFINITY) return x * 2;
  return low > 0 ? Math.sqrt(low) * Math.sqrt(high) : high / 8;
}

function needProbability(where: string, p: number): void {
  if (p > 0 && p < 1) return;
  throw new MeasurementError(
    "probability",
    `${where}: ${p} is not a probability between 0 and 1; give one such as 0.95`,
  );
}

function needDegrees(where: string, degreesOfFreedom: number): void {
  if (degreesOfFreedom > 0) return;
  throw new MeasurementError(
    "degrees-of-freedom",
    `${where}: ${degreesOfFreedom} degrees of freedom; give a number greater than zero, Infinity for an exactly known spread`,
  );
}
