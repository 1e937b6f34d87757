import { selectInPlace } from "./median.js";

interface Plane {
  readonly slopeX: number;
  readonly slopeY: number;
  readonly offset: number;
}

interface Candidate {
  readonly kept: readonly number[];
  readonly sum: number;
}

const leaders = 10;

/** Draws a plane towards the points that fit it best, and remembers the best choices met. */
export class Concentration {
  private readonly x: Float64Array;
  private readonly y: Float64Array;
  private readonly z: Float64Array;
  private readonly squares: Float64Array;
  private readonly work: Float64Array;
  private plane: Plane = { slopeX: 0, slopeY: 0, offset: 0 };
  private candidates: Candidate[] = [];

  constructor(
    x: ArrayLike<number>,
    y: ArrayLike<number>,
    z: ArrayLike<number>,
    private readonly keep: number,
  ) {
    this.x = moved(x);
    this.y = moved(y);
    this.z = moved(z);
    this.squares = new Float64Array(z.length);
    this.work = new Float64Array(z.length);
  }

  /** the choice that leaves least, in rising order */
  best(): readonly number[] {
    return [...this.candidates[0]!.kept].sort((a, b) => a - b);
  }

  /** Looks at one choice of points. */
  offer(kept: readonly number[]): void {
    const fitted = this.fit(kept);
    if (fitted === undefined) return;
    const sum = kept.reduce((s, i) => s + this.residual(fitted, i) ** 2, 0);
    this.remember({ kept: [...kept], sum });
  }

  /** Starts from the plane through three points; false where they lie on a line. */
  throughThree(i: number, j: number, k: number): boolean {
    const fitted = this.fit([i, j, k]);
    if (fitted === undefined) return false;
    this.plane = fitted;
    return true;
  }

  /** Takes the points that fit best, fits them, and again, until nothing changes or `steps` are done. */
  concentrate(steps: number): void {
    let before = Number.POSITIVE_INFINITY;
    for (let step = 0; step < steps; step++) {
      const kept = this.nearest();
      const fitted = this.fit(kept);
      if (fitted === undefined) return;
      this.plane = fitted;
      const sum = kept.reduce((s, i) => s + this.residual(fitted, i) ** 2, 0);
      this.remember({ kept, sum });
      if (!(sum < before)) return;
      before = sum;
    }
  }

  /** Follows the best choices met to their end. */
  finish(): void {
    for (const { kept } of [...this.candidates]) {
      const fitted = this.fit(kept);
      if (fitted === undefined) continue;
      this.plane = fitted;
      this.concentrate(1000);
    }
  }

  private remember(candidate: Candidate): void {
    const last = this.candidates[leaders - 1];
    if (last !== undefined && candidate.sum >= last.sum) return;
    this.candidates = [...this.candidates, candidate].sort((a, b) => a.sum - b.sum).slice(0, leaders);
  }

  private nearest(): readonly number[] {
    const { squares, work, keep } = this;
    for (let i = 0; i < squares.length; i++) squares[i] = this.residual(this.plane, i) ** 2;
    work.set(squares);
    const limit = selectInPlace(work, keep - 1);
    const kept: number[] = [];
    for (let i = 0; i < squares.length; i++) if (squares[i]! < limit) kept.push(i);
    for (let i = 0; kept.length < keep; i++) if (squares[i] === limit) kept.push(i);
    return kept;
  }

  private residual({ slopeX, slopeY, offset }: Plane, i: number): number {
    return this.z[i]! - slopeX * this.x[i]! - slopeY * this.y[i]! - offset;
  }

  private fit(kept: readonly number[]): Plane | undefined {
    const { x, y, z } = this;
    let [mx, my, mz] = [0, 0, 0];
    for (const i of kept) {
      mx += x[i]!;
      my += y[i]!;
      mz += z[i]!;
    }
    mx /= kept.length;
    my /= kept.length;
    mz /= kept.length;
    let [xx, xy, yy, xz, yz] = [0, 0, 0, 0, 0];
    for (const i of kept) {
      const [u, v, w] = [x[i]! - mx, y[i]! - my, z[i]! - mz];
      xx += u * u;
      xy += u * v;
      yy += v * v;
      xz += u * w;
      yz += v * w;
    }
    const determinant = xx * yy - xy * xy;
    if (!(determinant > 1e-9 * (xx + yy) ** 2)) return undefined;
    const slopeX = (xz * yy - yz * xy) / determinant;
    const slopeY = (yz * xx - xz * xy) / determinant;
    return { slopeX, slopeY, offset: mz - slopeX * mx - slopeY * my };
  }
}

/** n over k, as far as a double counts */
export function choices(n: number, k: number): number {
  let product = 1;
  for (let i = 1; i <= Math.min(k, n - k); i++) product = (product * (n - Math.min(k, n - k) + i)) / i;
  return Math.round(product);
}

/** Every choice of k of the numbers 0 … n − 1; the array handed on is used again. */
export function everyChoice(n: number, k: number, look: (chosen: readonly number[]) => void): void {
  const chosen = Array.from({ length: k }, (_, i) => i);
  for (;;) {
    look(chosen);
    let at = k - 1;
    while (at >= 0 && chosen[at] === n - k + at) at--;
    if (at < 0) return;
    chosen[at] = chosen[at]! + 1;
    for (let i = at + 1; i < k; i++) chosen[i] = chosen[i - 1]! + 1;
  }
}

/** taken from the first one, so that nothing large is squared */
function moved(values: ArrayLike<number>): Float64Array {
  return Float64Array.from(values, (v) => v - values[0]!);
}
