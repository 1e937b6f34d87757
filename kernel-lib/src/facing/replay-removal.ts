import type { ReplayRefusal } from "./replay-blocks.js";
import type { KnownMove } from "./replay-moves.js";
import type { ReplayShop } from "./replay-shop.js";
import type { Stock } from "./replay-stock.js";

/** Lean of the spindle against its travel, rise over run of the rim's plane along +x and +y. */
export interface Lean {
  readonly x: number;
  readonly y: number;
}

/** What one pass took away. */
interface Bite {
  /** thickest chip ahead of the rim, mm */
  readonly deepestMm: number;
  /** cells cut on the left and on the right of the way, seen in the direction of the feed */
  readonly left: number;
  readonly right: number;
  readonly volumeMm3: number;
}

/**
 * Takes the material of all passes away, in order: the rim is a tilted circle, its front and its rear edge both cut what
 * they pass. Refuses a pass that takes more than its round was meant to, and one that climbs where it must not.
 */
export function removeAll(
  moves: readonly KnownMove[],
  stock: Stock,
  shop: ReplayShop,
  lean: Lean,
): {
  readonly refusals: readonly ReplayRefusal[];
  readonly volumeMm3: number;
  /** lines of the cutter's centre, across the feed, at the last planned depth */
  readonly lanesMm: readonly number[];
} {
  const refusals: ReplayRefusal[] = [];
  const lanesMm: number[] = [];
  let volumeMm3 = 0;
  for (const move of passes(moves)) {
    if (!(move.to.zMm < stock.topMm + dropOf(shop, lean))) continue;
    const bite = remove(move, stock, shop, lean);
    if (isLast(move, shop) && runsClear(move, shop)) lanesMm.push(shop.feedAlong === "x" ? move.to.yMm : move.to.xMm);
    volumeMm3 += bite.volumeMm3;
    refusals.push(...biteFaults(bite, move, stock, shop, lean));
  }
  return { refusals, volumeMm3, lanesMm };
}

/** feeds at one height; those that go on straight after one another are one pass */
function passes(moves: readonly KnownMove[]): readonly KnownMove[] {
  const found: KnownMove[] = [];
  let before: KnownMove | undefined;
  for (const move of moves) {
    const isPass = move.kind === "feed" && move.from.zMm === move.to.zMm;
    if (isPass && before && goesOn(before, move)) found[found.length - 1] = before = { ...before, to: move.to };
    else if (isPass) found.push((before = move));
    else before = undefined;
  }
  return found;
}

function goesOn({ from, to }: KnownMove, next: KnownMove): boolean {
  const [ax, ay] = [to.xMm - from.xMm, to.yMm - from.yMm];
  const [bx, by] = [next.to.xMm - to.xMm, next.to.yMm - to.yMm];
  return ax * by === ay * bx && ax * bx + ay * by > 0;
}

/** front and rear edge both come over the whole length of the plate */
function runsClear({ from, to }: KnownMove, { feedAlong, plate, radiusMm, digitMm }: ReplayShop): boolean {
  const [a, b] = feedAlong === "x" ? [from.xMm, to.xMm] : [from.yMm, to.yMm];
  const [low, high] = plate[feedAlong];
  return Math.min(a, b) <= low - radiusMm + digitMm && Math.max(a, b) >= high + radiusMm - digitMm;
}

function isLast({ to }: KnownMove, { levelsMm, digitMm }: ReplayShop): boolean {
  return Math.abs(to.zMm - levelsMm.at(-1)!) <= digitMm;
}

/** how far the lowest of the tilted rim hangs below its middle, mm */
export function dropOf({ radiusMm }: Pick<ReplayShop, "radiusMm">, lean: Lean): number {
  return radiusMm * Math.hypot(lean.x, lean.y);
}

function biteFaults(bite: Bite, move: KnownMove, stock: Stock, shop: ReplayShop, lean: Lean): ReplayRefusal[] {
  const { line } = move;
  const round = shop.levelsMm.findIndex((level) => Math.abs(level - move.to.zMm) <= shop.digitMm);
  const above = round > 0 ? shop.levelsMm[round - 1]! : Math.max(0, stock.topMm);
  const planned = above - shop.levelsMm[Math.max(0, round)]!;
  const found: ReplayRefusal[] = [];
  if (bite.deepestMm > planned + 2 * dropOf(shop, lean) + 2 * shop.digitMm) {
    const text = `takes ${bite.deepestMm.toFixed(3)} mm at once where ${planned.toFixed(3)} mm were planned: an earlier pass is missing`;
    found.push({ line, code: "bite", sentence: text });
  }
  const share = bite.right / (bite.left + bite.right);
  // the first pass cuts over its full width, near half of it on either side
  if (!shop.mayClimb && share > 0.6) {
    found.push({
      line,
      code: "climb",
      sentence: `${(100 * share).toFixed(0)} % of the cut lies on the right of the way, where the teeth climb, and the job cuts conventionally`,
    });
  }
  return found;
}

function remove(move: KnownMove, stock: Stock, shop: ReplayShop, lean: Lean): Bite {
  const { from, to } = move;
  const isFinal = isLast(move, shop);
  const isX = shop.feedAlong === "x";
  const [start, end, lane] = isX ? [from.xMm, to.xMm, to.yMm] : [from.yMm, to.yMm, to.xMm];
  const [a, b] = isX ? [lean.x, lean.y] : [lean.y, lean.x];
  // left of a feed to +X is +Y, left of a feed to +Y is −X
  const leftSign = (end >= start ? 1 : -1) * (isX ? 1 : -1);
  const [low, high] = [Math.min(start, end), Math.max(start, end)];
  // what a repeat pass shaves off ridges is no cut to judge a side by
  const ridgeMm = 2 * dropOf(shop, lean) + 2 * shop.digitMm;
  const cut = { deepestMm: 0, left: 0, right: 0, thickness: 0 };
  const { along, across, heightMm, isSwept } = stock;
  for (let j = 0; j < across.length; j++) {
    const dt = across[j]! - lane;
    if (Math.abs(dt) > shop.radiusMm) continue;
    const half = Math.sqrt(shop.radiusMm ** 2 - dt * dt);
    const front = to.zMm + b * dt + a * half;
    const rear = to.zMm + b * dt - a * half;
    for (let i = 0; i < along.length; i++) {
      const s = along[i]!;
      // the front edge passes a spot when the centre is half a chord before it, the rear edge half a chord after
      const byFront = s - half >= low && s - half <= high;
      const byRear = s + half >= low && s + half <= high;
      if (!byFront && !byRear) continue;
      const level = byFront && byRear ? Math.min(front, rear) : byFront ? front : rear;
      const cell = j * along.length + i;
      if (isFinal && byFront && byRear) isSwept[cell] = 1;
      const chip = heightMm[cell]! - level;
      if (!(chip > 0)) continue;
      heightMm[cell] = level;
      cut.thickness += chip;
      cut.deepestMm = Math.max(cut.deepestMm, chip);
      if (chip <= ridgeMm) continue;
      if (dt * leftSign > 0) cut.left++;
      else cut.right++;
    }
  }
  return { ...cut, volumeMm3: cut.thickness * cellMm2(stock) };
}

function cellMm2({ along, across }: Stock): number {
  const pitch = (list: readonly number[]) => (list.at(-1)! - list[0]!) / (list.length - 1);
  return pitch(along) * pitch(across);
}
