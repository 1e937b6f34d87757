import type { ReplayRefusal } from "./replay-blocks.js";
import { type KnownMove, knownMove, type ReplayMove } from "./replay-moves.js";
import type { Rectangle, ReplayShop } from "./replay-shop.js";

/** What of the moves would hit, rub, break in or leave the travel: one refusal a fault. `drop` is how far the lowest of
 * a tilted rim hangs below the tip that the program states. */
export function checkMoves(moves: readonly ReplayMove[], shop: ReplayShop, dropMm: number): ReplayRefusal[] {
  return moves.flatMap((move, i) => {
    const early = i === 0 ? firstMove(move, shop) : [];
    const known = knownMove(move);
    const found = known ? knownFaults(known, shop, dropMm) : i === 0 ? [] : unknownFaults(move, shop);
    return [...early, ...travelFaults(move, shop), ...found].map(([code, sentence]) => ({
      line: move.line,
      code,
      sentence,
    }));
  });
}

type Fault = readonly [code: string, sentence: string];

function firstMove({ kind, to }: ReplayMove, shop: ReplayShop): Fault[] {
  const isUp = to.xMm === undefined && to.yMm === undefined && to.zMm !== undefined && kind === "rapid";
  if (isUp && to.zMm >= shop.clearanceMm - shop.digitMm) return overAll(to.zMm, shop);
  return [
    [
      "first-move",
      `the first movement is not Z alone up to ${shop.clearanceMm} mm or higher by G0; where the cutter stands is not known`,
    ],
  ];
}

/** until X and Y are both known, only what is above everything is allowed */
function unknownFaults({ to, kind }: ReplayMove, shop: ReplayShop): Fault[] {
  if (to.zMm === undefined) return [["first-move", "moves sideways before Z was lifted"]];
  if (to.zMm < shop.clearanceMm - shop.digitMm) return [["first-move", "goes down before X and Y are known"]];
  const isPlaced = to.xMm !== undefined && to.yMm !== undefined;
  if (!isPlaced && (to.xMm !== undefined || to.yMm !== undefined)) {
    return [["first-move", "the first sideways movement must state X and Y; one of them is not known"]];
  }
  return kind === "feed" ? [["first-move", "feeds from a place that is not known"]] : overAll(to.zMm, shop);
}

/** from a place that is not known the cutter may stand anywhere, so it has to be above all that lies on the table */
function overAll(zMm: number, { obstacles, marginMm }: ReplayShop): Fault[] {
  return obstacles
    .filter(({ top }) => zMm < top + marginMm - 1e-6)
    .map(({ name, top }) => [
      "obstacle",
      `at ${text(zMm)}, from a place that is not known, it may meet ${name}, whose top is at ${text(top)}`,
    ]);
}

function travelFaults({ to }: ReplayMove, { travel, travelZ, digitMm }: ReplayShop): Fault[] {
  const out = (name: string, value: number | undefined, [low, high]: readonly [number, number]): Fault[] =>
    value === undefined || (value >= low - digitMm && value <= high + digitMm)
      ? []
      : [["travel", `${name} ${text(value)} is outside the travel, ${text(low)} to ${text(high)}`]];
  return [...out("x", to.xMm, travel.x), ...out("y", to.yMm, travel.y), ...out("z", to.zMm, travelZ)];
}

function knownFaults(move: KnownMove, shop: ReplayShop, dropMm: number): Fault[] {
  const { from, to } = move;
  const lowest = Math.min(from.zMm, to.zMm) - dropMm;
  const floor: Fault[] =
    lowest < shop.floorMm - 1e-6
      ? [["floor", `the rim goes to ${text(lowest)} and the floor is at ${text(shop.floorMm)}`]]
      : [];
  const isLow = Math.min(from.zMm, to.zMm) < shop.clearanceMm - shop.digitMm;
  return [...floor, ...collisions(move, shop, lowest), ...(isLow ? lowFaults(move, shop) : [])];
}

function collisions(move: KnownMove, shop: ReplayShop, lowest: number): Fault[] {
  const heads = shop.screws
    .filter(({ top }) => lowest < top + shop.marginMm - 1e-6)
    .filter(({ x, y, radius }) => distance(move, { x: [x, x], y: [y, y] }) < shop.radiusMm + radius);
  const things = shop.obstacles
    .filter(({ top }) => lowest < top + shop.marginMm - 1e-6)
    .filter(({ at }) => distance(move, at) < shop.radiusMm);
  return [
    ...holderFaults(move, shop),
    ...heads.map(
      ({ label, top }): Fault => [
        "screw",
        `the rim passes over the head of ${label}, whose top is at ${text(top)}, at ${text(lowest)}`,
      ],
    ),
    ...things.map(
      ({ name, top }): Fault => ["obstacle", `the rim meets ${name}, whose top is at ${text(top)}, at ${text(lowest)}`],
    ),
  ];
}

