import { MeasurementError } from "../measurement-error.js";
import { type Length, Quantity } from "../quantity/index.js";
import { sizeText } from "../quantity/size-text.js";
import type { Hole, Obstacle, Slot, SurveyPlan } from "../survey/index.js";
import type { Places } from "./places.js";

type Span = readonly [fromMm: number, toMm: number];

/** Where a table has no surface, or none that was reached. */
export interface GapOptions {
  readonly slots?: readonly Slot[];
  readonly holes?: readonly Hole[];
  readonly obstacles?: readonly Obstacle[];
  /** the plan of the survey: its slots, holes and obstacles */
  readonly plan?: Pick<SurveyPlan, "outline">;
}

/** A slot, a hole or what stands on the table as a picture and a raster take it, in mm. */
export type Gap =
  | { readonly kind: "slot"; readonly along: "x" | "y"; readonly fromMm: number; readonly toMm: number }
  | { readonly kind: "hole"; readonly xMm: number; readonly yMm: number; readonly radiusMm: number }
  | { readonly kind: "obstacle"; readonly name: string; readonly xMm: Span; readonly yMm: Span };

/** Where a surface is stated: inside the outermost places, and not in a slot or a hole. */
export interface Domain {
  /** corners of the hull of the places, counter-clockwise, in mm */
  readonly hull: readonly (readonly [x: number, y: number])[];
  readonly gaps: readonly Gap[];
  /** why a place is outside; nothing where the surface is stated */
  readonly outside: (xMm: number, yMm: number) => string | undefined;
  /** the same for the hull alone, gaps left aside */
  readonly beyond: (xMm: number, yMm: number) => string | undefined;
}

export function domainOf({ x, y }: Places, options: GapOptions): Domain {
  const hull = hullOf(x.map((px, i) => [px, y[i]!] as const));
  const gaps = gapsOf(options);
  const size = Math.max(...hull.map(([px, py]) => Math.hypot(px - hull[0]![0], py - hull[0]![1])));
  const beyond = (xMm: number, yMm: number): string | undefined => {
    const isInside = hull.every(([ax, ay], i) => {
      const [bx, by] = hull[(i + 1) % hull.length]!;
      return (bx - ax) * (yMm - ay) - (by - ay) * (xMm - ax) >= -1e-9 * size * size;
    });
    return isInside ? undefined : "outside the places probed";
  };
  const outside = (xMm: number, yMm: number) => gapAt(gaps, xMm, yMm) ?? beyond(xMm, yMm);
  return { hull, gaps, outside, beyond };
}

/** the gap at a place in words, "in a slot" */
export function gapAt(gaps: readonly Gap[], xMm: number, yMm: number): string | undefined {
  const gap = gaps.find((g) => isIn(g, xMm, yMm));
  return gap && inWords(gap);
}

function gapsOf({ slots = [], holes = [], obstacles = [], plan }: GapOptions): readonly Gap[] {
  const given = [...slots.map(slotGap), ...holes.map(holeGap), ...obstacles.map(obstacleGap)];
  if (plan === undefined) return given;
  const { outline } = plan;
  return [
    ...given,
    ...outline.slots.map(({ along, span }): Gap => ({ kind: "slot", along, ...span })),
    ...outline.holes.map((hole): Gap => ({ kind: "hole", ...hole })),
    ...outline.obstacles.map(
      ({ name, x, y }): Gap => ({ kind: "obstacle", name, xMm: [x.fromMm, x.toMm], yMm: [y.fromMm, y.toMm] }),
    ),
  ];
}

function inWords(gap: Gap): string {
  return gap.kind === "obstacle" ? `under the ${gap.name}` : `in a ${gap.kind}`;
}

function isIn(gap: Gap, xMm: number, yMm: number): boolean {
  if (gap.kind === "obstacle") return isWithin(gap.xMm, xMm) && isWithin(gap.yMm, yMm);
  if (gap.kind === "hole") return Math.hypot(xMm - gap.xMm, yMm - gap.yMm) < gap.radiusMm;
  const across = gap.along === "x" ? yMm : xMm;
  return across > gap.fromMm && across < gap.toMm;
}

function isWithin([from, to]: Span, mm: number): boolean {
  return mm > from && mm < to;
}

function slotGap({ along, at, width }: Slot): Gap {
  if (along !== "x" && along !== "y") refuse(`a slot runs along ${String(along)}; write "x" or "y"`);
  const [middle, half] = [position(at, "middle of a slot"), sizeOf(width, "width of a slot") / 2];
  return { kind: "slot", along, fromMm: middle - half, toMm: middle + half };
}

function holeGap({ x, y, diameter }: Hole): Gap {
  return {
    kind: "hole",
    xMm: position(x, "x of a hole"),
    yMm: position(y, "y of a hole"),
    radiusMm: sizeOf(diameter, "diameter of a hole") / 2,
  };
}

function obstacleGap({ name, x, y }: Obstacle): Gap {
  return { kind: "obstacle", name, xMm: spanOf(x, `x of the ${name}`), yMm: spanOf(y, `y of the ${name}`) };
}

function spanOf([from, to]: readonly [Length, Length], what: string): Span {
  const [least, greatest] = [position(from, what), position(to, what)];
  return greatest > least
    ? [least, greatest]
    : refuse(`${what} goes from ${least} mm to ${greatest} mm; give the least position first, then the greatest`);
}

function position(given: Length, what: string): number {
  if (given instanceof Quantity && given.kind === "length") return given.in("mm");
  return refuse(`${what} is ${String(given)}; give a length, such as mm(40)`);
}

function sizeOf(given: Length, what: string): number {
  const size = position(given, what);
  return size > 0 ? size : refuse(`${what} is ${sizeText(given)}; give a length greater than zero, such as mm(14)`);
}

function refuse(text: string): never {
  throw new MeasurementError("outline", `surface: ${text}`);
}

/** corners of the convex hull, counter-clockwise (Andrew's chain) */
function hullOf(points: readonly (readonly [number, number])[]): readonly (readonly [number, number])[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const chain = (list: readonly (readonly [number, number])[]) => {
    const kept: (readonly [number, number])[] = [];
    for (const p of list) {
      while (kept.length >= 2 && !turnsLeft(kept.at(-2)!, kept.at(-1)!, p)) kept.pop();
      kept.push(p);
    }
    return kept.slice(0, -1);
  };
  return [...chain(sorted), ...chain([...sorted].reverse())];
}

function turnsLeft(a: readonly [number, number], b: readonly [number, number], c: readonly [number, number]): boolean {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 0;
}
