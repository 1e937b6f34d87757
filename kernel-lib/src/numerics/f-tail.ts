import { fUpperTail } from "./distributions.js";

/** above this the sums get long and their powers small; the continued fraction then takes over */
const mostDegrees = 400;

/** a tail below this, taken as what the lower one leaves of 1, would lose the digits it is asked for */
const leastOfDifference = 1e-3;

/**
 * Probability that F exceeds `f`, for whole degrees of freedom: a sum of few terms where one of the two is even (Abramowitz
 * and Stegun 26.6.4 to 26.6.8), several times quicker than the continued fraction of `fUpperTail`, which takes over elsewhere.
 */
export function fUpperTailWhole(f: number, numerator: number, denominator: number): number {
  if (!(f > 0)) return 1;
  const sum = numerator * f + denominator;
  if (!(numerator + denominator <= mostDegrees && sum < Number.POSITIVE_INFINITY)) {
    return fUpperTail(f, numerator, denominator);
  }
  const x = denominator / sum;
  const y = (numerator * f) / sum;
  // all terms of this sum are positive and it is the tail itself
  if (numerator % 2 === 0) return x ** (denominator / 2) * partialSum(denominator / 2, y, numerator / 2);
  if (denominator % 2 !== 0) return fUpperTail(f, numerator, denominator);
  const power = y ** (numerator / 2);
  if (x <= 0.4) return power * restOfSum(numerator / 2, x, denominator / 2);
  const tail = 1 - power * partialSum(numerator / 2, x, denominator / 2);
  return tail > leastOfDifference ? tail : fUpperTail(f, numerator, denominator);
}

/** Σ (a)ⱼ xʲ/j! for j below n */
function partialSum(a: number, x: number, n: number): number {
  let term = 1;
  let sum = 1;
  for (let j = 1; j < n; j++) {
    term *= ((a + j - 1) * x) / j;
    sum += term;
  }
  return sum;
}

/** the same for j from n on, which loses no digits where the tail is small */
function restOfSum(a: number, x: number, n: number): number {
  let term = 1;
  for (let j = 1; j <= n; j++) term *= ((a + j - 1) * x) / j;
  let sum = term;
  for (let j = n + 1; term > sum * 1e-17; j++) {
    term *= ((a + j - 1) * x) / j;
    sum += term;
  }
  return sum;
}
