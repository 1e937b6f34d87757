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

/** A raster for drawing bands: over a grid its own lines, the gaps between them cut into even parts, so that no bend at a
 * line is cut off; over triangles one with square cells. */
export function fineRaster(sheet: Sheet): Raster {
  const { grid } = sheet;
  const most = 100;
  if (grid === undefined || Math.max(grid.us.length, grid.vs.length) > most) return raster(sheet, most);
  const ends = [grid.us, grid.vs].map((lines) => lines[lines.length - 1]! - lines[0]!);
  const cell = Math.max(...ends) / 66;
  const [us, vs] = [cut(grid.us, cell), cut(grid.vs, cell)];
  return { us, vs, at: valuesOver(sheet, us, vs) };
}

/** Lines and what cuts the gaps between them into parts of about that size. */
function cut(lines: readonly number[], cell: number): readonly number[] {
  return lines.flatMap((to, i) => {
    if (i === 0) return [to];
    const from = lines[i - 1]!;
    const parts = Math.max(1, Math.round((to - from) / cell));
    return Array.from({ length: parts }, (_, k) => (k === parts - 1 ? to : from + ((to - from) * (k + 1)) / parts));
  });
}

/** The raster with its rim carried outwards by a few cells, for a picture that is cut off exactly afterwards. */
export function carriedOut(at: Raster["at"], cells: number): Raster["at"] {
  const rows = at.map((row) => [...row]);
  let blanks = rows.flatMap((row, j) => row.flatMap((value, i) => (value === undefined ? [[j, i] as const] : [])));
  for (let pass = 0; pass < cells && blanks.length > 0; pass++) {
    const filled = blanks.map(([j, i]) => ({ j, i, value: meanAround(rows, j, i) }));
    for (const { j, i, value } of filled) rows[j]![i] = value;
    blanks = filled.flatMap(({ j, i, value }) => (value === undefined ? [[j, i] as const] : []));
  }
  return rows;
}

function meanAround(at: Raster["at"], j: number, i: number): number | undefined {
  let [sum, count] = [0, 0];
  for (let row = Math.max(0, j - 1); row <= Math.min(j + 1, at.length - 1); row++) {
    for (let column = i - 1; column <= i + 1; column++) {
      const value = at[row]![column];
      if (value === undefined) continue;
      sum += value;
      count++;
    }
  }
  return count === 0 ? undefined : sum / count;
}

export function spanOf(values: readonly number[]): readonly [number, number] {
  return [Math.min(...values), Math.max(...values)];
}

function even(from: number, to: number, cell: number): readonly number[] {
  const count = Math.max(2, Math.round((to - from) / cell) + 1);
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}
