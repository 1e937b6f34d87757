import type { Length, Slope } from "../quantity/index.js";
import type { Frame, SheetFile } from "../survey/index.js";
import type { Measured } from "../uncertainty/index.js";

/** A place on which a foot of the level stands. */
export interface LevelPlace {
  readonly label: string;
  readonly xMm: number;
  readonly yMm: number;
}

/** One reading of a level or an autocollimator mirror: the inclination from one foot to the other. */
export interface LevelReading {
  /** name of the line it belongs to */
  readonly line: string;
  /** label of the place under the foot away from the mark of the level */
  readonly from: string;
  /** label of the place under the foot at the mark; turned end for end, the level has from and to exchanged */
  readonly to: string;
  /** positive where `to` stands higher */
  readonly inclination: Slope;
  /** distance of the feet */
  readonly foot: Length;
}

/** A level or an autocollimator as its owner knows it. */
export interface LevelInstrument {
  readonly name?: string;
  /** the smallest step that is read */
  readonly resolution: Slope;
  /** ± over the range used, its zero apart */
  readonly maximumPermissibleError: Slope;
  /** how far repeats of one reading scatter, from a trial on its own */
  readonly repeatability?: { readonly standardDeviation: Slope; readonly degreesOfFreedom: number };
}

/**
 * What the zero of the level is taken for: one unknown of the whole survey, one of each line, one of each line that
 * drifts evenly while the line is read, or known before.
 */
export type LevelZero = "one" | "a line" | "a line, drifting" | Measured<"slope">;

/** A survey by level: places and readings in any order and any layout. */
export interface LevelSurvey {
  readonly name: string;
  /** which edge is FRONT, where +X and +Y point, and what the heights are relative to: gravity, for a level on a table that stands still */
  readonly frame: Frame;
  readonly instrument: LevelInstrument;
  readonly places: readonly LevelPlace[];
  readonly readings: readonly LevelReading[];
  /** one unknown where left out */
  readonly zero?: LevelZero;
  /** "not wanted": a zero that cannot be told from a tilt is let go into it, and no tilt is stated; wanted where left out */
  readonly tilt?: "wanted" | "not wanted";
  /** lines of the sheet that say something else: workshop, date, how it was read */
  readonly notes?: readonly string[];
  /** readings that were taken out of it, each with its reason */
  readonly leftOut?: readonly string[];
  /** the sheet that it was read from */
  readonly file?: SheetFile | undefined;
}
