import type { HeightTable } from "../../kernel-lib/src/survey/height-table.js";

/** One reading of a place or of a datum. */
export interface Read {
  readonly at: string;
  readonly x?: number;
  readonly y?: number;
  readonly z: number;
  readonly pass?: number;
  /** the number of the reading where it is left out */
  readonly when?: number;
}

/** Readings put into a table of heights as they come: places that begin with D are datums. */
export function aHeightTable(list: readonly Read[], more: Partial<HeightTable> = {}): HeightTable {
  const all = list.map((one, i) => ({ x: 0, y: 0, pass: 1, when: i, ...one }));
  const readings = all.filter(({ at }) => !at.startsWith("D"));
  const datums = all.filter(({ at }) => at.startsWith("D"));
  const labels = [...new Set(readings.map(({ at }) => at))];
  const first = labels.map((label) => readings.find(({ at }) => at === label)!);
  return {
    labels,
    x: Float64Array.from(first, ({ x }) => x),
    y: Float64Array.from(first, ({ y }) => y),
    place: Int32Array.from(readings, ({ at }) => labels.indexOf(at)),
    pass: Int32Array.from(readings, ({ pass }) => pass),
    z: Float64Array.from(readings, ({ z }) => z),
    when: Float64Array.from(readings, ({ when }) => when),
    whenUnit: "min",
    passes: [...new Set(readings.map(({ pass }) => pass))].sort((a, b) => a - b),
    datum: {
      label: datums.map(({ at }) => at),
      pass: Int32Array.from(datums, ({ pass }) => pass),
      z: Float64Array.from(datums, ({ z }) => z),
      when: Float64Array.from(datums, ({ when }) => when),
    },
    step: 1,
    ...more,
  };
}
