import type { Circle } from "./dense.js";

/*
 * Two power series A and B about the middle of a circle; the sum of w r² ln r over sources outside is the real part of
 * A(u) + ū B(u) at u, the place from the middle in radii as a complex number. A term is four numbers: real part of A and
 * of B, imaginary part of A and of B.
 *
 * For a source at v, r² ln r is the real part of (ū − v̄) (u − v) (ln |v| + ln(1 − u/v)).
 */

/** terms of each series */
export const seriesTerms = 40;

/** Adds what `n` sources make. */
export function addFar(
  memory: Float64Array,
  sx: number,
  sy: number,
  w: number,
  n: number,
  circle: Circle,
  series: number,
): void {
  for (let i = 0; i < n; i++) {
    const [x, y] = [(memory[sx + i]! - circle.x) / circle.radius, (memory[sy + i]! - circle.y) / circle.radius];
    const square = x * x + y * y;
    const f = memory[w + i]! * circle.radius ** 2;
    const log = Math.log(circle.radius) + 0.5 * Math.log(square);
    addTerm(memory, series, f * square * log, 0, -f * x * log, -f * y * log);
    addTerm(memory, series + 4, -f * x * (log + 1), f * y * (log + 1), f * (log + 1), 0);
    // p = w v¹⁻ᵏ
    const [qx, qy] = [x / square, -y / square];
    let [px, py] = [f, 0];
    for (let k = 2; k < seriesTerms; k++) {
      [px, py] = [px * qx - py * qy, px * qy + py * qx];
      const c = 1 / (k * (k - 1));
      // v̄ p = |v|² p / v
      addTerm(memory, series + 4 * k, c * (x * px + y * py), c * (x * py - y * px), -c * px, -c * py);
    }
  }
}

function addTerm(memory: Float64Array, at: number, a: number, ai: number, b: number, bi: number): void {
  memory[at] = memory[at]! + a;
  memory[at + 1] = memory[at + 1]! + b;
  memory[at + 2] = memory[at + 2]! + ai;
  memory[at + 3] = memory[at + 3]! + bi;
}

/** The same series about a middle (x, y) away and with another radius, all in old radii. */
export function shiftSeries(
  memory: Float64Array,
  from: number,
  to: number,
  x: number,
  y: number,
  radius: number,
): void {
  memory.copyWithin(to, from, from + 4 * seriesTerms);
  const last = to + 4 * (seriesTerms - 1);
  for (let low = to; low < last; low += 4) {
    for (let at = last - 4; at >= low; at -= 4) {
      const [a, b, ai, bi] = [memory[at + 4]!, memory[at + 5]!, memory[at + 6]!, memory[at + 7]!];
      addTerm(memory, at, x * a - y * ai, x * ai + y * a, x * b - y * bi, x * bi + y * b);
    }
  }
  let power = 1;
  for (let at = to; at <= last; at += 4) {
    const [b, bi] = [memory[at + 1]!, memory[at + 3]!];
    memory[at] = power * (memory[at]! + x * b + y * bi);
    memory[at + 2] = power * (memory[at + 2]! + x * bi - y * b);
    power *= radius;
    memory[at + 1] = power * b;
    memory[at + 3] = power * bi;
  }
}

/** What the series say at a place. */
export function sumSeries(memory: Float64Array, series: number, circle: Circle, tx: number, ty: number): number {
  const [x, y] = [(tx - circle.x) / circle.radius, (ty - circle.y) / circle.radius];
  let [a, b, ai, bi] = [0, 0, 0, 0];
  for (let at = series + 4 * (seriesTerms - 1); at >= series; at -= 4) {
    [a, ai] = [memory[at]! + x * a - y * ai, memory[at + 2]! + x * ai + y * a];
    [b, bi] = [memory[at + 1]! + x * b - y * bi, memory[at + 3]! + x * bi + y * b];
  }
  return a + x * b + y * bi;
}
