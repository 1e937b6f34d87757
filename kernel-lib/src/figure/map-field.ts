import type { Gap } from "../form/surface-domain.js";
import type { PrintUnits } from "./print-units.js";
import type { Raster } from "./raster.js";
import { along, type View, type ViewAxis } from "./view.js";

/** What lies between the places, in the coordinates of the sheet, mm and µm. */
export interface SheetField {
  readonly xsMm: readonly number[];
  readonly ysMm: readonly number[];
  /** column i, row j; undefined where nothing is stated */
  readonly valueAt: (i: number, j: number) => number | undefined;
  /** the outline of what is stated */
  readonly hull: readonly (readonly [x: number, y: number])[];
  readonly gaps: readonly Gap[];
}

type Span = readonly [from: number, to: number];

/** A slot or an obstacle as a rectangle, a hole as a circle, as the operator at FRONT sees them. */
export type FieldGap =
  | { readonly kind: "box"; readonly u: Span; readonly v: Span }
  | { readonly kind: "hole"; readonly at: readonly [u: number, v: number]; readonly radius: number };

interface Box {
  readonly u: Span;
  readonly v: Span;
}

/** The same turned so that FRONT is below. */
export interface MapField {
  readonly raster: Raster;
  readonly rim: readonly (readonly [u: number, v: number])[];
  readonly gaps: readonly FieldGap[];
}

export function turnedField(
  { xsMm, ysMm, valueAt, hull, gaps }: SheetField,
  { across, away }: View,
  { place, height }: PrintUnits,
): MapField {
  const lines = { x: xsMm.map((x) => place.of(x)), y: ysMm.map((y) => place.of(y)) };
  const [us, vs] = [turnedLines(lines[across.name], across), turnedLines(lines[away.name], away)];
  const at = vs.map((_, row) =>
    us.map((__, column) => {
      const i = across.sign === 1 ? column : us.length - 1 - column;
      const j = away.sign === 1 ? row : vs.length - 1 - row;
      const value = across.name === "x" ? valueAt(i, j) : valueAt(j, i);
      return value === undefined ? undefined : height.of(value);
    }),
  );
  const spot = (x: number, y: number) => {
    const own = { x: place.of(x), y: place.of(y) };
    return [along(across, own), along(away, own)] as const;
  };
  const rim = hull.map(([x, y]) => spot(x, y));
  const box = {
    u: spanOf(rim.map(([u]) => u)),
    v: spanOf(rim.map(([, v]) => v)),
  };
  return { raster: { us, vs, at }, rim, gaps: gaps.flatMap((gap) => turnedGap(gap, box, { across, away }, place)) };
}

function turnedLines(lines: readonly number[], { sign }: ViewAxis): readonly number[] {
  return sign === 1 ? lines : lines.map((value) => 0 - value).reverse();
}

function turnedGap(
  gap: Gap,
  box: Box,
  { across, away }: Pick<View, "across" | "away">,
  { of }: PrintUnits["place"],
): readonly FieldGap[] {
  if (gap.kind === "hole") {
    const own = { x: of(gap.xMm), y: of(gap.yMm) };
    return [{ kind: "hole", at: [along(across, own), along(away, own)], radius: of(gap.radiusMm) }];
  }
  if (gap.kind === "obstacle") {
    const own = { x: gap.xMm.map(of) as [number, number], y: gap.yMm.map(of) as [number, number] };
    const turned = (axis: ViewAxis) => spanOf(own[axis.name].map((value) => axis.sign * value));
    return cutBox({ u: turned(across), v: turned(away) }, box);
  }
  const runsAcross = gap.along === across.name;
  const { sign } = runsAcross ? away : across;
  const ends = spanOf([sign * of(gap.fromMm), sign * of(gap.toMm)]);
  return cutBox(runsAcross ? { u: box.u, v: ends } : { u: ends, v: box.v }, box);
}

/** what of a rectangle lies within the box of the outermost places */
function cutBox(gap: Box, box: Box): readonly FieldGap[] {
  const within = ([from, to]: Span, [least, greatest]: Span): Span => [Math.max(from, least), Math.min(to, greatest)];
  const [u, v] = [within(gap.u, box.u), within(gap.v, box.v)];
  return u[1] > u[0] && v[1] > v[0] ? [{ kind: "box", u, v }] : [];
}

function spanOf(values: readonly number[]): Span {
  return [Math.min(...values), Math.max(...values)];
}
