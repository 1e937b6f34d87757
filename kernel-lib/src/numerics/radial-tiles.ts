import { type Dense, withDense } from "./dense.js";
import type { Sources } from "./radial-sums.js";

/** nodes along one side of a tile; with sources at least a tile away the error is below 1e-14 of the sum of the sizes */
const nodes = 16;

/** Indices by the tile that holds them, one tile after the other. */
interface Sorted {
  readonly order: Int32Array;
  /** where each tile begins in `order`, and the end */
  readonly starts: Int32Array;
}

interface Tiles {
  readonly x0: number;
  readonly y0: number;
  readonly side: number;
  readonly across: number;
  readonly deep: number;
}

/**
 * Σ w r² ln r at many targets: sources in a target's own tile and in those about it term by term, all others through a
 * polynomial of the tile (Chebyshev nodes), as which their sum is smooth to the last digits.
 */
export function tiledSums(sources: Sources, x: Float64Array, y: Float64Array): Float64Array {
  const tiles = tilesOver(sources, x, y);
  const from = sorted(tiles, sources.x, sources.y);
  const to = sorted(tiles, x, y);
  const n = sources.x.length;
  const largest = Math.max(
    nodes * nodes,
    to.starts.reduce((most, s, t) => Math.max(most, s - (to.starts[t - 1] ?? 0)), 0),
  );
  const padded = Math.ceil(largest / 4) * 4;
  const out = new Float64Array(x.length);
  withDense(3 * n + 3 * padded, 4, (memory, dense) => {
    const place = { n, targets: 3 * n, padded };
    for (let tile = 0; tile < tiles.across * tiles.deep; tile++) {
      const members = to.order.subarray(to.starts[tile]!, to.starts[tile + 1]!);
      if (members.length === 0) continue;
      const near = layOut(memory, sources, from, tiles, tile);
      far(memory, dense, place, near, boxOf(tiles, tile), members, { x, y, out });
      close(memory, dense, place, near, members, { x, y, out });
    }
  });
  return out;
}

interface Place {
  readonly n: number;
  readonly targets: number;
  readonly padded: number;
}

interface Wanted {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly out: Float64Array;
}

function tilesOver({ x: sx, y: sy }: Sources, x: Float64Array, y: Float64Array): Tiles {
  const [x0, x1] = ends(sx, x);
  const [y0, y1] = ends(sy, y);
  // as many targets in a tile as make its nodes worth while, on the whole
  const count = Math.max(1, x.length / 1200);
  const side = Math.max(Math.sqrt(((x1 - x0) * (y1 - y0)) / count), Math.max(x1 - x0, y1 - y0) / 60);
  return { x0, y0, side, across: Math.floor((x1 - x0) / side) + 1, deep: Math.floor((y1 - y0) / side) + 1 };
}

function ends(...lists: readonly Float64Array[]): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const list of lists) {
    for (const v of list) {
      if (v < low) low = v;
      if (v > high) high = v;
    }
  }
  return [low, high];
}

function sorted({ x0, y0, side, across, deep }: Tiles, x: Float64Array, y: Float64Array): Sorted {
  const tileOf = (i: number) => Math.floor((x[i]! - x0) / side) + across * Math.floor((y[i]! - y0) / side);
  const starts = new Int32Array(across * deep + 1);
  for (let i = 0; i < x.length; i++) starts[tileOf(i) + 1]!++;
  for (let t = 0; t < across * deep; t++) starts[t + 1] = starts[t + 1]! + starts[t]!;
  const next = starts.slice();
  const order = new Int32Array(x.length);
  for (let i = 0; i < x.length; i++) order[next[tileOf(i)]!++] = i;
  return { order, starts };
}

