/** A function with its gradient; `undefined` where it has no value. */
export type Slope = (
  at: readonly number[],
) => { readonly value: number; readonly gradient: readonly number[] } | undefined;

export interface Minimum {
  readonly at: readonly number[];
  readonly value: number;
  readonly gradient: readonly number[];
  readonly evaluations: number;
  /** inverse of the bend as the steps have shown it */
  readonly inverse: readonly (readonly number[])[];
}

interface Bound {
  readonly low: number;
  readonly high: number;
}

/**
 * Least value of a smooth function of a few variables inside limits: quasi-Newton steps (BFGS) on the variables that no
 * limit holds, halved until the value falls.
 *
 * @param tolerance the search ends where no free slope is larger
 * @param inverse inverse of the bend at the start, where a like function has shown it
 * @see Nocedal and Wright, Numerical Optimization, 2006, chapters 6 and 16
 */
export function boundedMinimum(
  f: Slope,
  start: readonly number[],
  bounds: readonly Bound[],
  {
    tolerance = 1e-5,
    most = 100,
    inverse: known,
  }: { readonly tolerance?: number; readonly most?: number; readonly inverse?: Minimum["inverse"] } = {},
): Minimum | undefined {
  let x = inside(start, bounds);
  let now = f(x);
  let evaluations = 1;
  if (now === undefined) return undefined;
  let inverse: Minimum["inverse"] = known ?? identity(x.length, firstStep(now.gradient));
  for (let turn = 0; turn < most; turn++) {
    const free = x.map((v, i) => !(now!.gradient[i]! > 0 ? v <= bounds[i]!.low : v >= bounds[i]!.high));
    if (now.gradient.every((g, i) => !free[i] || Math.abs(g) <= tolerance)) break;
    let direction = directionOf(inverse, now.gradient, free);
    if (!(dot(direction, now.gradient) < 0)) {
      inverse = identity(x.length, firstStep(now.gradient));
      direction = directionOf(inverse, now.gradient, free);
    }
    const found = lineSearch(f, x, now, direction, bounds);
    evaluations += found.evaluations;
    if (found.next === undefined) break;
    const step = found.next.x.map((v, i) => v - x[i]!);
    const bend = found.next.gradient.map((g, i) => g - now!.gradient[i]!);
    inverse = updated(inverse, step, bend);
    const gain = now.value - found.next.value;
    [x, now] = [found.next.x, found.next];
    if (gain <= 1e-13 * Math.abs(now.value)) break;
  }
  return { at: x, value: now.value, gradient: now.gradient, evaluations, inverse };
}

type Found = { readonly value: number; readonly gradient: readonly number[] };

function lineSearch(
  f: Slope,
  x: readonly number[],
  now: Found,
  direction: readonly number[],
  bounds: readonly Bound[],
) {
  // in logarithms no step of more than e² is worth a try
  let length = Math.min(1, 2 / Math.max(...direction.map(Math.abs)));
  for (let evaluations = 1; evaluations <= 30; evaluations++) {
    const tried = inside(
      x.map((v, i) => v + length * direction[i]!),
      bounds,
    );
    const fall = tried.reduce((s, v, i) => s + (v - x[i]!) * now.gradient[i]!, 0);
    const next = f(tried);
    if (next !== undefined && next.value <= now.value + 1e-4 * fall) {
      return { evaluations, next: { ...next, x: tried } };
    }
    // the least of the parabola through what is known
    const rise = next === undefined ? Number.POSITIVE_INFINITY : next.value - now.value - fall;
    length *= Math.min(0.5, Math.max(0.1, -fall / (2 * rise)));
  }
  return { evaluations: 30, next: undefined };
}

function inside(x: readonly number[], bounds: readonly Bound[]): number[] {
  return x.map((v, i) => Math.min(Math.max(v, bounds[i]!.low), bounds[i]!.high));
}

function firstStep(gradient: readonly number[]): number {
  return 1 / Math.max(1, Math.hypot(...gradient));
}

function identity(n: number, size: number): number[][] {
  return Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? size : 0)));
}

function directionOf(inverse: readonly (readonly number[])[], gradient: readonly number[], free: readonly boolean[]) {
  return inverse.map((row, i) => (free[i] ? -row.reduce((s, v, j) => s + (free[j] ? v * gradient[j]! : 0), 0) : 0));
}

function updated(inverse: readonly (readonly number[])[], s: readonly number[], y: readonly number[]): number[][] {
  const sy = dot(s, y);
  if (!(sy > 1e-12 * Math.hypot(...s) * Math.hypot(...y))) return inverse.map((row) => [...row]);
  // the first estimate is brought to the size of the bend
  const sized = isFirst(inverse) ? identity(s.length, sy / dot(y, y)) : inverse;
  const hy = sized.map((row) => dot(row, y));
  const factor = (1 + dot(y, hy) / sy) / sy;
  return sized.map((row, i) => row.map((v, j) => v + factor * s[i]! * s[j]! - (hy[i]! * s[j]! + s[i]! * hy[j]!) / sy));
}

function isFirst(inverse: readonly (readonly number[])[]): boolean {
  return inverse.every((row, i) => row.every((v, j) => (i === j ? v === inverse[0]![0]! : v === 0)));
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((s, v, i) => s + v * b[i]!, 0);
}