/** what is wider than the cutter above it, against screw heads, things on the table and the plate as it was found */
function holderFaults(move: KnownMove, shop: ReplayShop): Fault[] {
  const tip = Math.min(move.from.zMm, move.to.zMm);
  const things = [
    ...shop.screws.map(({ label, x, y, radius, top }) => ({
      name: `the head of ${label}`,
      at: { x: [x - radius, x + radius], y: [y - radius, y + radius] } as const,
      top,
    })),
    ...shop.obstacles,
    { name: "the plate", at: shop.plate, top: 0 },
  ];
  return shop.holder.flatMap(({ name, radius, aboveMm }) =>
    things
      .filter(({ top }) => tip + aboveMm < top + shop.marginMm - 1e-6)
      .filter(({ at }) => distance(move, at) < radius)
      .map(
        (thing): Fault => [
          "holder",
          `${name}, ${text(2 * radius)} wide and ${text(aboveMm)} above the tip, meets ${thing.name}, whose top is at ${text(thing.top)}, at ${text(tip + aboveMm)}`,
        ],
      ),
  );
}

/** below the height of free moves: straight up, straight down outside the plate, or along one axis at one height */
function lowFaults(move: KnownMove, shop: ReplayShop): Fault[] {
  const { kind, from, to } = move;
  const isSideways = from.xMm !== to.xMm || from.yMm !== to.yMm;
  const touches = distance(move, shop.plate) < shop.radiusMm - shop.digitMm;
  if (isSideways && from.zMm !== to.zMm)
    return [["slant", "goes sideways and up or down at once below the height of free moves"]];
  if (isSideways)
    return kind === "rapid"
      ? [["clearance", "a rapid goes sideways below the height of free moves"]]
      : sideways(move, shop, touches);
  if (to.zMm >= from.zMm) return touches ? [["lift", "lifts off over the plate, before the rim has run clear"]] : [];
  if (kind === "rapid") return [["clearance", "a rapid goes down below the height of free moves"]];
  if (touches) return [["entry", "goes down over the plate; the way in is from outside, at depth"]];
  return move.feedMmPerMin > shop.feedDownMmPerMin * 1.01
    ? [
        [
          "feed",
          `goes down at ${figure(move.feedMmPerMin)} mm/min; planned are ${figure(shop.feedDownMmPerMin)} mm/min`,
        ],
      ]
    : [];
}

function sideways({ from, to, feedMmPerMin }: KnownMove, shop: ReplayShop, touches: boolean): Fault[] {
  if (!touches) return [];
  const idle = shop.feedAlong === "x" ? from.yMm !== to.yMm : from.xMm !== to.xMm;
  const isPlanned = shop.levelsMm.some((level) => Math.abs(level - to.zMm) <= shop.digitMm);
  return [
    ...(idle
      ? [
          [
            "idle-axis",
            `cuts along ${shop.feedAlong === "x" ? "y" : "x"}, whose slide is meant to be locked`,
          ] satisfies Fault,
        ]
      : []),
    ...(isPlanned
      ? []
      : [["depth", `cuts at ${text(to.zMm)}; planned are ${shop.levelsMm.map(text).join(", ")}`] satisfies Fault]),
    ...(Math.abs(feedMmPerMin - shop.feedMmPerMin) <= 0.01 * shop.feedMmPerMin + shop.digitMm
      ? []
      : [
          [
            "feed",
            `cuts at ${figure(feedMmPerMin)} mm/min; planned are ${figure(shop.feedMmPerMin)} mm/min`,
          ] satisfies Fault,
        ]),
  ];
}

/** Least distance in the plane between the way of the cutter's centre and a rectangle. A rapid may reach the end of one
 * axis before that of the other, so its way is anywhere in the box between its ends. */
function distance({ kind, from, to }: KnownMove, { x, y }: Rectangle): number {
  if (kind === "rapid") return Math.hypot(apart(from.xMm, to.xMm, x), apart(from.yMm, to.yMm, y));
  const at = (share: number) => {
    const px = from.xMm + share * (to.xMm - from.xMm);
    const py = from.yMm + share * (to.yMm - from.yMm);
    return Math.hypot(Math.max(x[0] - px, 0, px - x[1]), Math.max(y[0] - py, 0, py - y[1]));
  };
  // the distance to a convex shape along a straight way has one lowest stretch
  let [low, high] = [0, 1];
  for (let turn = 0; turn < 60; turn++) {
    const third = (high - low) / 3;
    if (at(low + third) <= at(high - third)) high -= third;
    else low += third;
  }
  return Math.min(at(0), at(1), at((low + high) / 2));
}

function apart(a: number, b: number, [low, high]: readonly [number, number]): number {
  return Math.max(low - Math.max(a, b), 0, Math.min(a, b) - high);
}

function text(mm: number): string {
  return `${figure(mm)} mm`;
}

function figure(value: number): string {
  return `${Number(value.toFixed(3))}`.replace("-", "−");
}
