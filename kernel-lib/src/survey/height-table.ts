import { heightFactor, stepOf } from "./gauge.js";
import { isDatum, micrometres, type Sheet, type SheetRow } from "./sheet.js";

/** The readings of a sheet as heights in plain numbers, columns side by side; readings set aside are left out. */
export interface HeightTable {
  readonly labels: readonly string[];
  /** of the places, mm */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** one entry a reading: number of its place, its pass, its height in µm, when it was taken */
  readonly place: Int32Array;
  readonly pass: Int32Array;
  readonly z: Float64Array;
  readonly when: Float64Array | undefined;
  readonly passes: readonly number[];
  /** datum returns, in the order of reading; `place` counts in `datumLabels` */
  readonly datum: {
    readonly label: readonly string[];
    readonly pass: Int32Array;
    readonly z: Float64Array;
    readonly when: Float64Array | undefined;
  };
  /** smallest step of a height, µm */
  readonly step: number;
}

/** Turns rows into heights: unit, sign and cosines of the gauge; the time of reading from the clock or the order. */
export function heightTable(sheet: Sheet): HeightTable {
  const { gauge, removed } = sheet.preamble;
  const factor = micrometres[sheet.units.z] * heightFactor(gauge);
  const aside = new Set(removed.map(({ place, pass }) => JSON.stringify([place, pass])));
  const kept = sheet.rows.filter((row) => row.z !== undefined && !aside.has(JSON.stringify([row.place, row.pass])));
  const when = timeOf(kept);
  const readings = kept.filter((row) => !isDatum(row.place));
  const datums = kept.filter((row) => isDatum(row.place));
  if (when) datums.sort((a, b) => when(a) - when(b));
  const labels = [...new Set(readings.map((row) => row.place))];
  const numberOf = new Map(labels.map((label, i) => [label, i]));
  const spot = new Map(readings.map((row) => [row.place, row]));
  const inMm = (axis: "x" | "y") =>
    Float64Array.from(labels, (label) => (spot.get(label)![axis]! * micrometres[sheet.units[axis]]) / 1000);
  const heights = (rows: readonly SheetRow[]) => Float64Array.from(rows, (row) => row.z! * factor);
  return {
    labels,
    x: inMm("x"),
    y: inMm("y"),
    place: Int32Array.from(readings, (row) => numberOf.get(row.place)!),
    pass: Int32Array.from(readings, (row) => row.pass),
    z: heights(readings),
    when: when && Float64Array.from(readings, when),
    passes: [...new Set(readings.map((row) => row.pass))].sort((a, b) => a - b),
    datum: {
      label: datums.map((row) => row.place),
      pass: Int32Array.from(datums, (row) => row.pass),
      z: heights(datums),
      when: when && Float64Array.from(datums, when),
    },
    step: stepOf(gauge).in("um") * Math.abs(heightFactor(gauge)),
  };
}

/** The table without some of its places. */
export function withoutPlaces(table: HeightTable, places: ReadonlySet<number>): HeightTable {
  if (places.size === 0) return table;
  const kept = table.labels.flatMap((_, i) => (places.has(i) ? [] : [i]));
  const renumbered = new Map(kept.map((old, i) => [old, i]));
  const rows = [...table.place.keys()].filter((i) => renumbered.has(table.place[i]!));
  return {
    ...table,
    labels: kept.map((i) => table.labels[i]!),
    x: Float64Array.from(kept, (i) => table.x[i]!),
    y: Float64Array.from(kept, (i) => table.y[i]!),
    place: Int32Array.from(rows, (i) => renumbered.get(table.place[i]!)!),
    pass: Int32Array.from(rows, (i) => table.pass[i]!),
    z: Float64Array.from(rows, (i) => table.z[i]!),
    when: table.when && Float64Array.from(rows, (i) => table.when![i]!),
  };
}

/** the clock where every reading has it and it never runs back, else the order, else nothing */
function timeOf(rows: readonly SheetRow[]): ((row: SheetRow) => number) | undefined {
  const ordered = rows.every((row) => row.order !== undefined);
  if (rows.every((row) => row.time !== undefined)) {
    const inOrder = ordered ? [...rows].sort((a, b) => a.order! - b.order!) : rows;
    if (inOrder.every((row, i) => i === 0 || row.time! >= inOrder[i - 1]!.time!)) return (row) => row.time!;
  }
  return ordered ? (row) => row.order! : undefined;
}
