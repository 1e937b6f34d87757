import type { Caveat } from "../uncertainty/index.js";
import type { Gauge } from "./gauge.js";

/** What the heights of a map are relative to: *travel* (indicator in the spindle, table moves), *gravity* (level, table
 * still), *artefact* (straightedge, surface plate). Maps of two different frames are never added, subtracted or judged
 * against each other. */
export type RelativeTo = "travel" | "gravity" | "artefact";

/** An edge of the map: where x or y is least (`-`) or greatest (`+`). */
export type Edge = "x-" | "x+" | "y-" | "y+";

/** a direction seen by the operator at FRONT */
export type Toward = "right" | "left" | "back" | "front";

/** The frame of a map, as its sheet states it. Place = the stylus on the table. */
export interface Frame {
  readonly relativeTo: RelativeTo;
  /** the edge at which the operator stands, marked FRONT */
  readonly front: Edge;
  /** which way +X and +Y point, seen by the operator at FRONT */
  readonly plusX: Toward;
  readonly plusY: Toward;
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

/** What the datum returns did to the heights, and the doubt it leaves in all of them together. */
export interface SurfaceDrift {
  readonly model: "not tested" | "none seen" | "straight line" | "settling" | "between returns";
  /** one sentence: what was seen and what was done */
  readonly statement: string;
  /** Doubt that the heights share: each mode holds one value per place, in µm, for one standard uncertainty of an
   * independent cause. Covariance of two heights = sum over the modes of mode[i] × mode[j]. */
  readonly modesUm: readonly (readonly number[])[];
}

/** A map of heights, ready for a fit: what `survey.surface()` gives and the form folder takes. */
export interface Surface {
  /** where the readings came from, for titles and messages */
  readonly name: string;
  readonly frame: Frame;
  readonly gauge: Gauge;
  readonly places: readonly SurfacePlace[];
  /** random part of one place's height, from repeats, not below what the resolution of the gauge allows */
  readonly noise: {
    readonly standardUncertaintyUm: number;
    readonly degreesOfFreedom: number;
    /** where the figure comes from, in words */
    readonly source?: string;
  };
  readonly drift?: SurfaceDrift;
  /** everything done between the readings and these heights, a sentence each */
  readonly done?: readonly string[];
  /** what the health check of the survey asks for before figures from this map are relied on */
  readonly caveat?: Caveat | undefined;
  /** "open", "closed on 2026-10-17", "changed since it was closed on 2026-10-17" */
  readonly sheetState?: string;
}
