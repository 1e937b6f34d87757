import { type Change, indexOf, standing, summed } from "./sheet-changes.js";
import type { SheetModel } from "./sheet-model.js";

/** A cell that two people wrote, each another thing. */
export interface Clash {
  readonly mine: Change;
  /** what stands in the file now; undefined where the file has no such cell any more */
  readonly theirs: string | undefined;
}

/** What is to become of one's own changes on a sheet that somebody else changed meanwhile. */
export interface Merged {
  /** still to be written: the file stands there as it did */
  readonly keep: readonly Change[];
  /** written differently by the other, or gone: the person says which */
  readonly clashes: readonly Clash[];
}

/** Holds one's own changes against the file as it is now, cell by cell. Nothing is lost on either side. */
export function merge(changes: readonly Change[], now: SheetModel): Merged {
  const index = indexOf(now);
  const keep: Change[] = [];
  const clashes: Clash[] = [];
  for (const mine of summed(changes)) {
    const theirs = standing(mine, now, index);
    if (theirs === mine.to) continue;
    if (theirs === mine.was) keep.push(mine);
    else clashes.push({ mine, theirs });
  }
  return { keep, clashes };
}

/** Cells that differ between two states of a sheet, as the changes that lead from one to the other. */
export function difference(before: SheetModel, after: SheetModel): readonly Change[] {
  const old = indexOf(before);
  const cells = after.spots.flatMap((spot): Change[] => {
    const was = old.get(spot.key);
    if (was === undefined) return [];
    return (["reading", "time", "temperature", "note"] as const).flatMap((cell) => {
      const change = { spot: spot.key, cell, was: "", to: "" };
      const [a, b] = [standing(change, before, old), standing(change, after, new Map([[spot.key, spot]]))];
      return a === undefined || b === undefined || a === b ? [] : { ...change, was: a, to: b };
    });
  });
  const heads = after.text.head.flatMap(({ key, value }): Change[] => {
    const was = before.text.head.find((line) => line.key === key)?.value ?? "";
    return was === value ? [] : [{ head: key, was, to: value }];
  });
  return [...heads, ...cells];
}
