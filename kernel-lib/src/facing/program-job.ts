import type { Feed, Length, RotationalSpeed, Time } from "../quantity/index.js";
import type { Frame } from "../survey/surface.js";
import type { Measured } from "../uncertainty/index.js";
import type { Area } from "./reach.js";

/** The zero shifts of ISO 6983; a program states one of them, once. */
export type WorkOffset = "G54" | "G55" | "G56" | "G57" | "G58" | "G59";

/** Once over the plate at one depth. */
export interface FacingRound {
  /** below Z0, the touch-off */
  readonly depth: Length;
  /** passes lie between those of the round before at the same depth, so that the ridges become lower and the spring that
   * it left is cut */
  readonly offsetByHalfStep?: boolean;
}

/** A screw head under the cutter. */
export interface FacingScrew {
  readonly label: string;
  /** in the coordinates of the map */
  readonly x: Length;
  readonly y: Length;
  readonly headDiameter: Length;
  /** height of the head's top over Z0: negative where it lies below the plate's top */
  readonly headTop: Length;
}

/** Something on the table that the cutter must not meet: a stop, a clamp, a vice. */
export interface FacingObstacle {
  readonly name: string;
  readonly area: Area;
  /** height of its top over Z0 */
  readonly top: Length;
}

/** One round part above the cutter: as wide as the largest circle it turns in. */
export interface HolderPart {
  /** "arbor", "spindle nose" */
  readonly name: string;
  readonly diameter: Length;
  /** height of its underside over the tip of the cutter */
  readonly above: Length;
}

/**
 * All that a facing program is written from and held against: what lies where, and what is meant to happen.
 *
 * Places are in the coordinates of the map (tool relative to work, ISO 841); heights are over Z0, the touch-off on the
 * highest place of the plate.
 */
export interface FacingJob {
  readonly name: string;
  /** of the map that the places are counted in */
  readonly frame: Frame;
  /** where the spindle's centre can go */
  readonly travel: Area;
  /** how low and how high the cutter can go, over Z0 */
  readonly travelZ: { readonly from: Length; readonly to: Length };
  /** outline of the plate: what is faced */
  readonly plate: Area;
  /** where the work offset has its zero, in the coordinates of the map */
  readonly zero: { readonly x: Length; readonly y: Length };
  readonly workOffset: WorkOffset;
  readonly cutter: {
    readonly diameter: Length;
    readonly teeth: number;
    /** marked on the cutter; none turns faster */
    readonly greatestSpeed: RotationalSpeed;
    /** what is wider than the cutter above it, from below: holder, spindle nose, guard; each counts from its height upwards */
    readonly holder?: readonly HolderPart[];
  };
  readonly speed: RotationalSpeed;
  readonly feedPerTooth: Length;
  /** feed of the way down to depth, outside the plate */
  readonly feedDown: Feed;
  readonly stepOver: Length;
  /** how far the rim runs clear of the plate on every side */
  readonly runOut: Length;
  readonly feedAlong: "x" | "y";
  /** from the first to the last, none shallower than the one before */
  readonly rounds: readonly FacingRound[];
  /** the cutter never goes below this height over Z0 */
  readonly floor: Length;
  /** height over Z0 at which the cutter goes sideways, above all that lies on the plate */
  readonly clearance: Length;
  /** height over Z0 at which it starts and ends, above all that lies on the table */
  readonly retract: Length;
  /** wait between the start of the spindle and the first feed */
  readonly spinUp: Time;
  readonly screws: readonly FacingScrew[];
  readonly obstacles?: readonly FacingObstacle[];
  /** what has to stay between the cutter and a head or an obstacle */
  readonly margin: Length;
  /** conventional where nothing is said; climb needs the measured play of the feed axis */
  readonly milling?: "conventional" | "climb";
  /** measured reversal error of the feed axis */
  readonly play?: Measured<"length">;
}
