import type { SurfaceSource } from "../form/places.js";
import type { Feed, Force, Length, Power, Time } from "../quantity/index.js";
import type { Input, Measured } from "../uncertainty/index.js";
import type { Kienzle } from "./kienzle.js";
import type { PlateMaterialName } from "./plate-material.js";
import type { FacingJob } from "./program-job.js";
import type { EdgeMaterial } from "./speed-range.js";

/** a length with its doubt, as an input or an earlier result */
export type DoubtfulLength = Input<"length"> | Measured<"length">;

/** What `facing.cuttingConditions` is given. */
export interface ConditionsInput {
  /** speed, feed, step-over, rounds and plate, as the program is written from */
  readonly job: FacingJob;
  /** the plate's top as it lies, relative to travel */
  readonly plateTop: SurfaceSource;
  readonly material: PlateMaterialName;
  readonly edge: EdgeMaterial;
  /** of the plate's metal, from a table with its source */
  readonly specificForce: Kienzle;
  /** limits of the specific force as a share of it, above 0; 0.2 where it is not given: tables differ by 5 to 20 %, a worn edge by more */
  readonly forceWithin?: number;
  /** upward share of the cutting force, from and to; 0.2 to 0.6 where it is not given (common practice, no source) */
  readonly upward?: readonly [from: number, to: number];
  readonly motor: { readonly power: Power; readonly efficiency: number };
  /** how far the spindle gives way at the cutter against the table, pushed up by a known force: read with an indicator */
  readonly yields: { readonly by: DoubtfulLength; readonly under: Force };
  /** a slender holder below the spindle's nose: its lean raises the rim. Left out where the push was made at the rim */
  readonly holder?: { readonly overhang: Length; readonly diameter: Length };
  /** rate of the rapids */
  readonly rapid: Feed;
  /** each stop for chips and checks */
  readonly pause: Time | Input<"time"> | Measured<"time">;
  /** wait at cutting speed before the first cut, from the warm-up fit (`heat.settling(…).waitUntilRate(…).time`) */
  readonly warmUp?: Measured<"time">;
}
