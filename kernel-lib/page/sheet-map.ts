import type { Facing } from "../src/survey/plan-outline.js";
import { isDatum } from "../src/survey/sheet.js";
import type { Desk } from "./sheet-desk.js";

interface Box {
  readonly left: number;
  readonly right: number;
  readonly front: number;
  readonly back: number;
}

const room = { side: 30, end: 26 };

/** The table as it lies before the person at FRONT: slots, holes, places with what was read there in this pass. */
export class SheetMap {
  readonly canvas = document.createElement("canvas");
  private spots: readonly { index: number; u: number; v: number; px: number; py: number }[] = [];

  constructor(
    private readonly desk: () => Desk,
    choose: (index: number) => void,
  ) {
    this.canvas.setAttribute("role", "img");
    this.canvas.addEventListener("click", ({ offsetX, offsetY }) => {
      const far = (spot: { px: number; py: number }) => Math.hypot(spot.px - offsetX, spot.py - offsetY);
      const near = this.spots.reduce((best, spot) => (far(spot) < far(best) ? spot : best), this.spots[0]!);
      if (near && far(near) < 40) choose(near.index);
    });
  }

  draw(): void {
    const desk = this.desk();
    const { facing, outline, passes } = desk.model;
    const pass = desk.spot.pass;
    const width = this.canvas.parentElement?.clientWidth ?? 600;
    const lay = layOut(facing);
    const places = desk.model.spots.flatMap((spot, index) =>
      spot.pass !== pass || spot.xMm === undefined || (isDatum(spot.place) && index !== desk.current)
        ? []
        : { index, ...lay(spot.xMm, spot.yMm!) },
    );
    const box = boxOf(
      places,
      [outline.table, outline.travel].flatMap(({ x, y }) =>
        x && y ? [lay(x.fromMm, y.fromMm), lay(x.toMm, y.toMm)] : [],
      ),
    );
    const scale = Math.min(
      (width - 2 * room.side) / (box.right - box.left),
      (Math.min(420, innerHeight * 0.42) - 2 * room.end) / (box.back - box.front),
    );
    const height = Math.max(96, Math.round(scale * (box.back - box.front) + 2 * room.end));
    const pen = penOf(this.canvas, width, height);
    const shift = (width - scale * (box.right - box.left)) / 2;
    const at = (u: number, v: number) =>
      [shift + scale * (u - box.left), height - room.end - scale * (v - box.front)] as const;
    this.spots = places.map(({ index, u, v }) => {
      const [px, py] = at(u, v);
      return { index, u, v, px, py };
    });
    const look = lookOf(this.canvas);
    drawOutline(pen, look, desk, lay, at, scale, box);
    this.drawPlaces(pen, look, desk);
    drawEdges(pen, look, desk, width, height);
    const read = places.filter(({ index }) => !Number.isNaN(desk.heights[index])).length;
    this.canvas.setAttribute(
      "aria-label",
      `Map of the table from FRONT, pass ${pass} of ${passes.length}: ${read} of ${places.length} places read; now at ${desk.spot.place}`,
    );
  }

  private drawPlaces(pen: CanvasRenderingContext2D, look: Look, desk: Desk): void {
    const pitch = pitchOf(this.spots);
    pen.textAlign = "center";
    pen.textBaseline = "middle";
    path(pen, this.spots, look);
    for (const { index, px, py } of this.spots) {
      const value = desk.cell(index);
      const here = index === desk.current;
      const size = Math.max(1.5, Math.min(5, pitch / 5));
      pen.fillStyle = value === "" ? look.paper : look.accent;
      pen.strokeStyle = here ? look.warm : look.accent;
      pen.lineWidth = here ? 3 : 1;
      pen.beginPath();
      pen.arc(px, py, here ? Math.max(7, size + 3) : size, 0, 7);
      pen.fill();
      pen.stroke();
      if (pitch < 30 && !here) continue;
      text(pen, look, desk.model.spots[index]!.place, px, py - 13, look.soft, 10);
      if (value !== "") text(pen, look, value, px, py + 14, look.ink, 12);
    }
  }
}

type Lay = (xMm: number, yMm: number) => { u: number; v: number };

function layOut(facing: Facing | undefined): Lay {
  const { across = "x", growsRight = true, growsBack = true } = facing ?? {};
  const [su, sv] = [growsRight ? 1 : -1, growsBack ? 1 : -1];
  return (xMm, yMm) => (across === "x" ? { u: su * xMm, v: sv * yMm } : { u: su * yMm, v: sv * xMm });
}

function boxOf(...lists: readonly (readonly { u: number; v: number }[])[]): Box {
  const box = { left: Infinity, right: -Infinity, front: Infinity, back: -Infinity };
  for (const { u, v } of lists.flat()) {
    box.left = Math.min(box.left, u);
    box.right = Math.max(box.right, u);
    box.front = Math.min(box.front, v);
    box.back = Math.max(box.back, v);
  }
  if (!(box.right > box.left)) Object.assign(box, { left: (box.left || 0) - 10, right: (box.right || 0) + 10 });
  if (!(box.back > box.front)) Object.assign(box, { front: box.front - 10, back: box.back + 10 });
  return box;
}

type At = (u: number, v: number) => readonly [number, number];

