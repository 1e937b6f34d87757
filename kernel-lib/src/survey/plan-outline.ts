import { type Length, Quantity } from "../quantity/index.js";
import { needSize, refusePlan } from "./plan-detection.js";
import type { Span } from "./sheet.js";
import type { Frame } from "./surface.js";

/** A rectangle in the coordinates of the sheet. */
export interface Area {
  readonly x: readonly [from: Length, to: Length];
  readonly y: readonly [from: Length, to: Length];
}

/** A T-slot or groove across the whole table. */
export interface Slot {
  readonly along: "x" | "y";
  /** middle of the slot, on the other axis */
  readonly at: Length;
  readonly width: Length;
}

export interface Hole {
  readonly x: Length;
  readonly y: Length;
  readonly diameter: Length;
}

/** Something that stands in the way: a vice left on, a clamp. */
export interface Obstacle extends Area {
  readonly name: string;
}

/** The table and what is on it, in millimetres. */
export interface Outline {
  readonly table: { readonly x: Span; readonly y: Span };
  readonly travel: { readonly x?: Span; readonly y?: Span };
  readonly slots: readonly { readonly along: "x" | "y"; readonly span: Span }[];
  readonly holes: readonly { readonly xMm: number; readonly yMm: number; readonly radiusMm: number }[];
  readonly obstacles: readonly { readonly name: string; readonly x: Span; readonly y: Span }[];
}

export interface OutlineOptions {
  readonly table: Area;
  /** what the machine reaches; the whole table where left out */
  readonly travel?: Partial<Area>;
  readonly slots?: readonly Slot[];
  readonly holes?: readonly Hole[];
  readonly obstacles?: readonly Obstacle[];
}

export function readOutline({ table, travel = {}, slots = [], holes = [], obstacles = [] }: OutlineOptions): Outline {
  const areaOf = (area: Area, what: string) => ({ x: spanOf(area?.x, `${what} x`), y: spanOf(area?.y, `${what} y`) });
  return {
    table: areaOf(table, "table"),
    travel: {
      ...(travel.x ? { x: spanOf(travel.x, "travel x") } : {}),
      ...(travel.y ? { y: spanOf(travel.y, "travel y") } : {}),
    },
    slots: slots.map(({ along, at, width }) => {
      if (along !== "x" && along !== "y") refusePlan(`a slot runs along ${String(along)}; write "x" or "y"`);
      const [middle, half] = [needPosition(at, "middle of a slot"), needSize(width, "width of a slot") / 2];
      return { along, span: { fromMm: middle - half, toMm: middle + half } };
    }),
    holes: holes.map(({ x, y, diameter }) => ({
      xMm: needPosition(x, "x of a hole"),
      yMm: needPosition(y, "y of a hole"),
      radiusMm: needSize(diameter, "diameter of a hole") / 2,
    })),
    obstacles: obstacles.map((obstacle) => ({ name: obstacle.name, ...areaOf(obstacle, obstacle.name) })),
  };
}

/** Which coordinate runs across for the person at FRONT, and whether each grows to the right and to the back. */
export interface Facing {
  readonly across: "x" | "y";
  readonly away: "x" | "y";
  readonly growsRight: boolean;
  readonly growsBack: boolean;
}

export function facingOf({ front, plusX, plusY }: Frame): Facing {
  const away = front?.startsWith("x") ? "x" : "y";
  const across = away === "x" ? "y" : "x";
  const [toward, sideways] = away === "x" ? [plusX, plusY] : [plusY, plusX];
  const growsBack = toward === "back";
  const fits = growsBack ? front?.endsWith("-") : toward === "front" && front?.endsWith("+");
  if (fits && (sideways === "right" || sideways === "left")) {
    return { across, away, growsRight: sideways === "right", growsBack };
  }
  return refusePlan(
    `front ${front}, +x ${plusX} and +y ${plusY} do not go together; FRONT is the edge that the axis across it points away from (-) or towards (+), the other axis points right or left`,
  );
}

function spanOf(ends: readonly [Length, Length] | undefined, what: string): Span {
  const [from, to] = [needPosition(ends?.[0], what), needPosition(ends?.[1], what)];
  if (to > from) return { fromMm: from, toMm: to };
  return refusePlan(`${what} goes from ${from} mm to ${to} mm; give the least position first, then the greatest`);
}

function needPosition(given: unknown, what: string): number {
  // a decimal such as 0.1 m must not come back as 100.00000000000001 mm
  if (given instanceof Quantity && given.kind === "length") return Number((given.si * 1000).toPrecision(12));
  return refusePlan(`${what} is ${String(given)}; give a length, such as mm(40)`);
}
