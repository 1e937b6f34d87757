import { type ByteCells, notPlain } from "./byte-cells.js";
import { ByteWords, textOf } from "./byte-words.js";
import type { SheetColumns, TextColumn } from "./columns.js";
import { type ColumnName, columnNames, type Headings } from "./headings.js";
import { clockSeconds, isPass, isPlaceName } from "./row-reader.js";
import { isDatum } from "./sheet.js";

/** how the cells of a column are read; plain numbers, because a row asks for it at every cell */
const ignored = 0;
const number = 1;
const pass = 2;
const place = 3;
const words = 4;
const clock = 5;
type Sort = 0 | 1 | 2 | 3 | 4 | 5;

const sortOf: { readonly [C in ColumnName]: Sort } = {
  place,
  x: number,
  y: number,
  z: number,
  pass,
  order: number,
  time: number,
  temperature: number,
  approach: words,
  note: words,
};

/** Gathers the rows of a long sheet into columns. A row that is not plain in every cell is not taken. */
export class ColumnBuilder {
  private readonly sorts: readonly Sort[];
  private readonly values: Float64Array[];
  private readonly marks: Int32Array[];
  private readonly words: readonly ByteWords[];
  private readonly spots: Spots;
  private readonly scratch = new Float64Array(1);
  private room: number;
  private count = 0;

  constructor(
    private readonly bytes: Uint8Array,
    start: number,
    private readonly headings: Headings,
  ) {
    const { at, width, units } = headings;
    const names = Array.from({ length: width }, (_, i) => columnNames.find((c) => at[c] === i));
    this.sorts = names.map((name) => {
      if (name === undefined) return ignored;
      return name === "time" && units.time === "clock" ? clock : sortOf[name];
    });
    this.room = rowsExpected(bytes, start);
    this.values = this.sorts.map((sort) => new Float64Array(sort === number || sort === clock ? this.room : 0));
    this.marks = this.sorts.map(
      (sort) => new Int32Array(sort === place || sort === pass || sort === words ? this.room : 0),
    );
    this.words = this.sorts.map(() => new ByteWords(bytes));
    this.spots = new Spots(at.place!, at.x!, at.y!);
  }

  /** reads the row that begins at a place, and returns the place behind it; a row that is not plain is not taken */
  readRow(cells: ByteCells, from: number): number {
    if (this.count === this.room) this.grow();
    const { sorts, count, bytes } = this;
    const { separator } = cells;
    let i = from;
    for (let c = 0; c < sorts.length; c++) {
      if (c > 0 && bytes[i++] !== separator) return notPlain;
      i = sorts[c] === number ? cells.number(i, this.values[c]!, count) : this.readOther(cells, i, c);
      if (i < 0) return notPlain;
    }
    i = cells.endLine(i);
    if (i < 0 || !this.spots.holds(this.marks, this.values, this.words, count)) return notPlain;
    this.count++;
    return i;
  }

  private readOther(cells: ByteCells, from: number, c: number): number {
    const sort = this.sorts[c]!;
    if (sort === pass) {
      const i = cells.number(from, this.scratch, 0);
      const value = this.scratch[0]!;
      this.marks[c]![this.count] = value;
      return isPass(value) ? i : notPlain;
    }
    if (sort === place || sort === words) {
      const i = this.words[c]!.guess(from, cells.separator);
      if (i >= 0) {
        this.marks[c]![this.count] = this.words[c]!.guessed;
        return i;
      }
    }
    const i = cells.text(from);
    if (i < 0 || (c === 0 && this.bytes[cells.start] === numberSign)) return notPlain;
    if (sort === ignored) return i;
    return (sort === clock ? this.readClock(cells, c) : this.readWord(cells, c)) ? i : notPlain;
  }

