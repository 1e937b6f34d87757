import type { Gauge } from "./gauge.js";

/** What the heights of a map are relative to: *travel* (indicator in the spindle, table moves), *gravity* (level, table
 * still), *artefact* (straightedge, surface plate). Maps of two different frames are never added, subtracted or judged
 * against each other. */
export type RelativeTo = "travel" | "gravity" | "artefact";

/** An edge of the map: where x or y is least (`-`) or greatest (`+`). */
export type Edge = "x-" | "x+" | "y-" | "y+";

/** The frame of a map, as its sheet states it. Place = the stylus on the table. */
export interface Frame {
  readonly relativeTo: RelativeTo;
  /** the edge at which the operator stands, marked FRONT */
  readonly front: Edge;
  /** which way +X and +Y point, seen by the operator at FRONT */
  readonly plusX: "right" | "left" | "back" | "front";
  readonly plusY: "right" | "left" | "back" | "front";
}

/** One place of a map with its height: the mean of its readings, drift taken out. */
export interface SurfacePlace {
  /** as on the sheet: "C4" */
  readonly label: string;
  readonly xMm: number;
  readonly yMm: number;
  /** positive = the surface stands high = the plunger is pushed in */
  readonly zUm: number;
  /** how many readings the height is the mean of */
  readonly count: number;
}

/** A map of heights, ready for a fit: what `survey.surface()` gives and the form folder takes. */
export interface Surface {
  /** where the readings came from, for titles and messages */
  readonly name: string;
  readonly frame: Frame;
  readonly gauge: Gauge;
  readonly places: readonly SurfacePlace[];
  /** random part of one place's height, from repeats, not below what the resolution of the gauge allows */
  readonly noise: { readonly standardUncertaintyUm: number; readonly degreesOfFreedom: number };
}
