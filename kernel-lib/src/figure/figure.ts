import type { display, MimeBundle } from "../quantity/display-member.js";
import type { UnitSystem } from "../quantity/kinds.js";
import { contentHash } from "./hash.js";
import { type PrintUnits, printUnits } from "./print-units.js";

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

/** Draws a picture with its lengths in the units given. */
export type FigureDraw = (units: PrintUnits) => FigureContent;

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
  readonly #draw: FigureDraw | undefined;
  readonly #system: UnitSystem;

  constructor(content: FigureContent, draw?: FigureDraw, system: UnitSystem = "metric") {
    this.texts = content.texts;
    this.alt = content.alt;
    this.data = content.data;
    this.layout = content.layout;
    this.still = content.still;
    this.#draw = draw;
    this.#system = system;
    this.id = contentHash(JSON.stringify([content.data, content.layout, content.still]));
  }

  /**
   * A picture that can be drawn in either system of units; as it stands, in metric ones.
   *
   * @param draw makes the picture; it is given the units for places (mm or in) and for heights (µm or thou)
   * @example
   * figure.Figure.drawn(({ place, height }) => figure.bars({ title: "rim", axis: `height/${height.symbol}`, rows: [{ label: `at ${place.of(254)} ${place.symbol}`, value: height.of(50.8), text: "2" }] })).shownIn("inch").alt // => "Bars, rim, height/thou: at 10 in 2."
   */
  static drawn(draw: FigureDraw): Figure {
    return new Figure(draw(printUnits("metric")), draw);
  }

  /**
   * The same picture with its lengths in the units of that system: axes, ticks, hover, colour bar and words. A picture
   * whose axis was named by hand, as that of `bars` and `histogram`, stays as it is.
   *
   * @param system `"inch"` or `"metric"`; a notebook fills in the one of `displayIn`
   * @example
   * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
   * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(4) });
   * const plan = survey.plan({ table: { x: [mm(0), mm(400)], y: [mm(0), mm(150)] }, pitch: mm(50), frame, gauge: dial });
   * figure.planMap(plan).shownIn("inch").texts.axes.join() // => "x/in,y/in"
   */
  shownIn(system: UnitSystem): Figure {
    if (this.#draw === undefined || system === this.#system) return this;
    return new Figure(this.#draw(printUnits(system)), this.#draw, system);
  }

  toString(): string {
    const { title, subtitle, lines } = this.texts;
    return [`figure: ${title}`, subtitle, this.alt, ...lines].filter((line) => line !== "").join("\n");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}
