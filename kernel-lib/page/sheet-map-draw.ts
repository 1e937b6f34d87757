import type { Span } from "../src/survey/sheet.js";
import { isDatum } from "../src/survey/sheet.js";
import type { Desk } from "./sheet-desk.js";
import type { Laid, Outline, Pixel, Spots } from "./sheet-map.js";

export function drawPlaces(pen: CanvasRenderingContext2D, look: Look, desk: Desk, spots: Spots): void {
  const [across, away] = [pitchOf(spots.map(({ px }) => px)), pitchOf(spots.map(({ py }) => py))];
  const size = Math.max(1.5, Math.min(5, Math.min(across, away) / 5));
  const fits = across >= 26 && away >= 27;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  path(pen, spots, look);
  for (const { index, px, py } of spots) {
    const value = desk.cell(index);
    pen.fillStyle = value === "" ? look.paper : look.accent;
    pen.strokeStyle = look.accent;
    pen.lineWidth = 1;
    mark(pen, px, py, size, false);
    if (fits && (away >= 42 || value === ""))
      text(pen, look, desk.model.spots[index]!.place, px, py - 14, look.soft, 10);
    if (index !== desk.current && value !== "" && fits) text(pen, look, value, px, py + 14, look.ink, 12);
  }
}

/** thousands of places: read ones in colour, blank ones pale, in two strokes of the pen */
export function drawDots(pen: CanvasRenderingContext2D, look: Look, desk: Desk, spots: Spots): void {
  for (const [isRead, colour] of [
    [false, look.line],
    [true, look.accent],
  ] as const) {
    pen.fillStyle = colour;
    pen.beginPath();
    for (const { index, px, py } of spots) {
      if (Number.isNaN(desk.heights[index]) !== isRead) pen.rect(px - 1, py - 1, 2, 2);
    }
    pen.fill();
  }
}

/** where the person is: a ring, square for a datum, with name and reading */
export function drawHere(pen: CanvasRenderingContext2D, look: Look, desk: Desk, here: Pixel | undefined): void {
  if (here === undefined) return;
  const value = desk.cell();
  pen.fillStyle = value === "" ? look.paper : look.accent;
  pen.strokeStyle = look.warm;
  pen.lineWidth = 3;
  mark(pen, here.px, here.py, 7, isDatum(desk.spot.place));
  text(pen, look, desk.spot.place, here.px, here.py - 16, look.warm, 11, 700);
  if (value !== "") text(pen, look, value, here.px, here.py + 16, look.ink, 12, 700);
}

export function drawOutline(
  pen: CanvasRenderingContext2D,
  look: Look,
  outline: Outline,
  { lay, at, box, scale }: Laid,
): void {
  const { table, travel, slots, holes, obstacles } = outline;
  const whole = { x: table.x ?? travel.x, y: table.y ?? travel.y };
  const turnsWithX = (direction: "u" | "v") => lay(1, 0)[direction] !== 0;
  const rectangle = (x: Span | undefined, y: Span | undefined, draw: (r: readonly number[]) => void) => {
    const corner = (a: "fromMm" | "toMm") => lay(x?.[a] ?? 0, y?.[a] ?? 0);
    const [a, b] = [corner("fromMm"), corner("toMm")];
    const [left, right] = ends(turnsWithX("u") ? x : y, a.u, b.u, box.left, box.right);
    const [front, back] = ends(turnsWithX("v") ? x : y, a.v, b.v, box.front, box.back);
    const [a1, b1] = [at({ u: left, v: back }), at({ u: right, v: front })];
    draw([a1.px, a1.py, b1.px - a1.px, b1.py - a1.py]);
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
    const { px, py } = at(lay(xMm, yMm));
    pen.beginPath();
    pen.arc(px, py, Math.max(2, radiusMm * scale), 0, 7);
    pen.stroke();
  }
  if (table.x && table.y) rectangle(table.x, table.y, ([x, y, w, h]) => pen.strokeRect(x!, y!, w!, h!));
  pen.setLineDash([5, 4]);
  if (travel.x && travel.y) rectangle(travel.x, travel.y, ([x, y, w, h]) => pen.strokeRect(x!, y!, w!, h!));
  pen.setLineDash([]);
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

export function drawEdges(pen: CanvasRenderingContext2D, look: Look, desk: Desk, width: number, height: number): void {
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

export function lookOf(canvas: HTMLCanvasElement): Look {
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

/** a disc for a place, a square for a datum, as on the plan */
function mark(pen: CanvasRenderingContext2D, x: number, y: number, size: number, isSquare: boolean): void {
  pen.beginPath();
  if (isSquare) pen.rect(x - size, y - size, 2 * size, 2 * size);
  else pen.arc(x, y, size, 0, 7);
  pen.fill();
  pen.stroke();
}

/** least distance between two columns, or rows, of places on the screen */
function pitchOf(positions: readonly number[]): number {
  const sorted = [...new Set(positions.map((at) => Math.round(at)))].sort((a, b) => a - b);
  return sorted.reduce((least, at, i) => (i === 0 ? least : Math.min(least, at - sorted[i - 1]!)), Infinity);
}

export function penOf(canvas: HTMLCanvasElement, width: number, height: number): CanvasRenderingContext2D {
  const fine = devicePixelRatio || 1;
  canvas.width = Math.round(width * fine);
  canvas.height = Math.round(height * fine);
  canvas.style.width = `${width}px`;
  canvas.style.height = `${height}px`;
  const pen = canvas.getContext("2d")!;
  pen.setTransform(fine, 0, 0, fine, 0, 0);
  return pen;
}
