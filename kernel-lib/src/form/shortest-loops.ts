interface Joined {
  readonly from: number;
  readonly to: number;
}

interface Candidate {
  readonly round: readonly number[];
  /** edges of it, a bit each */
  readonly bits: Uint32Array;
}

/**
 * The shortest loops of a graph of which all others are sums, each as its places in turn.
 *
 * From every place the ways by fewest steps; each edge between two ways closes one loop from where they part. Of all of them,
 * shortest first, those are kept that are no sum (steps gone twice cancel) of loops kept before.
 *
 * @see Horton, A polynomial-time algorithm to find the shortest cycle basis of a graph, SIAM J. Comput. 16 (1987), from memory
 */
export function shortestLoops(places: number, edges: readonly Joined[]): readonly (readonly number[])[] {
  const wanted = edges.length - places + 1;
  if (wanted <= 0) return [];
  const kept: (readonly number[])[] = [];
  const pivots = new Map<number, Uint32Array>();
  for (const { round, bits } of candidatesOf(places, edges)) {
    const pivot = reduced(bits, pivots);
    if (pivot < 0) continue;
    pivots.set(pivot, bits);
    kept.push(round);
    if (kept.length === wanted) break;
  }
  return kept;
}

function candidatesOf(places: number, edges: readonly Joined[]): readonly Candidate[] {
  const at: { readonly other: number; readonly edge: number }[][] = Array.from({ length: places }, () => []);
  edges.forEach(({ from, to }, edge) => {
    at[from]!.push({ other: to, edge });
    at[to]!.push({ other: from, edge });
  });
  const found: Candidate[] = [];
  for (let start = 0; start < places; start++) {
    const ways = waysFrom(start, at);
    edges.forEach(({ from, to }, edge) => {
      const [a, b] = [ways[from]!, ways[to]!];
      let parting = 0;
      while (parting + 1 < Math.min(a.length, b.length) && a[parting + 1] === b[parting + 1]) parting++;
      const round = [...a.slice(parting), ...b.slice(parting + 1).reverse()];
      if (round.length >= 3) found.push({ round, bits: bitsOf(round, edge, at, edges.length) });
    });
  }
  return found.sort((p, q) => p.round.length - q.round.length);
}

/** places passed by fewest steps from one place to every other, both ends included */
function waysFrom(
  start: number,
  at: readonly (readonly { readonly other: number }[])[],
): readonly (readonly number[])[] {
  const ways: (readonly number[])[] = at.map(() => []);
  ways[start] = [start];
  const order = [start];
  for (const place of order) {
    for (const { other } of at[place]!) {
      if (ways[other]!.length > 0) continue;
      ways[other] = [...ways[place]!, other];
      order.push(other);
    }
  }
  return ways;
}

function bitsOf(
  round: readonly number[],
  closing: number,
  at: readonly (readonly { readonly other: number; readonly edge: number }[])[],
  count: number,
): Uint32Array {
  const bits = new Uint32Array(Math.ceil(count / 32));
  const set = (edge: number) => {
    bits[edge >> 5] = (bits[edge >> 5]! | (1 << (edge & 31))) >>> 0;
  };
  set(closing);
  round.forEach((place, i) => {
    const next = round[(i + 1) % round.length]!;
    const { edge } = at[place]!.find(({ other }) => other === next)!;
    set(edge);
  });
  return bits;
}

/** takes the kept loops off in place; the first bit that is left, −1 where nothing is */
function reduced(bits: Uint32Array, pivots: ReadonlyMap<number, Uint32Array>): number {
  for (;;) {
    const word = bits.findIndex((v) => v !== 0);
    if (word < 0) return -1;
    const bit = word * 32 + (31 - Math.clz32(bits[word]! & -bits[word]!));
    const row = pivots.get(bit);
    if (row === undefined) return bit;
    for (let k = 0; k < bits.length; k++) bits[k] = (bits[k]! ^ row[k]!) >>> 0;
  }
}
