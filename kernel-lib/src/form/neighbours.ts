import type { Places } from "./places.js";

/** Distances between neighbouring places along x and along y. */
export interface Pitch {
  readonly x: number;
  readonly y: number;
  /** true when the places stand in rows and columns */
  readonly grid: boolean;
}

/** The pitch of a map: of its rows and columns, or for scattered places the median distance to the nearest one. */
export function pitchOf({ x, y }: Places): Pitch {
  const [columns, rows] = [steps(x), steps(y)];
  const grid = (columns.length + 1) * (rows.length + 1) <= 2 * x.length;
  if (grid) return { x: middle(columns), y: middle(rows), grid };
  const nearest = x.map((px, i) => {
    let least = Number.POSITIVE_INFINITY;
    for (let j = 0; j < x.length; j++) if (j !== i) least = Math.min(least, Math.hypot(px - x[j]!, y[i]! - y[j]!));
    return least;
  });
  const typical = middle(nearest);
  return { x: typical, y: typical, grid };
}

/** The groups of chosen places that touch each other, corner to corner counted. */
export function connectedGroups({ x, y }: Places, chosen: readonly number[], pitch: Pitch): readonly number[][] {
  // half a pitch of play beyond the diagonal neighbour, none as far as the next but one
  const near = (i: number, j: number) =>
    Math.abs(x[i]! - x[j]!) < 1.5 * pitch.x && Math.abs(y[i]! - y[j]!) < 1.5 * pitch.y;
  const left = new Set(chosen);
  const groups: number[][] = [];
  for (const start of chosen) {
    if (!left.delete(start)) continue;
    const group = [start];
    for (const member of group) {
      for (const other of [...left]) {
        if (near(member, other) && left.delete(other)) group.push(other);
      }
    }
    groups.push(group.sort((a, b) => a - b));
  }
  return groups;
}

/**
 * How alike neighbours are along x and along y: correlation of what is left at places one pitch apart, 0 where it is
 * none or less, at most 0.9.
 */
export function likeness(
  { x, y }: Pick<Places, "x" | "y">,
  left: readonly number[],
): { readonly alongX: number; readonly alongY: number } {
  const at = new Map(x.map((px, i) => [`${px} ${y[i]}`, i]));
  const variance = left.reduce((s, v) => s + v * v, 0) / left.length;
  const along = (next: (i: number) => string | undefined) => {
    let sum = 0;
    let count = 0;
    left.forEach((v, i) => {
      const j = at.get(next(i) ?? "");
      if (j === undefined) return;
      sum += v * left[j]!;
      count++;
    });
    return count > 0 && variance > 0 ? Math.min(Math.max(sum / count / variance, 0), 0.9) : 0;
  };
  const after = (values: readonly number[]) => {
    const sorted = [...new Set(values)].sort((a, b) => a - b);
    return new Map(sorted.slice(1).map((v, k) => [sorted[k]!, v]));
  };
  const [nextX, nextY] = [after(x), after(y)];
  return {
    alongX: along((i) => (nextX.has(x[i]!) ? `${nextX.get(x[i]!)} ${y[i]}` : undefined)),
    alongY: along((i) => (nextY.has(y[i]!) ? `${x[i]} ${nextY.get(y[i]!)}` : undefined)),
  };
}

/** distances between the different values, in order */
function steps(values: readonly number[]): readonly number[] {
  const sorted = [...new Set(values)].sort((a, b) => a - b);
  return sorted.slice(1).map((v, i) => v - sorted[i]!);
}

function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1]!;
}
