import { Verdict } from "../conformity/index.js";
import { MeasurementError } from "../measurement-error.js";
import { display, type Kind, type MimeBundle, Quantity } from "../quantity/index.js";
import { Measured } from "../uncertainty/index.js";

/** A stated value whose interval is not of the form value ± U, such as a prediction from simulated cases. */
export interface StatedInterval<K extends Kind> {
  readonly estimate: Quantity<K>;
  readonly low: Quantity<K>;
  readonly high: Quantity<K>;
}

interface ClaimOf<K extends Kind> {
  readonly what: string;
  /** where it was stated: a chapter, a report */
  readonly where?: string;
  /** a value with its uncertainty, an interval, or a verdict on a tolerance */
  readonly stated: Measured<K> | StatedInterval<K> | Verdict<K>;
  /** the value known better */
  readonly reference: Quantity<K>;
}

/** Something that was stated, and the value known better. */
export type Claim = { [K in Kind]: ClaimOf<K> }[Kind];

export type Score = "hit" | "miss" | "right" | "wrong" | "not decided";

/** One claim held against its reference. */
export interface ScoredClaim {
  readonly what: string;
  readonly where: string;
  readonly stated: string;
  readonly reference: string;
  /** by how many standard uncertainties the stated value lies above the reference; missing for intervals and verdicts */
  readonly timesU: number | undefined;
  /** hit: the 95 % interval holds the reference */
  readonly score: Score;
}

/** What was stated, held against what is known better. */
export class AgainstReference {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly hits: number;
  readonly misses: number;
  readonly wrongVerdicts: number;

  /** @internal made by `againstReference` */
  constructor(readonly claims: readonly ScoredClaim[]) {
    const count = (score: Score) => claims.filter((claim) => claim.score === score).length;
    this.hits = count("hit");
    this.misses = count("miss");
    this.wrongVerdicts = count("wrong");
    Object.freeze(this);
  }

  toString(): string {
    const all = this.hits + this.misses;
    const intervals =
      all === 0
        ? []
        : [
            `${this.hits} of ${all} stated intervals hold the reference (95 of 100 is what they claim)`,
            ...this.farthest(),
          ];
    const verdicts = this.claims.filter(
      ({ score }) => score === "right" || score === "wrong" || score === "not decided",
    );
    const right = verdicts.filter(({ score }) => score === "right").length;
    const open = verdicts.filter(({ score }) => score === "not decided").length;
    const judged =
      verdicts.length === 0 ? [] : [`verdicts: ${right} right, ${this.wrongVerdicts} wrong, ${open} not decided`];
    return [...intervals, ...judged].join("; ");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private farthest(): string[] {
    const rated = this.claims.filter(({ timesU }) => timesU !== undefined);
    const [first] = [...rated].sort((a, b) => Math.abs(b.timesU!) - Math.abs(a.timesU!));
    return first ? [`farthest off: ${first.what}, ${Math.abs(first.timesU!).toFixed(1)} u`] : [];
  }
}

/**
 * Holds what was stated against values known better: does each 95 % interval hold its reference, how many standard uncertainties
 * is it off, and are the verdicts right?
 *
 * The reference is taken as exact; where it is not, its own uncertainty belongs into the difference. Claims that share a gauge are
 * no independent trials: a few rows tell little about the share of hits.
 *
 * @throws MeasurementError `claims` where there are none, or a claim has no uncertainty
 * @see ISO 13528, zeta score, with a reference taken as exact (from memory)
 * @example
 * const play = uncertainty.Measured.from(input.normal({ label: "play", estimate: um(13), standardUncertainty: um(2) }));
 * `${proof.againstReference([{ what: "play of X", stated: play, reference: um(14) }])}`
 * // => "1 of 1 stated intervals hold the reference (95 of 100 is what they claim); farthest off: play of X, 0.5 u"
 */
export function againstReference(claims: readonly Claim[]): AgainstReference {
  if (claims.length === 0) {
    throw new MeasurementError("claims", "againstReference: no claim is given; give at least one with its reference");
  }
  return new AgainstReference(claims.map((claim) => scored(claim as ClaimOf<Kind>)));
}

function scored({ what, where = "", stated, reference }: ClaimOf<Kind>): ScoredClaim {
  const common = { what, where };
  if (stated instanceof Verdict) {
    return {
      ...common,
      stated: stated.decision,
      reference:
        stated.measured.standardUncertainty.si > 0
          ? reference.textTo(stated.measured.standardUncertainty)
          : reference.text(),
      timesU: undefined,
      score: judged(stated, reference),
    };
  }
  if (stated instanceof Measured) {
    const u = stated.standardUncertainty.si;
    if (!(u > 0)) {
      throw new MeasurementError(
        "claims",
        `againstReference: ${what} is stated without an uncertainty; state one, or leave the claim out`,
      );
    }
    const [low, high] = stated.interval();
    return {
      ...common,
      stated: stated.text(),
      reference: reference.textTo(stated.standardUncertainty),
      timesU: (stated.value.si - reference.si) / u,
      score: low.si <= reference.si && reference.si <= high.si ? "hit" : "miss",
    };
  }
  const { estimate, low, high } = stated;
  // as finely as a quarter of the interval, about one u, is told
  const told = (value: Quantity<Kind>) =>
    high.si > low.si ? value.textTo(Quantity.fromSi(value.kind, (high.si - low.si) / 4) as never) : value.text();
  return {
    ...common,
    stated: `${told(estimate)} (${told(low)} to ${told(high)})`,
    reference: told(reference),
    timesU: undefined,
    score: low.si <= reference.si && reference.si <= high.si ? "hit" : "miss",
  };
}

function judged({ decision, tolerance }: Verdict<Kind>, { si }: Quantity<Kind>): Score {
  const { lower, upper } = tolerance as { readonly lower?: Quantity<Kind>; readonly upper?: Quantity<Kind> };
  const within = (lower === undefined || lower.si <= si) && (upper === undefined || si <= upper.si);
  if (decision === "conforms") return within ? "right" : "wrong";
  if (decision === "does not conform") return within ? "wrong" : "right";
  return "not decided";
}
