import type { FigureTexts } from "../figure.js";
import { type FrameRoom, family, figureWidth, frameRoom, ink, softInk } from "../frame.js";
import { escapeMarkup } from "../markup.js";

type Attributes = { readonly [name: string]: string | number };

/** An SVG element; attribute values and text are escaped. */
export function element(name: string, attributes: Attributes, content = ""): string {
  const list = Object.entries(attributes).map(([key, value]) => ` ${key}="${printed(value)}"`);
  return content === "" ? `<${name}${list.join("")}/>` : `<${name}${list.join("")}>${content}</${name}>`;
}

/** A line of text. */
export function label(text: string, x: number, y: number, more: Attributes = {}): string {
  return element("text", { x, y, "font-size": 12, fill: ink, ...more }, escapeMarkup(text));
}

export function line(x1: number, y1: number, x2: number, y2: number, stroke: string, width = 1): string {
  return element("line", { x1, y1, x2, y2, stroke, "stroke-width": width });
}

/** Closed path through points, to a tenth of a pixel. */
export function closedPath(points: readonly (readonly [number, number])[]): string {
  return closedLine(points.flat());
}

/** The same through x and y by turns. A point that is the one before, or on an upright or level stretch between its
 * neighbours, is left out, which draws the same and makes a map a third smaller. */
export function closedLine(line: readonly number[]): string {
  /** in tenths */
  const kept: number[] = [];
  for (let i = 0; i < line.length; i += 2) {
    const [x, y] = [Math.round(line[i]! * 10), Math.round(line[i + 1]! * 10)];
    const n = kept.length;
    const [lastX, lastY] = [kept[n - 2], kept[n - 1]];
    if (x === lastX && y === lastY) continue;
    if (n >= 4 && isBetween(kept[n - 4]!, kept[n - 3]!, lastX!, lastY!, x, y)) kept.length = n - 2;
    kept.push(x, y);
  }
  let path = "";
  for (let i = 0; i < kept.length; i += 2) path += `${i === 0 ? "M" : "L"}${kept[i]! / 10},${kept[i + 1]! / 10}`;
  return `${path}Z`;
}

/** on the way from the first point to the third, which is level or upright */
function isBetween(x0: number, y0: number, x1: number, y1: number, x2: number, y2: number): boolean {
  if (x0 === x1 && x1 === x2) return (y1 - y0) * (y2 - y1) >= 0;
  return y0 === y1 && y1 === y2 && (x1 - x0) * (x2 - x1) >= 0;
}

/** The still picture: title, the picture proper, the lines below it. */
export function stillFrame(texts: FigureTexts, alt: string, height: number, picture: string): string {
  const room = frameRoom(texts);
  const head = headOf(room);
  const foot = room.lines.map((text, i) => label(text, 12, height - room.below + 18 + i * 16, { fill: softInk }));
  const frame = { xmlns: "http://www.w3.org/2000/svg", viewBox: `0 0 ${figureWidth} ${height}`, role: "img" };
  const paper = element("rect", { width: figureWidth, height, fill: "#ffffff" });
  const title = `<title>${escapeMarkup(alt)}</title>`;
  return element("svg", { ...frame, "font-family": family }, [title, paper, ...head, picture, ...foot].join(""));
}

function headOf(room: FrameRoom): string[] {
  const below = 26 + (room.title.length - 1) * 21 + 17;
  return [
    ...room.title.map((text, i) => label(text, 12, 26 + i * 21, { "font-size": 15, "font-weight": 600 })),
    ...room.subtitle.map((text, i) => label(text, 12, below + i * 16, { fill: softInk })),
  ];
}

function printed(value: string | number): string {
  return typeof value === "string" ? escapeMarkup(value) : String(Math.round(value * 10) / 10);
}
