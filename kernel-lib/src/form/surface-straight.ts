import { MeasurementError } from "../measurement-error.js";
import { triangulate } from "../numerics/triangulation.js";
import type { Places } from "./places.js";
import type { FittedMethod, LeftOut, MethodInput, SurfaceMethod } from "./surface-method.js";

/** A height as a sum of heights of places, and how far into the gap between them it lies: 0 at a place, 1 in the middle. */
interface Mix {
  readonly corners: readonly number[];
  readonly parts: readonly number[];
  readonly depth: number;
}

type MixAt = (x: number, y: number) => Mix | undefined;

/** Straight from place to place over triangles. */
export function triangulatedMethod(input: MethodInput): FittedMethod {
  const { x, y } = input.places;
  const triangles = triangulate(x.map((u, i) => ({ u, v: y[i]! })));
  const mixAt = triangleMix(input.places, triangles);
  return straight("triangulated", input, mixAt, (i) => {
    // the place's neighbours by themselves, and what they say in its stead
    const ring = [...new Set(triangles.filter((corners) => corners.includes(i)).flat())].filter((k) => k !== i);
    const own = { x: ring.map((k) => x[k]!), y: ring.map((k) => y[k]!), z: [] };
    const patches = triangulate(own.x.map((u, k) => ({ u, v: own.y[k]! })));
    const mix = triangleMix(own, patches)(x[i]!, y[i]!);
    return mix && { ...mix, corners: mix.corners.map((k) => ring[k]!) };
  });
}

/** Bilinear over the cells of a grid. @throws MeasurementError `no-grid` */
export function bilinearMethod(input: MethodInput): FittedMethod {
  const { surface, places, pitch } = input;
  if (!pitch.grid) {
    throw new MeasurementError(
      "no-grid",
      `surface: the ${places.z.length} places of ${surface.name} stand in no rows and columns, bilinear needs them; take "triangulated", or "gaussian process"`,
    );
  }
  const [xs, ys] = [distinct(places.x), distinct(places.y)];
  const index = new Map(places.x.map((px, i) => [`${px} ${places.y[i]}`, i]));
  const place = (i: number, j: number) => index.get(`${xs[i]} ${ys[j]}`);
  const mixAt: MixAt = (x, y) => {
    const [i, j] = [cellOf(xs, x), cellOf(ys, y)];
    if (i === undefined || j === undefined) return undefined;
    const corners = [place(i, j), place(i + 1, j), place(i, j + 1), place(i + 1, j + 1)];
    const [p, q] = [(x - xs[i]!) / (xs[i + 1]! - xs[i]!), (y - ys[j]!) / (ys[j + 1]! - ys[j]!)];
    const parts = [(1 - p) * (1 - q), p * (1 - q), (1 - p) * q, p * q];
    const used = corners.flatMap((corner, k) => (Math.abs(parts[k]!) > 1e-12 ? [{ corner, part: parts[k]! }] : []));
    if (used.some(({ corner }) => corner === undefined)) return undefined;
    return {
      corners: used.map(({ corner }) => corner!),
      parts: used.map(({ part }) => part),
      depth: 2 * (p * (1 - p) + q * (1 - q)),
    };
  };
  return straight("bilinear", input, mixAt, (i) => {
    const [a, b] = [xs.indexOf(places.x[i]!), ys.indexOf(places.y[i]!)];
    return across(places, place(a - 1, b), place(a + 1, b), place(a, b - 1), place(a, b + 1), i);
  });
}

/** in a place's stead: straight across it both ways, as far as it has neighbours */
function across(
  { x, y }: Places,
  left: number | undefined,
  right: number | undefined,
  front: number | undefined,
  back: number | undefined,
  i: number,
): Mix | undefined {
  const lines: Mix[] = [];
  for (const [a, b, at] of [
    [left, right, x],
    [front, back, y],
  ] as const) {
    if (a === undefined || b === undefined) continue;
    const p = (at[i]! - at[a]!) / (at[b]! - at[a]!);
    lines.push({ corners: [a, b], parts: [1 - p, p], depth: 4 * p * (1 - p) });
  }
  if (lines.length === 0) return undefined;
  return {
    corners: lines.flatMap(({ corners }) => corners),
    parts: lines.flatMap(({ parts }) => parts.map((part) => part / lines.length)),
    depth: 1,
  };
}