function drawOutline(
  pen: CanvasRenderingContext2D,
  look: Look,
  desk: Desk,
  lay: Lay,
  at: At,
  scale: number,
  box: Box,
): void {
  const { table, travel, slots, holes, obstacles } = desk.model.outline;
  const whole = { x: table.x ?? travel.x, y: table.y ?? travel.y };
  const turnsWithX = (direction: "u" | "v") => lay(1, 0)[direction] !== 0;
  const rectangle = (x: Span | undefined, y: Span | undefined, draw: (r: readonly number[]) => void) => {
    const corner = (a: "fromMm" | "toMm") => lay(x?.[a] ?? 0, y?.[a] ?? 0);
    const [a, b] = [corner("fromMm"), corner("toMm")];
    const [left, right] = ends(turnsWithX("u") ? x : y, a.u, b.u, box.left, box.right);
    const [front, back] = ends(turnsWithX("v") ? x : y, a.v, b.v, box.front, box.back);
    const [px, py] = at(left, back);
    const [qx, qy] = at(right, front);
    draw([px, py, qx - px, qy - py]);
  };
  pen.fillStyle = look.line;
  for (const { along, span } of slots) {
    rectangle(along === "x" ? whole.x : span, along === "x" ? span : whole.y, ([x, y, w, h]) =>
      pen.fillRect(x!, y!, w!, h!),
    );
  }
  for (const { x, y, name } of obstacles) {
    rectangle(x, y, ([px, py, w, h]) => {
      pen.fillRect(px!, py!, w!, h!);
      pen.textAlign = "center";
      text(pen, look, name, px! + w! / 2, py! + h! / 2, look.soft, 11);
    });
  }
  pen.strokeStyle = look.soft;
  pen.lineWidth = 1;
  for (const { xMm, yMm, radiusMm } of holes) {
    const { u, v } = lay(xMm, yMm);
    const [px, py] = at(u, v);
    pen.beginPath();
    pen.arc(px, py, Math.max(2, radiusMm * scale), 0, 7);
    pen.stroke();
  }
  if (table.x && table.y) rectangle(table.x, table.y, ([x, y, w, h]) => pen.strokeRect(x!, y!, w!, h!));
  pen.setLineDash([5, 4]);
  if (travel.x && travel.y) rectangle(travel.x, travel.y, ([x, y, w, h]) => pen.strokeRect(x!, y!, w!, h!));
  pen.setLineDash([]);
}

interface Span {
  readonly fromMm: number;
  readonly toMm: number;
}

/** ends of a rectangle along one direction of the picture; the whole picture where the sheet does not say them */
function ends(said: Span | undefined, a: number, b: number, low: number, high: number): readonly [number, number] {
  return said === undefined ? [low, high] : [Math.min(a, b), Math.max(a, b)];
}

function path(pen: CanvasRenderingContext2D, spots: readonly { px: number; py: number }[], look: Look): void {
  pen.strokeStyle = look.line;
  pen.lineWidth = 1;
  pen.beginPath();
  for (const { px, py } of spots) pen.lineTo(px, py);
  pen.stroke();
}

function drawEdges(pen: CanvasRenderingContext2D, look: Look, desk: Desk, width: number, height: number): void {
  const { facing } = desk.model;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  if (facing === undefined) {
    text(pen, look, "which edge is FRONT is not stated yet", width / 2, height - 8, look.warm, 12);
    return;
  }
  const { across, away, growsRight, growsBack } = facing;
  text(pen, look, `FRONT   ${growsRight ? `+${across} →` : `← +${across}`}`, width / 2, height - 8, look.ink, 12, 700);
  text(pen, look, "BACK", width / 2, 8, look.soft, 11);
  for (const [word, x, turn] of [
    ["LEFT", 9, -Math.PI / 2],
    [`RIGHT   +${away} ${growsBack ? "↑" : "↓"}`, width - 9, 0],
  ] as const) {
    pen.save();
    pen.translate(x, height / 2);
    pen.rotate(turn === 0 ? -Math.PI / 2 : turn);
    text(pen, look, word.replace("↑", "→").replace("↓", "←"), 0, 0, look.soft, 11);
    pen.restore();
  }
}

interface Look {
  readonly ink: string;
  readonly paper: string;
  readonly soft: string;
  readonly line: string;
  readonly accent: string;
  readonly warm: string;
}

function lookOf(canvas: HTMLCanvasElement): Look {
  const style = getComputedStyle(canvas);
  const of = (name: string) => style.getPropertyValue(`--${name}`).trim();
  return {
    ink: of("ink"),
    paper: of("paper"),
    soft: of("soft"),
    line: of("line"),
    accent: of("accent"),
    warm: of("warm"),
  };
}

function text(
  pen: CanvasRenderingContext2D,
  look: Look,
  words: string,
  x: number,
  y: number,
  colour: string,
  size: number,
  weight = 400,
): void {
  pen.font = `${weight} ${size}px system-ui, sans-serif`;
  pen.lineWidth = 3;
  pen.strokeStyle = look.paper;
  pen.strokeText(words, x, y);
  pen.fillStyle = colour;
  pen.fillText(words, x, y);
}

/** how far a place stands from the next one on the screen */
function pitchOf(spots: readonly { px: number; py: number }[]): number {
  let least = Infinity;
  for (let i = 1; i < Math.min(spots.length, 400); i++) {
    const far = Math.hypot(spots[i]!.px - spots[i - 1]!.px, spots[i]!.py - spots[i - 1]!.py);
    if (far > 0) least = Math.min(least, far);
  }
  return least;
}

function penOf(canvas: HTMLCanvasElement, width: number, height: number): CanvasRenderingContext2D {
  const fine = devicePixelRatio || 1;
  canvas.width = Math.round(width * fine);
  canvas.height = Math.round(height * fine);
  canvas.style.width = `${width}px`;
  canvas.style.height = `${height}px`;
  const pen = canvas.getContext("2d")!;
  pen.setTransform(fine, 0, 0, fine, 0, 0);
  return pen;
}
