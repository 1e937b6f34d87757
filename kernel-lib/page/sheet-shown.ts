import type { SheetText } from "../src/survey/sheet-text.js";
import { indexOf, type SpotIndex } from "./sheet-changes.js";
import { cellOf, numberIn, type SheetModel } from "./sheet-model.js";
import { type Round, roundDue, roundsOf } from "./sheet-order.js";

/** The sheet as it is shown, with what is asked of it at every move: readings as numbers, blanks, returns that are due. */
export class Shown {
  index: SpotIndex;
  rounds: readonly Round[];
  /** the readings as numbers in the order of typing; NaN where none stands */
  heights: Float64Array;

  constructor(public model: SheetModel) {
    this.index = indexOf(model);
    this.rounds = roundsOf(model.spots);
    this.heights = heightsOf(model);
  }

  get read(): number {
    return this.heights.reduce((count, z) => (Number.isNaN(z) ? count : count + 1), 0);
  }
  cell(index: number): string {
    return cellOf(this.model, this.model.spots[index]!);
  }

  /** first reading that is blank and has no note that says why, from a place on and then from the start; −1 where there
   * is none */
  firstBlank(from = 0): number {
    const found = this.heights.findIndex((z, i) => i >= from && Number.isNaN(z) && !this.hasNote(i));
    return found < 0 && from > 0 ? this.firstBlank() : found;
  }

  due(): Round | undefined {
    const last = this.heights.findLastIndex((z) => !Number.isNaN(z));
    return roundDue(this.rounds, (i) => !Number.isNaN(this.heights[i]), last);
  }

  protected show(model: SheetModel): void {
    this.model = model;
    this.index = indexOf(model);
    this.rounds = roundsOf(model.spots);
    this.heights = heightsOf(model);
  }

  /** the same sheet with other cells at some places */
  protected showCells(text: SheetText, keys: ReadonlySet<string>): void {
    this.model = { ...this.model, text };
    this.model.spots.forEach((spot, i) => {
      if (keys.has(spot.key)) this.heights[i] = numberIn(cellOf(this.model, spot)) ?? Number.NaN;
    });
  }

  private hasNote(index: number): boolean {
    const { note } = this.model.side;
    return note !== undefined && this.model.text.row(this.model.spots[index]!.row)[note] !== "";
  }
}

function heightsOf(model: SheetModel): Float64Array {
  return Float64Array.from(model.spots, (spot) => numberIn(cellOf(model, spot)) ?? Number.NaN);
}