/**
 * A method that goes straight between places. Its doubt: the readings at the corners, the drift, and what the form bends
 * in between: a gap twice as wide, as when a place is left out, is missed by four times as much.
 */
function straight(
  name: SurfaceMethod,
  { surface, places, nugget }: MethodInput,
  mixAt: MixAt,
  inStead: (i: number) => Mix | undefined,
): FittedMethod {
  const { z } = places;
  const height = ({ corners, parts }: Mix) => corners.reduce((s, corner, k) => s + parts[k]! * z[corner]!, 0);
  const ofReadings = ({ corners, parts }: Mix) =>
    corners.reduce((s, corner, k) => s + parts[k]! ** 2 * nugget[corner]!, 0);
  const ofDrift = ({ corners, parts }: Mix) =>
    (surface.drift?.modesUm ?? []).reduce(
      (s, mode) => s + corners.reduce((t, corner, k) => t + parts[k]! * mode[corner]!, 0) ** 2,
      0,
    );
  const left = z.map((_, i) => inStead(i));
  const residualsUm = left.map((mix, i) => (mix === undefined ? Number.NaN : z[i]! - height(mix)));
  const ofNoise = left.map((mix, i) => (mix === undefined ? 0 : nugget[i]! + ofReadings(mix)));
  const known = residualsUm.filter((r) => Number.isFinite(r));
  const excess = residualsUm.reduce((s, r, i) => s + (Number.isFinite(r) ? r * r - ofNoise[i]! : 0), 0);
  const bend = known.length > 0 ? Math.sqrt(Math.max(excess, 0) / known.length) : 0;
  return {
    name,
    statement: `${name === "bilinear" ? "bilinear over the cells of the grid" : "straight from place to place over triangles"}; a place left out is missed by ${bend.toFixed(1)} µm beyond the noise of its readings, a gap half as wide is taken to be missed by a quarter of that`,
    heights: (xs, ys) => {
      const mixes = xs.map((x, i) => mixAt(x, ys[i]!));
      return {
        meanUm: mixes.map((mix) => (mix === undefined ? Number.NaN : height(mix))),
        uUm: mixes.map((mix) =>
          mix === undefined ? Number.NaN : Math.sqrt(ofReadings(mix) + ofDrift(mix) + ((mix.depth * bend) / 4) ** 2),
        ),
      };
    },
    leftOut: (): LeftOut => ({
      residualsUm,
      standardDeviationsUm: ofNoise.map((v) => Math.sqrt(v + bend * bend)),
    }),
  };
}

function triangleMix({ x, y }: Places, triangles: readonly (readonly number[])[]): MixAt {
  return (px, py) => {
    for (const corners of triangles) {
      const [a, b, c] = corners as [number, number, number];
      const area = (x[b]! - x[a]!) * (y[c]! - y[a]!) - (y[b]! - y[a]!) * (x[c]! - x[a]!);
      const q = ((px - x[a]!) * (y[c]! - y[a]!) - (py - y[a]!) * (x[c]! - x[a]!)) / area;
      const r = ((x[b]! - x[a]!) * (py - y[a]!) - (y[b]! - y[a]!) * (px - x[a]!)) / area;
      if (!(q >= -1e-9 && r >= -1e-9 && q + r <= 1 + 1e-9)) continue;
      const parts = [1 - q - r, q, r];
      return { corners, parts, depth: 3 * (parts[0]! * q + q * r + r * parts[0]!) };
    }
    return undefined;
  };
}

function distinct(values: readonly number[]): readonly number[] {
  return [...new Set(values)].sort((a, b) => a - b);
}

function cellOf(lines: readonly number[], value: number): number | undefined {
  const slack = 1e-9 * (lines.at(-1)! - lines[0]!);
  if (!(value >= lines[0]! - slack && value <= lines.at(-1)! + slack)) return undefined;
  const above = lines.findIndex((line) => line > value);
  return above < 0 ? lines.length - 2 : Math.max(0, above - 1);
}
