import { type Circle, type Dense, withDense } from "./dense.js";
import { seriesTerms } from "./radial-series.js";
import type { Sources } from "./radial-sums.js";
import { range } from "./range.js";

/** sources so many radii from the middle of a square are far: 40 terms then err by less than 1e-15 of Σ |w| r² */
const apart = 2;
/** targets in a last square, about */
const few = 50;
const deepest = 8;

/**
 * Σ w r² ln r at many targets, by squares of targets that are quartered again and again. Sources far from a square go into
 * two power series about its middle, which its quarters take over; those that are near to the last go in term by term.
 *
 * @see Greengard and Rokhlin, Journal of Computational Physics 73, 1987, for ln r
 */
export function treeSums({ x: sx, y: sy, weights }: Sources, x: Float64Array, y: Float64Array): Float64Array {
  const { order, starts, whole, depth } = quartered(x, y);
  const n = sx.length;
  const m = x.length + 4;
  const size = 4 * seriesTerms;
  const series = 3 * n + 3 * m;
  return withDense(series + (depth + 3) * size, 4, (memory, dense) => {
    memory.set(sx, 0);
    memory.set(sy, n);
    memory.set(weights, 2 * n);
    memory.fill(0, 3 * n, series + size);
    for (let i = 0; i < x.length; i++) {
      memory[3 * n + i] = x[order[i]!]!;
      memory[3 * n + m + i] = y[order[i]!]!;
    }
    const place = { n, targets: 3 * n, m, series, spare: series + (depth + 1) * size };
    new Tree(memory, dense, place, starts, depth).sum(0, 0, n, whole);
    const sums = new Float64Array(x.length);
    for (let i = 0; i < sums.length; i++) sums[order[i]!] = memory[3 * n + 2 * m + i]!;
    return sums;
  });
}

interface Quartered {
  /** the targets by the least squares that hold them, the four quarters of each square one after the other */
  readonly order: Int32Array;
  /** where each least square begins in `order`, and the end */
  readonly starts: Int32Array;
  readonly whole: Circle;
  readonly depth: number;
}

function quartered(x: Float64Array, y: Float64Array): Quartered {
  const [[x0, x1], [y0, y1]] = [range(x), range(y)];
  const [width, height] = [x1 - x0, y1 - y0];
  const side = Math.max(width, height) || 1;
  // a long field fills a part of its square only
  const squares = (x.length / few) * (side / (Math.min(width, height) || side));
  const depth = Math.max(0, Math.min(Math.round(Math.log2(squares) / 2), deepest));
  const lines = 2 ** depth;
  const lineOf = (off: number) => Math.min(lines - 1, Math.floor((off * lines) / side));
  const squareOf = new Int32Array(x.length);
  const starts = new Int32Array(lines * lines + 1);
  for (let i = 0; i < x.length; i++) {
    const at = spread(lineOf(x[i]! - x0)) | (spread(lineOf(y[i]! - y0)) << 1);
    squareOf[i] = at;
    starts[at + 1]!++;
  }
  for (let k = 0; k < lines * lines; k++) starts[k + 1] = starts[k + 1]! + starts[k]!;
  const next = starts.slice();
  const order = new Int32Array(x.length);
  for (let i = 0; i < x.length; i++) order[next[squareOf[i]!]!++] = i;
  const half = side / 2;
  return { order, starts, depth, whole: { x: x0 + half, y: y0 + half, radius: half * Math.SQRT2 } };
}

/** bits of a number to every other place */
function spread(line: number): number {
  let bits = (line | (line << 4)) & 0x0f0f;
  bits = (bits | (bits << 2)) & 0x3333;
  return (bits | (bits << 1)) & 0x5555;
}

/** Where things lie: x, y and weight of `n` sources; x, y and sum of `m` targets; a pair of series for each level. */
interface Place {
  readonly n: number;
  readonly targets: number;
  readonly m: number;
  readonly series: number;
  readonly spare: number;
}

class Tree {
  constructor(
    private readonly memory: Float64Array,
    private readonly dense: Dense,
    private readonly place: Place,
    private readonly starts: Int32Array,
    private readonly depth: number,
  ) {}

  /** targets of one square of a level with the first `count` sources; the level's series hold what all others make */
  sum(square: number, level: number, count: number, circle: Circle): void {
    const { starts, depth, dense } = this;
    const { n, targets, m, series, spare } = this.place;
    const below = 2 * (depth - level);
    const [from, to] = [starts[square << below]!, starts[(square + 1) << below]!];
    if (from === to) return;
    const own = series + 4 * seriesTerms * level;
    const near = this.nearFirst(count, circle);
    if (near < count) dense.addFar(near, n + near, 2 * n + near, count - near, circle, own, spare);
    if (level < depth && near > 0) {
      this.sumQuarters(square, level, near, circle, own);
      return;
    }
    // in fours: what is written beyond the last target is written over by the next square
    const whole = Math.ceil((to - from) / 4) * 4;
    const at = targets + from;
    dense.sumSeries(own, circle, at, at + m, at + 2 * m, whole);
    dense.addRadial(0, n, 2 * n, near, at, at + m, at + 2 * m, whole);
  }

  private sumQuarters(square: number, level: number, near: number, { x, y, radius }: Circle, own: number): void {
    const step = Math.SQRT1_2 / 2;
    for (let quarter = 0; quarter < 4; quarter++) {
      const [dx, dy] = [quarter & 1 ? step : -step, quarter & 2 ? step : -step];
      const circle = { x: x + dx * radius, y: y + dy * radius, radius: radius / 2 };
      this.dense.shiftSeries(own, own + 4 * seriesTerms, dx, dy, 0.5);
      this.sum(4 * square + quarter, level + 1, near, circle);
    }
  }

  /** Brings the near ones of the first `count` sources to the front; how many there are. */
  private nearFirst(count: number, { x, y, radius }: Circle): number {
    const { memory } = this;
    const { n } = this.place;
    const limit = (apart * radius) ** 2;
    let [i, end] = [0, count];
    while (i < end) {
      if ((memory[i]! - x) ** 2 + (memory[n + i]! - y) ** 2 < limit) i++;
      else {
        end--;
        for (let k = 0; k < 3 * n; k += n) {
          const kept = memory[k + i]!;
          memory[k + i] = memory[k + end]!;
          memory[k + end] = kept;
        }
      }
    }
    return i;
  }
}
