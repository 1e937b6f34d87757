import { orderAt, rowsWhere } from "./columns.js";
import { numbersFor, wholeFor } from "./fill.js";
import { heightFactor, stepOf } from "./gauge.js";
import { isDatum, micrometres, type Sheet } from "./sheet.js";

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
  /** what `when` counts: s, min, h by the clock, or readings in their order */
  readonly whenUnit: string;
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
  const { columns, units } = sheet;
  const { gauge } = sheet.preamble;
  const factor = micrometres[units.z] * heightFactor(gauge);
  const isAside = asideTest(sheet);
  const datum = columns.labels.map(isDatum);
  const isKept = (i: number) => !Number.isNaN(columns.z[i]) && !isAside(i);
  const readings = rowsWhere(columns, (i) => isKept(i) && !datum[columns.place[i]!]);
  const datums = rowsWhere(columns, (i) => isKept(i) && datum[columns.place[i]!]!);
  const when = timeOf(sheet, rowsWhere(columns, isKept));
  if (when) datums.sort((a, b) => when.of(a) - when.of(b));
  const places = distinct(columns.labels.length, readings, columns.place);
  const renumbered = new Int32Array(columns.labels.length);
  places.forEach(({ place }, i) => {
    renumbered[place] = i;
  });
  const inMm = (axis: "x" | "y") =>
    Float64Array.from(places, ({ row }) => (columns[axis][row]! * micrometres[units[axis]]) / 1000);
  const heights = (rows: Int32Array) => numbersFor(rows, (i) => columns.z[i]! * factor);
  const pass = wholeFor(readings, (i) => columns.pass[i]!);
  return {
    labels: places.map(({ place }) => columns.labels[place]!),
    x: inMm("x"),
    y: inMm("y"),
    place: wholeFor(readings, (i) => renumbered[columns.place[i]!]!),
    pass,
    z: heights(readings),
    when: when && numbersFor(readings, when.of),
    whenUnit: when?.unit ?? "readings",
    passes: passesOf(pass),
    datum: {
      label: Array.from(datums, (i) => columns.labels[columns.place[i]!]!),
      pass: wholeFor(datums, (i) => columns.pass[i]!),
      z: heights(datums),
      when: when && numbersFor(datums, when.of),
    },
    step: stepOf(gauge).in("um") * Math.abs(heightFactor(gauge)),
  };
}

/** whether a row was set aside in code */
export function asideTest({ columns, preamble }: Pick<Sheet, "columns" | "preamble">): (i: number) => boolean {
  if (preamble.removed.length === 0) return () => false;
  const aside = new Set(preamble.removed.map(({ place, pass }) => `${columns.labels.indexOf(place)} ${pass}`));
  return (i) => aside.has(`${columns.place[i]} ${columns.pass[i]}`);
}

/** the passes that occur, least first */
export function passesOf(pass: ArrayLike<number>): number[] {
  const found = new Set<number>();
  for (let i = 0; i < pass.length; i++) if (i === 0 || pass[i] !== pass[i - 1]) found.add(pass[i]!);
  return [...found].sort((a, b) => a - b);
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

/** places that were read, in the order of the sheet, each with the last of its rows */
function distinct(count: number, rows: Int32Array, place: ArrayLike<number>) {
  const last = new Int32Array(count).fill(-1);
  const found: number[] = [];
  for (const i of rows) {
    if (last[place[i]!] === -1) found.push(place[i]!);
    last[place[i]!] = i;
  }
  return found.map((one) => ({ place: one, row: last[one]! }));
}

interface When {
  readonly of: (row: number) => number;
  readonly unit: string;
}

/** the clock where every reading has it and it never runs back, else the order, else nothing */
function timeOf({ columns, units }: Sheet, rows: Int32Array): When | undefined {
  const { time } = columns;
  const ordered = columns.order !== undefined && rows.every((i) => orderAt(columns, i) !== undefined);
  const order = (i: number) => orderAt(columns, i)!;
  if (time && rows.every((i) => !Number.isNaN(time[i]))) {
    const inOrder = ordered ? rows.slice().sort((a, b) => order(a) - order(b)) : rows;
    const runsBack = inOrder.some((i, k) => k > 0 && time[i]! < time[inOrder[k - 1]!]!);
    if (!runsBack) return { of: (i) => time[i]!, unit: units.time === "clock" ? "s" : units.time };
  }
  return ordered ? { of: order, unit: "readings" } : undefined;
}
