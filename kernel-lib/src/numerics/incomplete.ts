/** Incomplete gamma and beta functions, written so that they hold for very many degrees of freedom: powers that would
 * cancel are taken together before they are exponentiated. Formulas: Abramowitz and Stegun 6.5, 26.5; the factors for
 * large arguments after Didonato and Morris (1992). */

const halfLogTwoPi = 0.918_938_533_204_672_8;
const tiny = 1e-300;

/** Stirling's remainder: ln Γ(a) − [(a − ½) ln a − a + ½ ln 2π], for a ≥ 10 */
function stirlingRest(a: number): number {
  const r = 1 / (a * a);
  return (1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r * (1 / 1188 - r * (691 / 360_360)))))) / a;
}

/** Natural logarithm of Γ(a), a > 0. */
export function logGamma(a: number): number {
  // the recurrence moves a small argument to where the series holds
  let shift = 1;
  let b = a;
  while (b < 10) shift *= b++;
  return (b - 0.5) * Math.log(b) - b + halfLogTwoPi + stirlingRest(b) - Math.log(shift);
}

/** µ − ln(1 + µ), without cancellation near 0 */
function bend(mu: number): number {
  if (Math.abs(mu) > 0.1) return mu - Math.log1p(mu);
  let power = mu * mu;
  let sum = 0;
  for (let n = 2; n < 40; n++) {
    sum += power / n;
    power *= -mu;
    if (Math.abs(power) < 1e-18 * sum) break;
  }
  return sum;
}

/** xᵃ e⁻ˣ / Γ(a) */
function gammaFactor(a: number, x: number): number {
  if (a < 10) return Math.exp(a * Math.log(x) - x - logGamma(a));
  return Math.sqrt(a / (2 * Math.PI)) * Math.exp(-a * bend((x - a) / a) - stirlingRest(a));
}

/** The two tails of a distribution, each computed where it is small. */
export interface Tails {
  readonly lower: number;
  readonly upper: number;
}

/** Regularised incomplete gamma function: lower P(a, x) and upper Q(a, x). */
export function incompleteGamma(a: number, x: number): Tails {
  if (!(x > 0)) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const factor = gammaFactor(a, x);
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < 1_000_000 && term > sum * 1e-17; n++) sum += term *= x / (a + n);
    const lower = sum * factor;
    return { lower, upper: 1 - lower };
  }
  const upper =
    factor /
    continuedFraction(
      (n) => x + 2 * n + 1 - a,
      (n) => -n * (n - a),
    );
  return { lower: 1 - upper, upper };
}

/** xᵃ yᵇ / B(a, b), y = 1 − x given apart so that neither loses digits */
function betaFactor(a: number, b: number, x: number, y: number): number {
  if (a >= 10 && b >= 10) {
    const off = x <= 0.5 ? a - (a + b) * x : (a + b) * y - b;
    const rest = stirlingRest(a) + stirlingRest(b) - stirlingRest(a + b);
    const scale = Math.sqrt((a / (a + b)) * (b / (2 * Math.PI)));
    return scale * Math.exp(-a * bend(-off / a) - b * bend(off / b) - rest);
  }
  const logX = x <= 0.5 ? Math.log(x) : Math.log1p(-y);
  const logY = y <= 0.5 ? Math.log(y) : Math.log1p(-x);
  return Math.exp(a * logX + b * logY - logBeta(a, b));
}

function logBeta(p: number, q: number): number {
  const a = Math.min(p, q);
  const b = Math.max(p, q);
  if (b < 10) return logGamma(a) + logGamma(b) - logGamma(a + b);
  const ratio = -(b - 0.5) * Math.log1p(a / b) - a * Math.log(a + b) + a + stirlingRest(b) - stirlingRest(a + b);
  return logGamma(a) + ratio;
}

/** Regularised incomplete beta function: lower I_x(a, b) and upper 1 − I_x(a, b); y = 1 − x. */
export function incompleteBeta(a: number, b: number, x: number, y: number): Tails {
  if (!(x > 0)) return { lower: 0, upper: 1 };
  if (!(y > 0)) return { lower: 1, upper: 0 };
  if (x > (a + 1) / (a + b + 2)) {
    const { lower, upper } = incompleteBeta(b, a, y, x);
    return { lower: upper, upper: lower };
  }
  // even and odd coefficients of the fraction of Abramowitz and Stegun 26.5.8
  const fraction = continuedFraction(
    () => 1,
    (n) => {
      const m = n >> 1;
      if (n % 2 === 1) return (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
      return (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    },
  );
  const lower = betaFactor(a, b, x, y) / (a * fraction);
  return { lower, upper: 1 - lower };
}

/** b(0) + a(1)/(b(1) + a(2)/(b(2) + …)) by Lentz's method */
function continuedFraction(b: (n: number) => number, a: (n: number) => number): number {
  let f = b(0) || tiny;
  let c = f;
  let d = 0;
  for (let n = 1; n < 1_000_000; n++) {
    const an = a(n);
    const bn = b(n);
    d = 1 / (bn + an * d || tiny);
    c = bn + an / c || tiny;
    const step = c * d;
    f *= step;
    if (Math.abs(step - 1) < 2e-16) break;
  }
  return f;
}
