import type { HeightTable } from "./height-table.js";
import { refuseSheet } from "./sheet-error.js";

/** What is known beforehand of how the heights of a survey move while it is read, such as a measured growth of the spindle. */
export interface KnownCourse {
  /** one sentence: what was taken out */
  readonly statement: string;
  /** by how many µm the heights stand too high at a moment, in seconds as the sheet counts them */
  readonly shiftUm: (seconds: number) => number;
  /** the same for one standard uncertainty of each independent cause of doubt */
  readonly doubtsUm: (seconds: number) => readonly number[];
}

const seconds: { readonly [unit: string]: number } = { s: 1, min: 60, h: 3600 };

/** The heights with a known course taken out of every reading, datum returns included, and the doubt it leaves at the places. */
export function withoutCourse(
  table: HeightTable,
  course: KnownCourse,
  name: string,
): { readonly table: HeightTable; readonly modesUm: readonly (readonly number[])[] } {
  const perUnit = seconds[table.whenUnit];
  const { when, datum } = table;
  if (!when || perUnit === undefined) {
    return refuseSheet(
      "no-times",
      { name },
      "not every reading has a time that runs on with the order of reading; what moved meanwhile can be taken out by the time of each reading only: read with a column time, or take the drift from the datum returns",
    );
  }
  const level = (z: Float64Array, at: Float64Array) => z.map((height, i) => height - course.shiftUm(at[i]! * perUnit));
  const doubts = Array.from(when, (t) => course.doubtsUm(t * perUnit));
  const counts = table.labels.map(() => 0);
  for (const place of table.place) counts[place] = counts[place]! + 1;
  const modesUm = (doubts[0] ?? []).map((_, cause) => {
    const mode = table.labels.map(() => 0);
    table.place.forEach((place, i) => {
      mode[place] = mode[place]! + doubts[i]![cause]! / counts[place]!;
    });
    return mode;
  });
  const levelled = { ...table, z: level(table.z, when) };
  return {
    table: datum.when ? { ...levelled, datum: { ...datum, z: level(datum.z, datum.when) } } : levelled,
    modesUm,
  };
}