/** sources of the tile and its neighbours first, then all others; the number of the first */
function layOut(memory: Float64Array, sources: Sources, { order, starts }: Sorted, tiles: Tiles, tile: number): number {
  const { across, deep } = tiles;
  const n = sources.x.length;
  const [column, row] = [tile % across, Math.floor(tile / across)];
  let [front, back] = [0, n];
  for (let t = 0; t < across * deep; t++) {
    const isNear = Math.abs((t % across) - column) <= 1 && Math.abs(Math.floor(t / across) - row) <= 1;
    for (let k = starts[t]!; k < starts[t + 1]!; k++) {
      const at = isNear ? front++ : --back;
      const i = order[k]!;
      memory[at] = sources.x[i]!;
      memory[n + at] = sources.y[i]!;
      memory[2 * n + at] = sources.weights[i]!;
    }
  }
  return front;
}

function close(
  memory: Float64Array,
  dense: Dense,
  { n, targets, padded }: Place,
  near: number,
  members: Int32Array,
  { x, y, out }: Wanted,
): void {
  const count = Math.ceil(members.length / 4) * 4;
  memory.fill(0, targets, targets + 3 * padded);
  members.forEach((i, k) => {
    memory[targets + k] = x[i]!;
    memory[targets + padded + k] = y[i]!;
  });
  dense.addRadial(0, n, 2 * n, near, targets, targets + padded, targets + 2 * padded, count);
  members.forEach((i, k) => {
    out[i] = out[i]! + memory[targets + 2 * padded + k]!;
  });
}

interface Square {
  readonly x: number;
  readonly y: number;
  readonly half: number;
}

function boxOf({ x0, y0, side, across }: Tiles, tile: number): Square {
  const half = side / 2;
  return { x: x0 + side * (tile % across) + half, y: y0 + side * Math.floor(tile / across) + half, half };
}

const node = Float64Array.from({ length: nodes }, (_, k) => Math.cos(((k + 0.5) * Math.PI) / nodes));
/** barycentric weights of these nodes */
const share = node.map((_, k) => (k % 2 === 0 ? 1 : -1) * Math.sin(((k + 0.5) * Math.PI) / nodes));

function far(
  memory: Float64Array,
  dense: Dense,
  { n, targets, padded }: Place,
  near: number,
  { x: cx, y: cy, half }: Square,
  members: Int32Array,
  { x, y, out }: Wanted,
): void {
  if (near === n) return;
  memory.fill(0, targets + 2 * padded, targets + 3 * padded);
  for (let j = 0; j < nodes; j++) {
    for (let i = 0; i < nodes; i++) {
      memory[targets + j * nodes + i] = cx + half * node[i]!;
      memory[targets + padded + j * nodes + i] = cy + half * node[j]!;
    }
  }
  const out0 = targets + 2 * padded;
  dense.addRadial(near, n + near, 2 * n + near, n - near, targets, targets + padded, out0, nodes * nodes);
  const [bx, by] = [new Float64Array(nodes), new Float64Array(nodes)];
  // targets of a raster share their x or their y with the one before
  let [lastX, lastY] = [Number.NaN, Number.NaN];
  const rows = new Float64Array(nodes);
  for (const target of members) {
    if (y[target] !== lastY) {
      lastY = y[target]!;
      basis((lastY - cy) / half, by);
      rows.fill(0);
      for (let j = 0; j < nodes; j++) {
        for (let i = 0; i < nodes; i++) rows[i] = rows[i]! + by[j]! * memory[out0 + j * nodes + i]!;
      }
    }
    if (x[target] !== lastX) {
      lastX = x[target]!;
      basis((lastX - cx) / half, bx);
    }
    let sum = 0;
    for (let i = 0; i < nodes; i++) sum += bx[i]! * rows[i]!;
    out[target] = out[target]! + sum;
  }
}

/** Lagrange's polynomials of the nodes at t */
function basis(t: number, into: Float64Array): void {
  let sum = 0;
  for (let k = 0; k < nodes; k++) {
    const gap = t - node[k]!;
    if (gap === 0) {
      into.fill(0);
      into[k] = 1;
      return;
    }
    into[k] = share[k]! / gap;
    sum += into[k]!;
  }
  for (let k = 0; k < nodes; k++) into[k] = into[k]! / sum;
}