  private readWord(cells: ByteCells, c: number): boolean {
    const known = this.words[c]!;
    const before = known.words.length;
    const blank = cells.start === cells.end;
    if (blank && this.sorts[c] === place) return false;
    const found = blank ? -1 : known.numberOf(cells.start, cells.end, cells.hash);
    this.marks[c]![this.count] = found;
    if (known.words.length === before) return true;
    // a new word: blanks that are no spaces, and bytes that are no text, are for the careful way
    const word = known.words[found]!;
    return word.trim() === word && !word.includes("\uFFFD") && (this.sorts[c] !== place || isPlaceName(word));
  }

  private readClock(cells: ByteCells, c: number): boolean {
    const blank = cells.start === cells.end;
    const seconds = blank ? Number.NaN : clockSeconds(textOf(this.bytes, cells.start, cells.end));
    this.values[c]![this.count] = seconds ?? Number.NaN;
    return seconds !== undefined;
  }

  /** what was gathered */
  columns(asWritten: boolean): SheetColumns {
    const { at, onlyPass } = this.headings;
    const { count } = this;
    const values = (column: ColumnName) => this.values[at[column]!]!.subarray(0, count);
    const some = (column: ColumnName) => {
      if (at[column] === undefined) return undefined;
      const found = values(column);
      return found.some((value) => !Number.isNaN(value)) ? found : undefined;
    };
    const text = (column: ColumnName): TextColumn | undefined => {
      const c = at[column];
      if (c === undefined || this.words[c]!.words.length === 0) return undefined;
      return { words: this.words[c]!.words, at: this.marks[c]!.subarray(0, count) };
    };
    return {
      count,
      labels: this.words[at.place!]!.words,
      place: this.marks[at.place!]!.subarray(0, count),
      pass: onlyPass === undefined ? this.marks[at.pass!]!.subarray(0, count) : new Int32Array(count).fill(onlyPass),
      x: values("x"),
      y: values("y"),
      z: values("z"),
      order: at.order === undefined && asWritten ? "as written" : some("order"),
      time: some("time"),
      temperature: some("temperature"),
      approach: text("approach"),
      note: text("note"),
    };
  }

  private grow(): void {
    this.room *= 2;
    this.values.forEach((column, c) => {
      if (column.length > 0) (this.values[c] = new Float64Array(this.room)).set(column);
    });
    this.marks.forEach((column, c) => {
      if (column.length > 0) (this.marks[c] = new Int32Array(this.room)).set(column);
    });
  }
}

const numberSign = 35;

/** Where each place stands, so that a place with two spots is noticed. */
class Spots {
  private readonly x: number[] = [];
  private readonly y: number[] = [];
  private readonly datum: boolean[] = [];

  constructor(
    private readonly place: number,
    private readonly atX: number,
    private readonly atY: number,
  ) {}

  /** whether a row has a spot where it needs one, and the same as its place had before */
  holds(marks: readonly Int32Array[], values: readonly Float64Array[], words: readonly ByteWords[], row: number) {
    const number = marks[this.place]![row]!;
    const x = values[this.atX]![row]!;
    const y = values[this.atY]![row]!;
    if (number === this.x.length) {
      this.datum.push(isDatum(words[this.place]!.words[number]!));
      this.x.push(x);
      this.y.push(y);
    }
    if (x === this.x[number] && y === this.y[number]) return true;
    const blankX = Number.isNaN(x);
    if (blankX !== Number.isNaN(y) || (blankX && !this.datum[number])) return false;
    if (blankX) return true;
    // the first rows of a datum may have had no spot
    if (!Number.isNaN(this.x[number]!)) return false;
    this.x[number] = x;
    this.y[number] = y;
    return true;
  }
}

/** rows to make room for, from the length of the first ones */
function rowsExpected(bytes: Uint8Array, start: number): number {
  const sample = Math.min(bytes.length, start + 20_000);
  let lines = 1;
  for (let i = start; i < sample; i++) if (bytes[i] === 10 || bytes[i] === 13) lines++;
  return Math.ceil((1.02 * (bytes.length - start) * lines) / Math.max(1, sample - start)) + 16;
}
