import type { Box, PlanLayout } from "./plan-layout.js";

type Spot = readonly [u: number, v: number];

/** below a place */
export const below: Spot = [0, -1];

/** Whether a name stands better below its place than above it: a line runs through it above, none does below. */
export function standsBelow([u, v]: Spot, boxes: readonly Box[], spots: readonly Spot[], perUnit: number): boolean {
  const edges = boxes.filter((box) => u >= box.u[0] && u <= box.u[1]).flatMap((box) => box.v);
  const crossed = (from: number, to: number) =>
    edges.some((edge) => (edge - v) * perUnit > from && (edge - v) * perUnit < to);
  if (!crossed(3, 14) || crossed(-14, -3)) return false;
  // a place below has its own name above it
  return !spots.some((other) => {
    const down = (v - other[1]) * perUnit;
    return Math.abs(other[0] - u) * perUnit < 40 && down > 1 && down < 28;
  });
}

const corners: readonly Spot[] = [
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
];

/** The corner of a datum at which its name meets the fewest names of places: right and below where none is freer. */
export function datumCorner(at: Spot, name: string, places: PlanLayout["places"], perUnit: number): Spot {
  const met = ([right, up]: Spot): number => {
    const [x, y] = [right * (7 + 3.5 * name.length), up * 8.5];
    return places.filter(({ at: other, mark, out = [0, 1] }) => {
      const across = (other[0] - at[0]) * perUnit - x;
      const away = (other[1] - at[1]) * perUnit + 8.5 * out[1] - y;
      return mark !== "" && Math.abs(across) < 3.5 * (name.length + mark.length) + 3 && Math.abs(away) < 11;
    }).length;
  };
  return corners.reduce((best, corner) => (met(corner) < met(best) ? corner : best));
}
