import type { SheetEdit, SheetText } from "../src/survey/sheet-text.js";
import type { SheetModel, Spot } from "./sheet-model.js";

export type CellName = "reading" | "time" | "temperature" | "note";

/** One thing that was typed: what a cell, or a line above the heading, said before and says now. */
export interface Change {
  /** the reading's key and the column, or the key of a line: found again whatever rows were moved */
  readonly spot?: string;
  readonly cell?: CellName;
  readonly head?: string;
  readonly was: string;
  readonly to: string;
}

/** Where the readings of a sheet are found by their keys. */
export type SpotIndex = ReadonlyMap<string, Spot>;

export function indexOf(model: SheetModel): SpotIndex {
  return new Map(model.spots.map((spot) => [spot.key, spot]));
}

/** what stands on a sheet where a change wants to write; undefined where it has no such cell */
export function standing(change: Change, model: SheetModel, index: SpotIndex): string | undefined {
  if (change.head !== undefined) return headValue(model.text, change.head);
  const spot = index.get(change.spot!);
  const column = spot && columnOf(change.cell!, spot, model);
  return column === undefined ? undefined : model.text.row(spot!.row)[column];
}

/** The change as an edit of the text; undefined where the sheet has no such cell. */
export function editOf(change: Change, model: SheetModel, index: SpotIndex): SheetEdit | undefined {
  if (change.head !== undefined) return { head: change.head, to: change.to };
  const spot = index.get(change.spot!);
  const column = spot && columnOf(change.cell!, spot, model);
  return column === undefined ? undefined : { row: spot!.row, column, to: change.to };
}

export function headValue(text: SheetText, key: string): string {
  return text.head.find((line) => line.key === key)?.value ?? "";
}

export function columnOf(cell: CellName, spot: Spot, { side }: SheetModel): number | undefined {
  return cell === "reading" ? spot.column : side[cell];
}

export function sameCell(a: Change, b: Change): boolean {
  return a.spot === b.spot && a.cell === b.cell && a.head === b.head;
}

/** "C4, pass 1: reading" for the person */
export function changeName(change: Change): string {
  if (change.head !== undefined) return `the line "${change.head}"`;
  const [place, pass, nth, said] = JSON.parse(change.spot!) as [string, number, number, string?];
  const group = said ?? `pass ${pass}`;
  return `${place}${group === "" ? "" : `, ${group}`}${nth > 1 ? `, reading ${nth}` : ""}${change.cell === "reading" ? "" : `, ${change.cell}`}`;
}

/** changes that follow one another as one each cell; those that end where they began fall away */
export function summed(changes: readonly Change[]): readonly Change[] {
  const cells = new Map<string, Change>();
  for (const change of changes) {
    const key = JSON.stringify([change.spot, change.cell, change.head]);
    const first = cells.get(key);
    cells.set(key, first ? { ...change, was: first.was } : change);
  }
  return [...cells.values()].filter(({ was, to }) => was !== to);
}
