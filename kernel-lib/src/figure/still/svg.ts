import type { FigureTexts } from "../figure.js";
import { type FrameRoom, family, figureWidth, frameRoom, ink, softInk } from "../frame.js";
import { escapeMarkup } from "../markup.js";

type Attributes = { readonly [name: string]: string | number };

/** An SVG element; attribute values and text are escaped. */
export function element(name: string, attributes: Attributes, content = ""): string {
  const list = Object.entries(attributes).map(([key, value]) => ` ${key}="${escapeMarkup(printed(value))}"`);
  return content === "" ? `<${name}${list.join("")}/>` : `<${name}${list.join("")}>${content}</${name}>`;
}

/** A line of text. */
export function label(text: string, x: number, y: number, more: Attributes = {}): string {
  return element("text", { x, y, "font-size": 12, fill: ink, ...more }, escapeMarkup(text));
}

export function line(x1: number, y1: number, x2: number, y2: number, stroke: string, width = 1): string {
  return element("line", { x1, y1, x2, y2, stroke, "stroke-width": width });
}

/** Closed path through points; a point on an upright or level stretch between its neighbours is left out, which draws the
 * same and makes a map a third smaller. */
export function closedPath(points: readonly (readonly [number, number])[]): string {
  const kept: [string, string][] = [];
  for (const point of points) {
    const next: [string, string] = [printed(point[0]), printed(point[1])];
    const [before, last] = kept.slice(-2);
    if (before && last && between(before, last, next)) kept.pop();
    kept.push(next);
  }
  return `M${kept.map((point) => point.join()).join("L")}Z`;
}

function between(a: readonly string[], b: readonly string[], c: readonly string[]): boolean {
  const along = [0, 1].find((i) => a[i] === b[i] && b[i] === c[i]);
  if (along === undefined) return false;
  const [from, at, to] = [a, b, c].map((point) => Number(point[1 - along])) as [number, number, number];
  return (at - from) * (to - at) >= 0;
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
  return typeof value === "string" ? value : String(Math.round(value * 10) / 10);
}
