import type { FigureTexts, JsonObject } from "./figure.js";
import { visible } from "./markup.js";
import { wrap } from "./wrap.js";

/** width all figures are laid out for; narrower pages scale the still picture and reflow the live one */
export const figureWidth = 640;
const titleRoom = 21;
const smallRoom = 16;
export const lineLength = 96;
const titleLength = 70;

export const ink = "#222222";
export const softInk = "#5a5a58";
export const hairline = "#d9d9d6";
export const family = "system-ui, -apple-system, 'Segoe UI', Roboto, sans-serif";

/** Words of the frame broken into lines, and the room they take above and below the picture. */
export interface FrameRoom {
  readonly title: readonly string[];
  readonly subtitle: readonly string[];
  readonly lines: readonly string[];
  readonly above: number;
  readonly below: number;
}

export function frameRoom({ title, subtitle, lines }: FigureTexts): FrameRoom {
  const room = {
    title: wrap(title, titleLength),
    subtitle: wrap(subtitle, lineLength),
    lines: lines.flatMap((line) => wrap(line, lineLength)),
  };
  return {
    ...room,
    above: 14 + room.title.length * titleRoom + room.subtitle.length * smallRoom,
    below: room.lines.length === 0 ? 6 : 14 + room.lines.length * smallRoom,
  };
}

/** Text as plotly draws it as it stands: plotly takes a few tags as mark-up. */
export function plotlyText(text: string): string {
  return visible(text).replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}

/** Room around a picture for its axes, px. */
export interface Room {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Plotly's margins: room for the axes and for the words above and below. */
export function liveMargin(texts: FigureTexts, { left, right, top, bottom }: Room): JsonObject {
  const { above, below } = frameRoom(texts);
  return { l: left, r: right, t: above + top, b: bottom + below, autoexpand: false };
}

/** Plotly's share of the frame: title, subtitle, lines below, type and paper. */
export function liveFrame(texts: FigureTexts, height: number, belowAxes: number, left: number): JsonObject {
  const room = frameRoom(texts);
  const sub = room.subtitle.map(plotlyText).join("<br>");
  return {
    height,
    autosize: true,
    paper_bgcolor: "#ffffff",
    plot_bgcolor: "#ffffff",
    font: { family, size: 12, color: ink },
    title: {
      text: `<b>${room.title.map(plotlyText).join("<br>")}</b><br><span style="font-size:12px;color:${softInk}">${sub}</span>`,
      font: { size: 15 },
      x: 0,
      xref: "container",
      xanchor: "left",
      y: 1 - 28 / height,
      yref: "container",
      yanchor: "top",
      pad: { l: 12 },
    },
    showlegend: false,
    annotations: belowLines(room.lines, belowAxes, left),
  };
}

function belowLines(lines: readonly string[], belowAxes: number, left: number): JsonObject[] {
  if (lines.length === 0) return [];
  const place = { xref: "paper", x: 0, xanchor: "left", xshift: 12 - left, yref: "paper", y: 0, yanchor: "top" };
  const text = lines.map(plotlyText).join("<br>");
  return [
    { ...place, yshift: -belowAxes - 4, text, showarrow: false, align: "left", font: { size: 12, color: softInk } },
  ];
}

/** An annotation by plain words at a place of the plot's box, moved by pixels. */
export function word(text: string, x: number, y: number, more: JsonObject = {}): JsonObject {
  return { text, xref: "paper", x, yref: "paper", y, showarrow: false, font: { size: 11, color: softInk }, ...more };
}
