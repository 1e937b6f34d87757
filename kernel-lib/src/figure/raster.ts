import { type Sheet, valuesOver } from "./sheet.js";

/** Values on an even raster over the box of the places; undefined where the sheet has none. */
export interface Raster {
  readonly us: readonly number[];
  readonly vs: readonly number[];
  readonly at: readonly (readonly (number | undefined)[])[];
}

/** A raster with square cells, `count` along the longer side. */
export function raster(sheet: Sheet, count: number): Raster {
  const [u0, u1] = spanOf(sheet.places.map(({ u }) => u));
  const [v0, v1] = spanOf(sheet.places.map(({ v }) => v));
  const cell = Math.max(u1 - u0, v1 - v0) / (count - 1);
  const us = even(u0, u1, cell);
  const vs = even(v0, v1, cell);
  return { us, vs, at: valuesOver(sheet, us, vs) };
}

/** The raster with its rim carried outwards by a few cells, for a picture that is cut off exactly afterwards. */
export function carriedOut(at: Raster["at"], cells: number): Raster["at"] {
  if (cells === 0) return at;
  const near = (j: number, i: number): number[] =>
    [-1, 0, 1].flatMap((dj) => [-1, 0, 1].flatMap((di) => at[j + dj]?.[i + di] ?? []));
  const wider = at.map((row, j) =>
    row.map((value, i) => {
      const round = value === undefined ? near(j, i) : [];
      return round.length === 0 ? value : round.reduce((sum, other) => sum + other, 0) / round.length;
    }),
  );
  return carriedOut(wider, cells - 1);
}

export function spanOf(values: readonly number[]): readonly [number, number] {
  return [Math.min(...values), Math.max(...values)];
}

function even(from: number, to: number, cell: number): readonly number[] {
  const count = Math.max(2, Math.round((to - from) / cell) + 1);
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}
