import type { Facing } from "../src/survey/plan-outline.js";
import { isDatum } from "../src/survey/sheet.js";
import type { Desk } from "./sheet-desk.js";
import { drawDots, drawEdges, drawHere, drawOutline, drawPlaces, lookOf, penOf } from "./sheet-map-draw.js";
import type { SheetModel, Spot } from "./sheet-model.js";

export type Outline = SheetModel["outline"];

interface Box {
  readonly left: number;
  readonly right: number;
  readonly front: number;
  readonly back: number;
}

const room = { side: 30, end: 36 };

/** The table as it lies before the person at FRONT: slots, holes, places with what was read there in this pass. */
export class SheetMap {
  readonly canvas = document.createElement("canvas");
  private spots: Spots = [];
  private laid: Laid | undefined;
  private waiting: number | undefined;

  constructor(
    private readonly desk: () => Desk,
    choose: (index: number) => void,
  ) {
    this.canvas.setAttribute("role", "img");
    this.canvas.addEventListener("click", ({ offsetX, offsetY }) => {
      const far = (spot: Pixel) => Math.hypot(spot.px - offsetX, spot.py - offsetY);
      const near = this.spots.reduce((best, spot) => (far(spot) < far(best) ? spot : best), this.spots[0]!);
      if (near && far(near) < 40) choose(near.index);
    });
  }

  /** draws with the next picture of the screen, however often it is asked */
  draw(): void {
    this.waiting ??= requestAnimationFrame(() => {
      this.waiting = undefined;
      this.paint();
    });
  }

  private paint(): void {
    const desk = this.desk();
    const { outline, passes } = desk.model;
    const pass = desk.spot.pass;
    const width = this.canvas.parentElement?.clientWidth ?? 600;
    const laid = this.layOut(desk, pass, width, Math.min(420, innerHeight * 0.42));
    this.spots = laid.spots;
    const pen = penOf(this.canvas, width, laid.height);
    const look = lookOf(this.canvas);
    drawOutline(pen, look, outline, laid);
    if (laid.spots.length > 2000) drawDots(pen, look, desk, laid.spots);
    else drawPlaces(pen, look, desk, laid.spots);
    drawHere(pen, look, desk, laid.place(desk.spot));
    drawEdges(pen, look, desk, width, laid.height);
    const read = laid.spots.reduce((count, { index }) => (Number.isNaN(desk.heights[index]) ? count : count + 1), 0);
    this.canvas.setAttribute(
      "aria-label",
      `Map of the table from FRONT, pass ${pass} of ${passes.length}: ${read} of ${laid.spots.length} places read; now at ${desk.spot.place}`,
    );
  }

  /** the same as long as sheet, pass and room are the same */
  private layOut(desk: Desk, pass: number, width: number, most: number): Laid {
    const { spots, facing, outline } = desk.model;
    const key = [spots, facing, outline, pass, width, most];
    if (this.laid && key.every((part, i) => part === this.laid!.key[i])) return this.laid;
    const lay = layOf(facing);
    const places = spots.flatMap((spot, index) =>
      spot.pass !== pass || spot.xMm === undefined || isDatum(spot.place) ? [] : { index, ...lay(spot.xMm, spot.yMm!) },
    );
    const corners = [outline.table, outline.travel].flatMap(({ x, y }) =>
      x && y ? [lay(x.fromMm, y.fromMm), lay(x.toMm, y.toMm)] : [],
    );
    const box = frameOf(places, corners);
    const [wide, deep] = [box.right - box.left, box.back - box.front];
    const scale = Math.min((width - 2 * room.side) / wide, (most - 2 * room.end) / deep);
    const height = Math.max(96, Math.round(scale * deep + 2 * room.end));
    const shift = (width - scale * wide) / 2;
    const at = ({ u, v }: Point): Pixel => ({
      px: shift + scale * (u - box.left),
      py: height - room.end - scale * (v - box.front),
    });
    this.laid = {
      key,
      spots: places.map((place) => ({ index: place.index, ...at(place) })),
      place: ({ xMm, yMm }) => (xMm === undefined ? undefined : at(lay(xMm, yMm!))),
      lay,
      at,
      box,
      scale,
      height,
    };
    return this.laid;
  }
}

interface Point {
  readonly u: number;
  readonly v: number;
}

export interface Pixel {
  readonly px: number;
  readonly py: number;
}

export type Spots = readonly (Pixel & { readonly index: number })[];

/** where everything lies on the screen */
export interface Laid {
  readonly key: readonly unknown[];
  readonly spots: Spots;
  readonly place: (spot: Spot) => Pixel | undefined;
  readonly lay: Lay;
  readonly at: (point: Point) => Pixel;
  readonly box: Box;
  readonly scale: number;
  readonly height: number;
}

type Lay = (xMm: number, yMm: number) => { u: number; v: number };

function layOf(facing: Facing | undefined): Lay {
  const { across = "x", growsRight = true, growsBack = true } = facing ?? {};
  const [su, sv] = [growsRight ? 1 : -1, growsBack ? 1 : -1];
  return (xMm, yMm) => (across === "x" ? { u: su * xMm, v: sv * yMm } : { u: su * yMm, v: sv * xMm });
}

/** places and outline together; a small patch of a large table alone, with a margin */
function frameOf(places: readonly Point[], corners: readonly Point[]): Box {
  const [own, all] = [boxOf(places), boxOf([...places, ...corners])];
  const [wide, deep] = [own.right - own.left, own.back - own.front];
  if (wide > 0.35 * (all.right - all.left) || deep > 0.35 * (all.back - all.front)) return all;
  const by = 0.06 * Math.max(wide, deep);
  return { left: own.left - by, right: own.right + by, front: own.front - by, back: own.back + by };
}

function boxOf(points: readonly Point[]): Box {
  const box = { left: Infinity, right: -Infinity, front: Infinity, back: -Infinity };
  for (const { u, v } of points) {
    box.left = Math.min(box.left, u);
    box.right = Math.max(box.right, u);
    box.front = Math.min(box.front, v);
    box.back = Math.max(box.back, v);
  }
  if (!(box.right > box.left)) Object.assign(box, { left: (box.left || 0) - 10, right: (box.right || 0) + 10 });
  if (!(box.back > box.front)) Object.assign(box, { front: box.front - 10, back: box.back + 10 });
  return box;
}
