import type { Surface } from "../survey/surface.js";

/** Heights after a reference was taken out, one a place of the surface. */
export interface Residuals {
  readonly heightsUm: readonly number[];
  /** as it stands in the title: "above the least-squares plane" */
  readonly reference: string;
}

/** A caution's text, as plans and decisions carry it. */
export interface FigureCaution {
  readonly title: string;
  readonly lines: readonly string[];
}

export interface MapOptions {
  /** heights to draw in place of those of the surface itself */
  readonly residuals?: Residuals;
  /** in place of the surface's name */
  readonly title?: string;
  /** colours and heights run from minus to plus this many µm; give two figures the same to compare them */
  readonly limitUm?: number;
  readonly cautions?: readonly FigureCaution[];
  /** what limits the picture: "open sheet", "the band holds for form that varies slowly over a pitch" */
  readonly notes?: readonly string[];
  /** what the spindle probes, what the cutter reaches; drawn as dashed outlines, places in the sheet's coordinates */
  readonly outlines?: readonly Outline[];
}

export interface Outline {
  readonly name: string;
  readonly cornersMm: readonly (readonly [x: number, y: number])[];
}

const against = {
  travel: "against the machine's own travel",
  gravity: "against gravity",
  artefact: "against the artefact",
};

/** Title and subtitle of heights: a map against travel always says so. */
export function heightTitles(surface: Surface, options: MapOptions, more: readonly string[]): [string, string] {
  const frame = against[surface.frame.relativeTo];
  const heights =
    options.residuals === undefined ? `heights ${frame}` : `heights ${options.residuals.reference}, ${frame}`;
  return [options.title ?? surface.name, [heights, ...more].join("; ")];
}

/** Lines below a picture: cautions first. */
export function figureLines(options: MapOptions): readonly string[] {
  const cautions = (options.cautions ?? []).map(({ title, lines }) => `Caution: ${title}. ${lines.join(" ")}`.trim());
  return [...cautions, ...(options.notes ?? [])];
}

/** Decimals of a height printed in µm: two digits of its random part, but no more than a tenth of what the gauge resolves. */
export function heightDecimals(surface: Surface): number {
  const u = surface.noise.standardUncertaintyUm;
  const resolution = surface.gauge.resolution.in("um");
  return Math.min(2, Math.max(0, 1 - Math.floor(Math.log10(Math.max(u, resolution)) + 1e-9)));
}
