import { parseDecimal } from "../quantity/parse.js";
import { textOf } from "./byte-words.js";

const lineFeed = 10;
const carriageReturn = 13;
const space = 32;
const tab = 9;
const quotationMark = 34;

/** what a cell that is not plain gives instead of the place behind it */
export const notPlain = -1;

const powersOfTen = Float64Array.from({ length: 16 }, (_, k) => 10 ** k);

/**
 * Reads single cells of a table from its bytes, which end in a line end. Every reader is given the place where the
 * cell begins and returns the place behind it, or `notPlain`: a quotation mark, a control character, decimals of both
 * marks. Places are passed as plain numbers and values written straight into columns, because this runs for each byte.
 */
export class ByteCells {
  /** what the last text was: its first byte, the one after its last, and a hash of them */
  start = 0;
  end = 0;
  hash = 0;
  private mark = 0;

  constructor(
    readonly bytes: Uint8Array,
    readonly separator: number,
  ) {}

  /** A cell that holds a number or nothing: the double nearest to its digits, NaN where it is blank. */
  number(from: number, into: Float64Array, row: number): number {
    const { bytes, separator } = this;
    let i = from;
    let byte = bytes[i]!;
    while (byte === space || (byte === tab && separator !== tab)) byte = bytes[++i]!;
    if (byte === separator || byte === lineFeed || byte === carriageReturn) {
      into[row] = Number.NaN;
      return i;
    }
    const negative = byte === 45;
    if (negative || byte === 43) byte = bytes[++i]!;
    let whole = 0;
    let first = i;
    while (byte >= 48 && byte <= 57) {
      whole = whole * 10 + (byte - 48);
      byte = bytes[++i]!;
    }
    let decimals = 0;
    if (byte === 46 || (byte === 44 && separator !== 44)) {
      if (this.mark !== byte && !this.isMark(byte)) return notPlain;
      const point = i;
      byte = bytes[++i]!;
      while (byte >= 48 && byte <= 57) {
        whole = whole * 10 + (byte - 48);
        byte = bytes[++i]!;
      }
      decimals = i - point - 1;
      first++;
    }
    const digits = i - first;
    while (byte === space || (byte === tab && separator !== tab)) byte = bytes[++i]!;
    const ends = byte === separator || byte === lineFeed || byte === carriageReturn;
    // whole numbers to 15 digits and powers of ten to 22 are exact, so one division rounds once
    if (!ends || digits === 0 || digits > 15) return this.oddNumber(from, into, row);
    const size = decimals === 0 ? whole : whole / powersOfTen[decimals]!;
    into[row] = negative && whole !== 0 ? -size : size;
    return i;
  }

  /** a number with more digits, an exponent or a printed minus */
  private oddNumber(from: number, into: Float64Array, row: number): number {
    const behind = this.text(from);
    if (behind === notPlain) return notPlain;
    const cell = textOf(this.bytes, this.start, this.end).trim();
    const value = cell === "" ? Number.NaN : parseDecimal(cell);
    if (value === undefined) return notPlain;
    into[row] = value + 0;
    const mark = /[.,]/.exec(cell)?.[0].charCodeAt(0);
    return mark === undefined || this.isMark(mark) ? behind : notPlain;
  }

  /** whether decimals of the sheet have this mark; the first one says which */
  private isMark(byte: number): boolean {
    if (this.mark === 0) this.mark = byte;
    return this.mark === byte;
  }

  /** A cell of any text, blanks around it taken off. */
  text(from: number): number {
    const { bytes, separator } = this;
    let i = from;
    let byte = bytes[i]!;
    while (byte === space || (byte === tab && separator !== tab)) byte = bytes[++i]!;
    this.start = i;
    let hash = 0x811c9dc5;
    let kept = hash;
    let end = i;
    while (byte !== separator && byte !== lineFeed && byte !== carriageReturn) {
      if (byte === quotationMark || byte === 127 || (byte < space && byte !== tab)) return notPlain;
      hash = Math.imul(hash ^ byte, 0x01000193);
      i++;
      if (byte !== space && byte !== tab) {
        end = i;
        kept = hash;
      }
      byte = bytes[i]!;
    }
    this.hash = kept ^ (kept >>> 15);
    this.end = end;
    return i;
  }

  /** steps over blank cells behind the last one, and over the line end */
  endLine(from: number): number {
    const { bytes, separator } = this;
    let i = from;
    let byte = bytes[i]!;
    while (byte === separator || byte === space || byte === tab) byte = bytes[++i]!;
    if (byte === lineFeed) return i + 1;
    if (byte !== carriageReturn) return notPlain;
    return bytes[i + 1] === lineFeed ? i + 2 : i + 1;
  }
}
