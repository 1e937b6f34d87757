/** y₀ + Σ a (1 − exp(−t/τ)), t from the first reading: parameters in the order y₀, a₁, τ₁, a₂, τ₂. Plain numbers, one
 * unit of time and one of the value throughout. */
export type SettlingParameters = readonly number[];

/** value of the curve */
export function valueAt(p: SettlingParameters, t: number): number {
  let sum = p[0]!;
  for (let k = 1; k < p.length; k += 2) sum -= p[k]! * Math.expm1(-t / p[k + 1]!);
  return sum;
}

/** change of the value with each parameter */
export function valuePartials(p: SettlingParameters, t: number): number[] {
  const partials = [1];
  for (let k = 1; k < p.length; k += 2) {
    const [a, tau] = [p[k]!, p[k + 1]!];
    partials.push(-Math.expm1(-t / tau), (-a * t * Math.exp(-t / tau)) / tau ** 2);
  }
  return partials;
}

/** change of the value with time */
export function rateAt(p: SettlingParameters, t: number): number {
  let sum = 0;
  for (let k = 1; k < p.length; k += 2) sum += (p[k]! / p[k + 1]!) * Math.exp(-t / p[k + 1]!);
  return sum;
}

/** A figure of the curve at a moment, such as its rate, that comes to nothing in the end. */
export type Figure = (p: SettlingParameters, t: number) => number;

/** what is still to come */
export const leftAt: Figure = (p, t) => {
  let sum = 0;
  for (let k = 1; k < p.length; k += 2) sum += p[k]! * Math.exp(-t / p[k + 1]!);
  return sum;
};

/** what comes within a span from a moment on */
export function changeWithin(span: number): Figure {
  return (p, t) => leftAt(p, t) - leftAt(p, t + span);
}

/**
 * The last moment at which the size of a figure is a limit; 0 where it is below the limit from the start.
 * A sum of two exponentials has at most one turn, so a fine scan over the slower constant misses no crossing that matters.
 */
export function lastCrossing(figure: Figure, p: SettlingParameters, limit: number): number {
  const slowest = Math.max(...p.filter((_, k) => k > 0 && k % 2 === 0));
  const over = (t: number) => Math.abs(figure(p, t)) - limit;
  let high = 0;
  let reach = slowest;
  // far enough out: the figure dies as the slowest exponential
  while (over(reach) > 0 && reach < 60 * slowest) reach += slowest;
  const steps = 400;
  for (let k = 0; k <= steps; k++) if (over((k * reach) / steps) > 0) high = ((k + 1) * reach) / steps;
  if (high === 0) return 0;
  let low = high - reach / steps;
  for (let round = 0; round < 80 && high - low > 1e-13 * slowest; round++) {
    const middle = (low + high) / 2;
    if (over(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** one for a parameter, nothing for the others */
export function oneAt(k: number, length: number): number[] {
  return Array.from({ length }, (_, j) => (j === k ? 1 : 0));
}

/** Change of a figure with each parameter by central differences: a part of the time constant itself, a part of `size` for the others. */
export function centralPartials(
  figure: (p: SettlingParameters) => number,
  p: SettlingParameters,
  part: number,
  size: number,
): number[] {
  return p.map((value, k) => {
    const step = part * (k > 0 && k % 2 === 0 ? value : size);
    const at = (sign: number) => figure(p.map((v, j) => (j === k ? v + sign * step : v)));
    return (at(1) - at(-1)) / (2 * step);
  });
}
