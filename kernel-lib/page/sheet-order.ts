import type { Facing } from "../src/survey/plan-outline.js";
import { isDatum } from "../src/survey/sheet.js";
import type { Spot } from "./sheet-model.js";

export type OrderSaid = "column" | "rows" | "ours";

/**
 * The order in which readings are typed. The sheet's own order stands: its column, or its rows. Where it names none the
 * places are walked row by row from FRONT, each next one back again, and every second pass the same way backwards, so
 * that a steady drift is the same in all means of two passes.
 */
export function typingOrder(spots: readonly Spot[], said: OrderSaid, facing: Facing | undefined): readonly Spot[] {
  if (said === "rows") return spots;
  if (said === "column") {
    const number = (spot: Spot) => spot.order ?? Number.POSITIVE_INFINITY;
    return spots
      .map((spot, i) => ({ spot, i }))
      .sort((a, b) => (number(a.spot) === number(b.spot) ? a.i - b.i : number(a.spot) - number(b.spot)))
      .map(({ spot }) => spot);
  }
  const passes = [...new Set(spots.map(({ pass }) => pass))].sort((a, b) => a - b);
  return passes.flatMap((pass, i) => {
    const own = spots.filter((spot) => spot.pass === pass);
    const walk = serpentine(
      own.filter(({ place }) => !isDatum(place)),
      facing,
    );
    return [...own.filter(({ place }) => isDatum(place)), ...(i % 2 === 0 ? walk : walk.reverse())];
  });
}

function serpentine(spots: readonly Spot[], facing: Facing | undefined): Spot[] {
  const { across = "x", growsRight = true, growsBack = true } = facing ?? {};
  const along = (spot: Spot) => (growsRight ? 1 : -1) * ((across === "x" ? spot.xMm : spot.yMm) ?? 0);
  const away = (spot: Spot) => (growsBack ? 1 : -1) * ((across === "x" ? spot.yMm : spot.xMm) ?? 0);
  const rows = new Map<number, Spot[]>();
  for (const spot of spots) {
    const row = rows.get(away(spot));
    if (row) row.push(spot);
    else rows.set(away(spot), [spot]);
  }
  return [...rows]
    .sort(([a], [b]) => a - b)
    .flatMap(([, row], i) => row.sort((a, b) => (i % 2 === 0 ? 1 : -1) * (along(a) - along(b))));
}

/** One return to the datums: readings one after the other with no place of the map between. */
export interface Round {
  /** 1, 2, 3 … */
  readonly number: number;
  readonly from: number;
  /** behind the last */
  readonly to: number;
}

/** The returns to the datums in the order of typing. */
export function roundsOf(spots: readonly Spot[]): readonly Round[] {
  const rounds: Round[] = [];
  for (let i = 0; i < spots.length; i++) {
    if (!isDatum(spots[i]!.place)) continue;
    let to = i;
    while (to < spots.length && isDatum(spots[to]!.place) && spots[to]!.pass === spots[i]!.pass) to++;
    rounds.push({ number: rounds.length + 1, from: i, to });
    i = to - 1;
  }
  return rounds;
}

/** A return that is due: blank readings of it, with places behind it read already. */
export function roundDue(
  rounds: readonly Round[],
  isRead: (i: number) => boolean,
  lastRead: number,
): Round | undefined {
  return rounds.find(({ from, to }) => {
    if (from > lastRead + 1) return false;
    for (let i = from; i < to; i++) if (!isRead(i)) return true;
    return false;
  });
}
