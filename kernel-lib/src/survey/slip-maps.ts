import type { HeightTable } from "./height-table.js";
import { heightsByPass } from "./pass-test.js";
import { rowsByPass } from "./repeatability.js";
import { detrend, trendBasis } from "./trend.js";

/** The heights of one pass, or of a whole survey: one entry a place, µm, in the order of reading. */
export interface SlipMap {
  readonly name: string;
  readonly labels: readonly string[];
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  readonly z: ArrayLike<number>;
}

/** Each pass of a table as a map of its own. */
export function mapsOfPasses(table: HeightTable): readonly SlipMap[] {
  const heights = heightsByPass(table);
  const rowsOf = rowsByPass(table.pass, table.passes);
  return table.passes.map((pass, k) => {
    const rows = rowsOf[k]!.slice();
    const when = table.when;
    if (when) rows.sort((a, b) => when[a]! - when[b]!);
    const places = [...new Set(Array.from(rows, (i) => table.place[i]!))];
    return mapOf(table, `pass ${pass}`, places, (place) => heights[k]![place]!);
  });
}

export function mapOf(
  table: Pick<HeightTable, "labels" | "x" | "y">,
  name: string,
  places: readonly number[],
  height: (place: number) => number,
): SlipMap {
  return {
    name,
    labels: places.map((place) => table.labels[place]!),
    x: places.map((place) => table.x[place]!),
    y: places.map((place) => table.y[place]!),
    z: places.map(height),
  };
}

/** Where a place of one map is looked for in the other: where it is, or where a slip would have put it. */
export interface Arrangement {
  readonly name: "as it is" | "mirrored left to right" | "mirrored front to back" | "turned by 180°";
  readonly flipX: boolean;
  readonly flipY: boolean;
}

export const arrangements: readonly Arrangement[] = [
  { name: "as it is", flipX: false, flipY: false },
  { name: "mirrored left to right", flipX: true, flipY: false },
  { name: "mirrored front to back", flipX: false, flipY: true },
  { name: "turned by 180°", flipX: true, flipY: true },
];

/** Heights of both maps at the places they share, offset and tilt taken out of each. */
export interface Pair {
  readonly first: Float64Array;
  readonly second: Float64Array;
  readonly degreesOfFreedom: number;
}

/** The two maps side by side; undefined where they share fewer than twelve places, or less than half of them. */
export function pairOf(first: SlipMap, second: SlipMap, { flipX, flipY }: Arrangement): Pair | undefined {
  const at = new Map(first.labels.map((_, i) => [spot(first.x[i]!, first.y[i]!), i]));
  const [sumX, sumY] = [ends(second.x), ends(second.y)];
  const there: number[] = [];
  const here: number[] = [];
  for (let i = 0; i < second.labels.length; i++) {
    const x = flipX ? sumX - second.x[i]! : second.x[i]!;
    const y = flipY ? sumY - second.y[i]! : second.y[i]!;
    const found = at.get(spot(x, y));
    if (found === undefined) continue;
    there.push(found);
    here.push(i);
  }
  if (here.length < 12 || 2 * here.length < second.labels.length) return undefined;
  const basis = trendBasis(second, here, 1);
  const level = (values: number[]) => detrend(basis, values);
  return {
    first: level(there.map((i) => first.z[i]!)),
    second: level(here.map((i) => second.z[i]!)),
    degreesOfFreedom: here.length - basis.length,
  };
}

/** to a tenth of a millimetre, finer than anyone sets a stylus by hand */
function spot(x: number, y: number): string {
  return `${Math.round(10 * x)} ${Math.round(10 * y)}`;
}

function ends(values: ArrayLike<number>): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    low = Math.min(low, values[i]!);
    high = Math.max(high, values[i]!);
  }
  return low + high;
}
