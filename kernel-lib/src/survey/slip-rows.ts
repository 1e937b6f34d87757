import type { Finding } from "./finding.js";
import type { SlipMap } from "./slip-maps.js";

/**
 * Readings of the second map that slid by one row from some row on: each then agrees with the place before, or behind,
 * its own. Asked only where the likelihood of the slide beats that of none by e¹⁴, all starts and both ways counted. A slide
 * leaves one reading out; so that a single high one (swarf) is no slide, none may leave its worst out too.
 */
export function shiftedRows(first: SlipMap, second: SlipMap): { finding: Finding; left: number } | undefined {
  const at = new Map(first.labels.map((label, i) => [label, first.z[i]!]));
  const rows = second.labels.flatMap((label, i) =>
    at.has(label) ? [{ label, z: second.z[i]!, wanted: at.get(label)! }] : [],
  );
  const count = rows.length;
  if (count < 12) return undefined;
  let best: { start: number; way: 1 | -1; left: number; gain: number } | undefined;
  const own = runningSums(rows.map(({ z, wanted }) => z - wanted));
  const flat = runningSums(withoutWorst(rows.map(({ z, wanted }) => z - wanted))).varianceFrom(0, count - 1);
  if (!(flat > 0)) return undefined;
  for (const way of [1, -1] as const) {
    const slid = runningSums(rows.map(({ wanted }, i) => (rows[i + way]?.z ?? Number.NaN) - wanted));
    const end = way === 1 ? count - 1 : count;
    for (let start = way === 1 ? 0 : 1; start <= count - 6; start++) {
      const left = joinedVariance(own, 0, start, slid, start, end);
      const gain = (end / 2) * Math.log(flat / left);
      if (!best || gain > best.gain) best = { start, way, left, gain };
    }
  }
  if (!best || !(best.gain > Math.log(2 * count) + 9.2 && best.left < flat / 3)) return undefined;
  const { start, way, left } = best;
  const from = rows[start]!.label;
  return {
    left,
    finding: {
      check: "rows",
      severity: "stop",
      what: `from ${from} on, the readings of ${second.name} agree with ${first.name} if each is taken one row ${way === 1 ? "up" : "down"}: was a row skipped or written twice?`,
      places: rows.slice(start).map(({ label }) => label),
      howSure: `${times(flat / left)} less is left between the two if so`,
      whatToDo: `look at the paper around ${from}, and re-measure two places behind it`,
    },
  };
}

/** the values without the one that lies farthest from their median */
function withoutWorst(values: readonly number[]): readonly number[] {
  const middle = [...values].sort((a, b) => a - b)[values.length >> 1]!;
  const off = values.map((value) => Math.abs(value - middle));
  const worst = off.indexOf(Math.max(...off));
  return values.filter((_, i) => i !== worst);
}

export function times(ratio: number): string {
  return Number.isFinite(ratio) ? `${Number(ratio.toPrecision(2))} times` : "many times";
}

interface RunningSums {
  readonly sum: Float64Array;
  readonly squares: Float64Array;
  readonly varianceFrom: (start: number, end: number) => number;
}

/** sums up to each value, so that the variance of any run is at hand; a value that is missing counts as none */
function runningSums(values: readonly number[]): RunningSums {
  const sum = new Float64Array(values.length + 1);
  const squares = new Float64Array(values.length + 1);
  values.forEach((value, i) => {
    const own = Number.isNaN(value) ? 0 : value;
    sum[i + 1] = sum[i]! + own;
    squares[i + 1] = squares[i]! + own * own;
  });
  const made = { sum, squares };
  return { ...made, varianceFrom: (start, end) => joinedVariance(made, start, end, made, end, end) };
}

type Sums = Pick<RunningSums, "sum" | "squares">;

/** variance of a run of one list and a run of another, together */
function joinedVariance(a: Sums, fromA: number, toA: number, b: Sums, fromB: number, toB: number): number {
  const n = toA - fromA + toB - fromB;
  const sum = a.sum[toA]! - a.sum[fromA]! + b.sum[toB]! - b.sum[fromB]!;
  const squares = a.squares[toA]! - a.squares[fromA]! + b.squares[toB]! - b.squares[fromB]!;
  return Math.max(squares - (sum * sum) / n, 1e-12 * squares) / (n - 1);
}
