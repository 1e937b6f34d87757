import type { SheetRow, Writable } from "./sheet.js";

/** Texts of a column, each kept once; −1 where the cell is blank. */
export interface TextColumn {
  readonly words: readonly string[];
  readonly at: ArrayLike<number>;
}

/** The readings of a sheet, columns side by side, numbers in the units of the heading; NaN where a cell is blank. */
export interface SheetColumns {
  readonly count: number;
  /** names of places and datums, in the order in which they first stand on the sheet */
  readonly labels: readonly string[];
  /** number of the place among the labels */
  readonly place: ArrayLike<number>;
  readonly pass: ArrayLike<number>;
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  readonly z: ArrayLike<number>;
  /** the rows stand in the order of reading, or a column says it, or nothing does */
  readonly order: ArrayLike<number> | "as written" | undefined;
  readonly time: ArrayLike<number> | undefined;
  readonly temperature: ArrayLike<number> | undefined;
  readonly approach: TextColumn | undefined;
  readonly note: TextColumn | undefined;
}

/** Columns of rows that were read one by one. */
export function columnsOfRows(rows: readonly SheetRow[], asWritten: boolean): SheetColumns {
  const numberOf = new Map<string, number>();
  const place = Int32Array.from(rows, (row) => {
    const known = numberOf.get(row.place) ?? numberOf.size;
    numberOf.set(row.place, known);
    return known;
  });
  const numbers = (column: NumberColumn) => Float64Array.from(rows, (row) => row[column] ?? Number.NaN);
  const some = (column: NumberColumn) => (rows.some((row) => row[column] !== undefined) ? numbers(column) : undefined);
  return {
    count: rows.length,
    labels: [...numberOf.keys()],
    place,
    pass: Int32Array.from(rows, (row) => row.pass),
    x: numbers("x"),
    y: numbers("y"),
    z: numbers("z"),
    order: asWritten ? "as written" : some("order"),
    time: some("time"),
    temperature: some("temperature"),
    approach: textColumn(rows, "approach"),
    note: textColumn(rows, "note"),
  };
}

type NumberColumn = "x" | "y" | "z" | "order" | "time" | "temperature";

function textColumn(rows: readonly SheetRow[], column: "approach" | "note"): TextColumn | undefined {
  const numberOf = new Map<string, number>();
  const at = Int32Array.from(rows, (row) => {
    const word = row[column];
    if (word === undefined) return -1;
    const known = numberOf.get(word) ?? numberOf.size;
    numberOf.set(word, known);
    return known;
  });
  return numberOf.size === 0 ? undefined : { words: [...numberOf.keys()], at };
}

/** One row again, as it was read. */
export function rowAt(columns: SheetColumns, i: number): SheetRow {
  const row: Writable<SheetRow> = { place: columns.labels[columns.place[i]!]!, pass: columns.pass[i]! };
  for (const column of ["x", "y", "z", "time", "temperature"] as const) {
    const value = columns[column]?.[i];
    if (value !== undefined && !Number.isNaN(value)) row[column] = value;
  }
  const order = orderAt(columns, i);
  if (order !== undefined) row.order = order;
  for (const column of ["approach", "note"] as const) {
    const word = wordAt(columns[column], i);
    if (word !== undefined) row[column] = word;
  }
  return row;
}

/** When a row was read, as a number that grows; undefined where the sheet does not say. */
export function orderAt({ order }: SheetColumns, i: number): number | undefined {
  if (order === undefined) return undefined;
  const at = order === "as written" ? i + 1 : order[i]!;
  return Number.isNaN(at) ? undefined : at;
}

export function wordAt(column: TextColumn | undefined, i: number): string | undefined {
  return column?.words[column.at[i]!];
}

/** Numbers of the rows that pass a test, in the order of the sheet. */
export function rowsWhere({ count }: SheetColumns, wanted: (i: number) => boolean): Int32Array {
  const found = new Int32Array(count);
  let size = 0;
  for (let i = 0; i < count; i++) if (wanted(i)) found[size++] = i;
  return found.subarray(0, size);
}
