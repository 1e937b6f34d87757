import { display, type Length, type MimeBundle } from "../quantity/index.js";
import { asideTest } from "./height-table.js";
import { isDatum, type Sheet } from "./sheet.js";
import { lengthOf } from "./sheet-readings.js";

/** The readings of one place, over all passes. */
export interface PlaceStatistic {
  readonly place: string;
  readonly x: Length;
  readonly y: Length;
  /** how many readings it has; blank cells and those set aside do not count */
  readonly count: number;
  readonly mean: Length;
  /** of one reading, with n − 1; missing where there are fewer than two */
  readonly standardDeviation?: Length;
}

/**
 * Count, mean and standard deviation of the readings at each place, as they stand on the sheet: drift, passes and the
 * sign of the gauge are in them. Sorted by the name of the place, A2 before A10.
 */
export class PlaceStatistics {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  private constructor(
    private readonly sheet: Sheet,
    private readonly places: Int32Array,
    private readonly counts: Int32Array,
    private readonly means: Float64Array,
    private readonly squares: Float64Array,
    private readonly firstRow: Int32Array,
  ) {}

  /** The statistics of a sheet. */
  static of(sheet: Sheet): PlaceStatistics {
    const { count, labels, place, z } = sheet.columns;
    const isAside = asideTest(sheet);
    const kept = sheet.preamble.removed.length === 0 ? undefined : isAside;
    const counts = new Int32Array(labels.length);
    const means = new Float64Array(labels.length);
    const squares = new Float64Array(labels.length);
    const firstRow = new Int32Array(labels.length);
    for (let i = 0; i < count; i++) {
      const value = z[i]!;
      if (Number.isNaN(value) || kept?.(i)) continue;
      const p = place[i]!;
      if (counts[p] === 0) firstRow[p] = i;
      counts[p] = counts[p]! + 1;
      means[p] = means[p]! + value;
    }
    for (let p = 0; p < labels.length; p++) means[p] = means[p]! / counts[p]!;
    for (let i = 0; i < count; i++) {
      const value = z[i]!;
      if (Number.isNaN(value) || kept?.(i)) continue;
      const off = value - means[place[i]!]!;
      squares[place[i]!] = squares[place[i]!]! + off * off;
    }
    return new PlaceStatistics(sheet, inOrder(labels, counts), counts, means, squares, firstRow);
  }

  get length(): number {
    return this.places.length;
  }

  /** The place at a position, counted from 0; negative counts from the end. */
  at(position: number): PlaceStatistic | undefined {
    const p = this.places.at(position);
    if (p === undefined) return undefined;
    const { sheet, firstRow } = this;
    const count = this.counts[p]!;
    const inUnit = (value: number) => lengthOf(sheet, "z", value);
    return {
      place: sheet.columns.labels[p]!,
      x: lengthOf(sheet, "x", sheet.columns.x[firstRow[p]!]!),
      y: lengthOf(sheet, "y", sheet.columns.y[firstRow[p]!]!),
      count,
      mean: inUnit(this.means[p]!),
      ...(count > 1 ? { standardDeviation: inUnit(Math.sqrt(this.squares[p]! / (count - 1))) } : {}),
    };
  }

  *[Symbol.iterator](): Iterator<PlaceStatistic> {
    for (let i = 0; i < this.length; i++) yield this.at(i)!;
  }

  toArray(): readonly PlaceStatistic[] {
    return [...this];
  }

  toString(): string {
    const readings = this.places.reduce((sum, p) => sum + this.counts[p]!, 0);
    return `${this.sheet.name}: ${this.length} places, ${readings} readings`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

const byName = new Intl.Collator("en", { numeric: true });

/** places that were read, by name */
function inOrder(labels: readonly string[], counts: Int32Array): Int32Array {
  const read = labels.flatMap((label, p) => (counts[p]! > 0 && !isDatum(label) ? [p] : []));
  const compare = (a: number, b: number) => byName.compare(labels[a]!, labels[b]!) || a - b;
  return Int32Array.from(read.every((p, k) => k === 0 || compare(read[k - 1]!, p) < 0) ? read : read.sort(compare));
}
