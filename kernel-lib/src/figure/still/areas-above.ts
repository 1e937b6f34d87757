/** Values on the crossings of lines, row by row; NaN where there is none. */
export interface Crossings {
  readonly xs: readonly number[];
  readonly ys: readonly number[];
  readonly values: readonly number[];
}

/** A closed line, x and y by turns. */
export type Ring = readonly number[];

/** Crossings with a frame of nothing round them, and how many levels the value of each reaches. */
interface Framed {
  readonly width: number;
  readonly xs: readonly number[];
  readonly ys: readonly number[];
  readonly values: Float64Array;
  readonly reached: Int16Array;
}

/** Edges of a cell, walked round from its first corner: where a line enters and where it leaves, by which corners lie in
 * the area (1, 2, 4, 8); the area lies on its left. Of two opposite corners: each by itself, then both joined. */
const passages: readonly (readonly number[])[] = [
  [],
  [0, 3],
  [1, 0],
  [1, 3],
  [2, 1],
  [0, 3, 2, 1],
  [2, 0],
  [2, 3],
  [3, 2],
  [0, 2],
  [1, 0, 3, 2],
  [1, 2],
  [3, 1],
  [0, 1],
  [3, 0],
  [],
];
const joined: readonly (readonly number[])[] = [
  [0, 1, 2, 3],
  [1, 2, 3, 0],
];

/**
 * The areas at or above each level, as closed lines to be filled by the even-odd rule.
 *
 * One pass over the cells finds the lines of all levels: they go straight through a cell, from where the level lies on one
 * edge to where it lies on another; where two opposite corners are in, the mean of the four says whether they are joined.
 * An area ends half a cell before a crossing without a value, and half a cell outside of the outermost lines.
 *
 * @param levels rising
 * @returns one list of rings a level
 */
export function areasAbove(crossings: Crossings, levels: readonly number[]): readonly (readonly Ring[])[] {
  const framed = inFrame(crossings, levels);
  const edges = 2 * framed.values.length;
  /** for each level and edge the edge that the line goes to, counted from 1 */
  const next = new Int32Array(levels.length * edges);
  const starts: number[][] = levels.map(() => []);
  const { width, values, reached } = framed;
  const last = values.length - width - 1;
  for (let at = 0; at < last; at++) {
    const [a, b, c, d] = [reached[at]!, reached[at + 1]!, reached[at + width + 1]!, reached[at + width]!];
    if (a === b && b === c && c === d) continue;
    const highest = Math.max(a, b, c, d);
    for (let level = Math.min(a, b, c, d); level < highest; level++) {
      const corners = (a > level ? 1 : 0) + (b > level ? 2 : 0) + (c > level ? 4 : 0) + (d > level ? 8 : 0);
      const walk = isJoined(framed, at, corners, levels[level]!) ? joined[corners >> 3]! : passages[corners]!;
      for (let i = 0; i < walk.length; i += 2) {
        const from = edgeAt(at, walk[i]!, width);
        next[level * edges + from] = edgeAt(at, walk[i + 1]!, width) + 1;
        starts[level]!.push(from);
      }
    }
  }
  return starts.map((list, level) => rings(framed, levels[level]!, list, next.subarray(level * edges)));
}

function inFrame({ xs, ys, values: given }: Crossings, levels: readonly number[]): Framed {
  const width = xs.length + 2;
  const values = new Float64Array(width * (ys.length + 2)).fill(Number.NaN);
  const reached = new Int16Array(values.length);
  let count = 0;
  for (let row = 0, k = 0; row < ys.length; row++) {
    for (let column = 0; column < xs.length; column++, k++) {
      const at = (row + 1) * width + column + 1;
      const value = given[k]!;
      values[at] = value;
      if (Number.isNaN(value)) continue;
      // what lies beside differs by little: counted on from there
      while (count < levels.length && levels[count]! <= value) count++;
      while (count > 0 && levels[count - 1]! > value) count--;
      reached[at] = count;
    }
  }
  return { width, xs: carriedOn(xs), ys: carriedOn(ys), values, reached };
}

/** lines with one more at each end, as far away as the one before */
function carriedOn(lines: readonly number[]): readonly number[] {
  const n = lines.length;
  return [2 * lines[0]! - lines[1]!, ...lines, 2 * lines[n - 1]! - lines[n - 2]!];
}

function isJoined({ width, values }: Framed, at: number, corners: number, level: number): boolean {
  if (corners !== 5 && corners !== 10) return false;
  return values[at]! + values[at + 1]! + values[at + width]! + values[at + width + 1]! >= 4 * level;
}

/** An edge by the crossing it begins at: even along the row, odd along the column. */
function edgeAt(cell: number, side: number, width: number): number {
  if (side === 0) return 2 * cell;
  if (side === 1) return 2 * cell + 3;
  if (side === 2) return 2 * (cell + width);
  return 2 * cell + 1;
}

function rings(framed: Framed, level: number, starts: readonly number[], next: Int32Array): readonly Ring[] {
  const found: Ring[] = [];
  for (const start of starts) {
    if (next[start] === 0) continue;
    const ring: number[] = [];
    let edge = start;
    do {
      addPoint(ring, framed, level, edge);
      const to = next[edge]! - 1;
      next[edge] = 0;
      edge = to;
    } while (edge !== start);
    found.push(ring);
  }
  return found;
}

/** where a level lies on an edge */
function addPoint(ring: number[], { width, xs, ys, values }: Framed, level: number, edge: number): void {
  const at = edge >> 1;
  const upright = (edge & 1) === 1;
  const part = (level - values[at]!) / (values[at + (upright ? width : 1)]! - values[at]!);
  // beside a crossing without a value
  const along = part >= 0 && part <= 1 ? part : 0.5;
  const row = Math.floor(at / width);
  const column = at - row * width;
  const [x, y] = [xs[column]!, ys[row]!];
  if (upright) ring.push(x, y + along * (ys[row + 1]! - y));
  else ring.push(x + along * (xs[column + 1]! - x), y);
}
