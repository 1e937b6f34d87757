import { MeasurementError } from "../measurement-error.js";
import { type Triangle, triangulate } from "../numerics/triangulation.js";
import type { ViewPlace } from "./view.js";

/** A map as a picture takes it: on a grid (blanks allowed) or as a net of triangles. Between the places a picture goes
 * straight; it is no fit. */
export interface Sheet {
  readonly places: readonly ViewPlace[];
  /** absent for scattered places */
  readonly grid?: Grid;
  /** corners of each piece as indices of places, counter-clockwise */
  readonly facets: readonly (readonly number[])[];
}

export interface Grid {
  readonly us: readonly number[];
  readonly vs: readonly number[];
  /** index of the place at row v, column u; undefined where nothing was probed */
  readonly at: readonly (readonly (number | undefined)[])[];
}

/** @throws MeasurementError `too-few-places` when the places span no area */
export function sheetOf(places: readonly ViewPlace[], name: string): Sheet {
  const grid = gridOf(places);
  const facets = grid === undefined ? netOf(places) : cellsOf(grid);
  if (facets.length > 0) return grid === undefined ? { places, facets } : { places, grid, facets };
  throw new MeasurementError(
    "too-few-places",
    `figure of ${name}: the ${places.length} places span no area; a surface needs three that are not on one line`,
  );
}

/** Triangles between the places. Of two names for one spot, which the health check asks about, the first carries the net. */
function netOf(places: readonly ViewPlace[]): readonly Triangle[] {
  const spots = new Map<string, number>();
  places.forEach(({ u, v }, i) => {
    const spot = `${u} ${v}`;
    if (!spots.has(spot)) spots.set(spot, i);
  });
  const kept = [...spots.values()];
  return triangulate(kept.map((i) => places[i]!)).map(([a, b, c]): Triangle => [kept[a]!, kept[b]!, kept[c]!]);
}

/** Value between the places: bilinear in a cell, linear in a triangle; undefined outside and next to a blank. */
export function valueAt(sheet: Sheet, u: number, v: number): number | undefined {
  if (sheet.grid !== undefined) return valueOnGrid(sheet, sheet.grid, u, v);
  for (const facet of sheet.facets) {
    const [a, b, c] = facet.map((i) => sheet.places[i]!);
    const value = valueInTriangle(a!, b!, c!, u, v);
    if (value !== undefined) return value;
  }
  return undefined;
}

/** Values on the crossings of lines, row by row; as `valueAt`, each line looked up once. */
export function valuesOver(
  sheet: Sheet,
  us: readonly number[],
  vs: readonly number[],
): readonly (readonly (number | undefined)[])[] {
  const { grid, places } = sheet;
  if (grid === undefined) return vs.map((v) => us.map((u) => valueAt(sheet, u, v)));
  const values = grid.at.map((row) => row.map((i) => (i === undefined ? Number.NaN : places[i]!.value)));
  const columns = us.map((u) => between(grid.us, u));
  return vs.map((v) => {
    const row = between(grid.vs, v);
    if (row === undefined) return us.map(() => undefined);
    const [near, far] = [values[row.cell]!, values[row.cell + 1]!];
    return columns.map((column) => (column === undefined ? undefined : bilinear(near, far, column, row.part)));
  });
}

function gridOf(places: readonly ViewPlace[]): Grid | undefined {
  const us = distinct(places.map(({ u }) => u));
  const vs = distinct(places.map(({ v }) => v));
  if (us.length < 2 || vs.length < 2 || places.length < 0.5 * us.length * vs.length) return undefined;
  const at: (number | undefined)[][] = vs.map(() => us.map(() => undefined));
  places.forEach(({ u, v }, i) => {
    at[nearest(vs, v)]![nearest(us, u)] ??= i;
  });
  return { us, vs, at };
}

/** Coordinates that differ by less than a thousandth of the span are one line of the grid. */
function distinct(values: readonly number[]): readonly number[] {
  const sorted = [...values].sort((a, b) => a - b);
  const near = (sorted[sorted.length - 1]! - sorted[0]!) * 1e-3;
  return sorted.filter((value, i) => i === 0 || value - sorted[i - 1]! > near);
}

function nearest(lines: readonly number[], value: number): number {
  return lines.reduce((best, line, i) => (Math.abs(line - value) < Math.abs(lines[best]! - value) ? i : best), 0);
}

function cellsOf({ us, vs, at }: Grid): readonly (readonly number[])[] {
  return vs.slice(1).flatMap((_, j) =>
    us.slice(1).flatMap((__, i) => {
      const corners = [at[j]![i], at[j]![i + 1], at[j + 1]![i + 1], at[j + 1]![i]];
      const known = corners.filter((corner) => corner !== undefined);
      return known.length === 4 ? [known] : [];
    }),
  );
}

function valueOnGrid({ places }: Sheet, { us, vs, at }: Grid, u: number, v: number): number | undefined {
  const [column, row] = [between(us, u), between(vs, v)];
  if (column === undefined || row === undefined) return undefined;
  const [near, far] = [at[row.cell]!, at[row.cell + 1]!].map((line) =>
    line.map((i) => (i === undefined ? Number.NaN : places[i]!.value)),
  );
  return bilinear(near!, far!, column, row.part);
}

/** where a value lies between two lines: the cell, and the part of it */
interface Between {
  readonly cell: number;
  readonly part: number;
}

function between(lines: readonly number[], value: number): Between | undefined {
  const cell = cellIndex(lines, value);
  if (cell === undefined) return undefined;
  return { cell, part: (value - lines[cell]!) / (lines[cell + 1]! - lines[cell]!) };
}

function bilinear(near: readonly number[], far: readonly number[], { cell, part: p }: Between, q: number) {
  const value = mixed(mixed(near[cell]!, near[cell + 1]!, p), mixed(far[cell]!, far[cell + 1]!, p), q);
  return Number.isFinite(value) ? value : undefined;
}

/** On a line of the grid the blank beyond it does not count. */
function mixed(from: number, to: number, part: number): number {
  return part === 0 ? from : (1 - part) * from + part * to;
}

function cellIndex(lines: readonly number[], value: number): number | undefined {
  const slack = (lines[lines.length - 1]! - lines[0]!) * 1e-9;
  if (!(value >= lines[0]! - slack && value <= lines[lines.length - 1]! + slack)) return undefined;
  const above = lines.findIndex((line) => line > value);
  return above < 0 ? lines.length - 2 : Math.max(0, above - 1);
}

function valueInTriangle(a: ViewPlace, b: ViewPlace, c: ViewPlace, u: number, v: number): number | undefined {
  const area = (b.u - a.u) * (c.v - a.v) - (b.v - a.v) * (c.u - a.u);
  const p = ((u - a.u) * (c.v - a.v) - (v - a.v) * (c.u - a.u)) / area;
  const q = ((b.u - a.u) * (v - a.v) - (b.v - a.v) * (u - a.u)) / area;
  return p >= -1e-9 && q >= -1e-9 && p + q <= 1 + 1e-9
    ? a.value + p * (b.value - a.value) + q * (c.value - a.value)
    : undefined;
}
