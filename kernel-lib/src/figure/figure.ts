import type { display, MimeBundle } from "../quantity/display-member.js";
import { contentHash } from "./hash.js";

/** What JSON can hold. */
export type Json = string | number | boolean | null | readonly Json[] | JsonObject;
export interface JsonObject {
  readonly [key: string]: Json;
}

/** Every word a figure says. The live and the still picture carry the same ones; a test holds them to it. */
export interface FigureTexts {
  readonly title: string;
  /** below the title: what the heights are against, the stated exaggeration */
  readonly subtitle: string;
  /** "heights × 2000", where a height is drawn as a height; part of the subtitle */
  readonly exaggeration?: string;
  /** quantity over unit: "x/mm", "height/µm" */
  readonly axes: readonly string[];
  /** FRONT, BACK, LEFT, RIGHT, where a place is drawn */
  readonly edges: readonly string[];
  /** cautions first, then what limits the picture; below it, a line each */
  readonly lines: readonly string[];
  /** figures that stand in the picture itself */
  readonly marked: readonly string[];
}

export interface FigureContent {
  readonly texts: FigureTexts;
  /** the picture in words, for a reader who does not see it */
  readonly alt: string;
  readonly data: readonly JsonObject[];
  readonly layout: JsonObject;
  /** SVG */
  readonly still: string;
}

/** A picture: live where scripts run, still everywhere else, both from the same data. */
export class Figure implements FigureContent {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** the same content has the same id */
  readonly id: string;
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly data: readonly JsonObject[];
  readonly layout: JsonObject;
  readonly still: string;

  constructor(content: FigureContent) {
    this.texts = content.texts;
    this.alt = content.alt;
    this.data = content.data;
    this.layout = content.layout;
    this.still = content.still;
    this.id = contentHash(JSON.stringify([content.data, content.layout, content.still]));
  }

  toString(): string {
    const { title, subtitle, lines } = this.texts;
    return [`figure: ${title}`, subtitle, this.alt, ...lines].filter((line) => line !== "").join("\n");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}
