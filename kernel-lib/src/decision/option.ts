import type { Verdict } from "../conformity/index.js";
import type { Area } from "../facing/index.js";
import type { Length } from "../quantity/index.js";
import type { Effort } from "./effort.js";

/** The options there are, in the order they are listed: what costs least and undoes other errors comes first. */
export const optionKeys = ["level", "leave", "area", "stone", "tram", "correct", "plate", "scrape", "regrind"] as const;
/** the reader's own stand under "own: " and their name */
export type OptionKey = (typeof optionKeys)[number] | `own: ${string}`;

/** A length that is expected, with its 95 % interval. */
export interface PredictedLength {
  readonly estimate: Length;
  /** ends of the 95 % interval */
  readonly low: Length;
  readonly high: Length;
}

/** Flatness that is expected after an option, in the frame of the map: the median of the simulated minimum zones. */
export interface PredictedFlatness extends PredictedLength {
  /** chance that the flatness is within the tolerance, 0 to 1 */
  readonly chanceToMeet: number;
  /** chance that this gauge can prove it afterwards with a guard of 1.645 u, 0 to 1 */
  readonly chanceToProve: number;
  /** the smallest tolerance that is met with a chance of 95 % */
  readonly reaches: Length;
}

/** Predicted height of one place after an option. */
export interface PredictedHeight {
  readonly label: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly zUm: number;
}

/** conforms: chance of at least 95 %; does not conform: at most 5 %; can't be judged: no prediction could be made */
export type OptionVerdict = Verdict<"length">["decision"] | "can't be judged";

/** One thing that could be done, with what it would do to the map and to a part. */
export interface Option {
  readonly key: OptionKey;
  readonly name: string;
  readonly prediction?: PredictedFlatness;
  /** @internal the flatness figures that the prediction was made of, one a draw, µm */
  readonly drawnUm?: readonly number[];
  /** likely heights afterwards, of the table or of the plate on it; absent where they can't be predicted */
  readonly map?: readonly PredictedHeight[];
  /** the area the prediction holds for, where it is less than the whole map */
  readonly area?: Area;
  readonly verdict: OptionVerdict;
  /** why there is no prediction, or what it assumes */
  readonly assumes: string;
  /** what a straightedge or a level would say of the table or plate and of a face cut on it: it does not know the travel */
  readonly byStraightedge: string;
  /** what is left on a part that is clamped on it and faced */
  readonly errorOnPart: string;
  /** the same as a length, for a stiff part of the size given; absent where it is not known */
  readonly partOutOfParallel?: PredictedLength;
  /** form of a face that is cut, which is that of the travel; absent where no second survey tells it from the table */
  readonly errorOfForm?: PredictedFlatness;
  readonly effort: Effort;
  readonly canBeUndone: string;
  readonly risks: string;
  readonly cautions: readonly string[];
}

/** An option of the reader's own, with a model of what it does to a height. */
export interface OwnOption {
  readonly name: string;
  /** what the model takes for granted */
  readonly assumes: string;
  readonly canBeUndone: string;
  readonly risks: string;
  readonly cautions?: readonly string[];
  readonly effort?: Effort;
  /** height of a place afterwards; `even` gives even numbers from 0 to 1 for what is not known */
  readonly after: (place: PredictedHeight, even: () => number) => Length;
}
