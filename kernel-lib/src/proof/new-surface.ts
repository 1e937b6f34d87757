import { type Verdict, verdict } from "../conformity/index.js";
import type { FlatnessTolerance } from "../decision/index.js";
import { needSource } from "../decision/setting.js";
import { measuringCautions } from "../facing/index.js";
import { type Flatness, flatness, relativeWords, type SurfaceSource } from "../form/index.js";
import { MeasurementError } from "../measurement-error.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import type { Surface } from "../survey/surface.js";
import { caveatSentences } from "../uncertainty/caveat.js";
import type { Settled } from "./settled.js";

export interface NewSurfaceInput {
  /** what was there before: the table, or the surface before it was ground */
  readonly before: SurfaceSource;
  /** the new surface: a plate faced in place, a ground table */
  readonly after: SurfaceSource;
  readonly tolerance: FlatnessTolerance;
  /** the new surface surveyed without the travel: by a level (gravity) or against a straightedge (artefact) */
  readonly check?: SurfaceSource;
  /** two surveys half an hour apart, the second of them the one that is judged */
  readonly settled?: Settled;
  /** seed of the simulated bias of the figures */
  readonly seed?: number;
}

/** A new surface against the one it replaces, each by its own form; made by `proof.newSurface`. */
export class NewSurface {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly verdict: Verdict<"length">;
  readonly checkVerdict: Verdict<"length"> | undefined;
  readonly cautions: readonly string[] = measuringCautions;

  /** @internal made by `newSurface` */
  constructor(
    readonly before: Flatness,
    readonly after: Flatness,
    readonly check: Flatness | undefined,
    readonly tolerance: FlatnessTolerance,
    readonly settled: Settled | undefined,
  ) {
    this.verdict = verdict(after.minimumZone.corrected, tolerance);
    this.checkVerdict = check ? verdict(check.minimumZone.corrected, tolerance) : undefined;
    Object.freeze(this);
  }

  /** Flatter than what was there before, for certain: beyond 1.645 u of the difference, the errors of the gauge taken as
   * independent, which is the wider. */
  get flatter(): "for certain" | "not for certain" | "less flat for certain" {
    const [a, b] = [this.before, this.after].map(({ minimumZone: { corrected } }) => corrected);
    const gained = a!.in("um") - b!.in("um");
    const guard = 1.6449 * Math.hypot(a!.standardUncertainty.in("um"), b!.standardUncertainty.in("um"));
    if (gained > guard) return "for certain";
    return -gained > guard ? "less flat for certain" : "not for certain";
  }

  /** What this survey can't prove; undefined where it was not taken against the machine's own travel. */
  get selfReference(): string | undefined {
    if (this.after.surface.frame.relativeTo !== "travel") return undefined;
    return "one and the same travel cut this surface and measured it: the survey proves that the surface is parallel to that travel, not that it is flat; where the travel is bent the surface is bent with it and no reading from the spindle shows it";
  }

  /** The check to make, or what it said. */
  get independent(): string {
    const { check, checkVerdict } = this;
    if (check && checkVerdict) return `independent check ${check.relative} (${check.surface.name}): ${checkVerdict}`;
    return this.selfReference
      ? "make one check that does not use the travel: a straightedge on the plate, read, turned over and read again; or a level walked along and across it"
      : "the survey itself does not use the travel";
  }

  /** Whether it had come to rest when it was surveyed. */
  get rest(): string {
    if (this.settled) return this.settled.toString();
    return "not shown to have settled: a verdict waits until two surveys half an hour apart agree (proof.settled)";
  }

  /** What is open in the health checks of the surveys compared; the check's own stands in `independent`. */
  get caveats(): readonly string[] {
    return caveatSentences([this.before.surface.caveat, this.after.surface.caveat]);
  }

  /** where the verdict holds, and no further */
  readonly holds =
    "on this table, at this torque of the screws, at this temperature, at the places probed; taken off and put back it is to be surveyed again";

  toString(): string {
    const line = ({ surface, minimumZone: { corrected } }: Flatness) => `${surface.name} ${corrected}`;
    return [
      `${this.verdict.decision}, ${relativeWords(this.after.surface.frame.relativeTo)}: minimum zone ${line(this.before)}, ${line(this.after)} against ${this.tolerance.upper.text()} (${this.tolerance.source})`,
      `flatter than before: ${this.flatter}`,
      ...(this.selfReference ? [this.selfReference] : []),
      this.independent,
      this.rest,
      `holds ${this.holds}`,
      ...this.caveats,
    ].join("; ");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A new surface (a plate faced in place, a ground table) against what was there before: each map's own form, never place
 * by place; the verdict on the new one by the decision rule; and what the survey can't prove because the machine that cut
 * the surface measured it.
 *
 * @throws MeasurementError `two-frames`, `same-reference`, `settled`, `tolerance`, `tolerance-source` and what `form.flatness` refuses
 * @see ISO 14253-1:2017 (from memory), ISO 12781-1:2011 (from public summaries)
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = (name, bow) => ({ name, frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(2) }), places: [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 50 * i, yMm: 50 * j, zUm: bow * (i - 1.5) ** 2, count: 2 }))), noise: { standardUncertaintyUm: 0.3, degreesOfFreedom: 12 } });
 * proof.newSurface({ before: map("table", 9), after: map("plate", 0.1), tolerance: { upper: um(10), source: "the job" } }).verdict.decision // => "conforms"
 */
export function newSurface({ before, after, tolerance, check, settled, seed = 1 }: NewSurfaceInput): NewSurface {
  needSource("proof.newSurface", tolerance);
  const [old, fresh, other] = [before, after, check].map((source) => source && flatness(source, { seed }));
  const [a, b] = [old!.surface, fresh!.surface];
  if (a.frame.relativeTo !== b.frame.relativeTo) {
    throw new MeasurementError(
      "two-frames",
      `proof.newSurface: ${a.name} is relative to ${a.frame.relativeTo} and ${b.name} to ${b.frame.relativeTo}; their forms can't be judged against each other, survey both the same way and give the other survey as check`,
    );
  }
  if (other?.surface.frame.relativeTo === "travel") {
    throw new MeasurementError(
      "same-reference",
      `proof.newSurface: the check ${other.surface.name} is relative to travel; a check that uses the travel proves nothing of it, survey with a level or a straightedge`,
    );
  }
  if (settled && !isSameSurvey(settled.difference.after, b)) {
    throw new MeasurementError(
      "settled",
      `proof.newSurface: the surveys that were to settle end with ${settled.difference.after.name}, and ${b.name} is judged; judge the second of the two`,
    );
  }
  return new NewSurface(old!, fresh!, other, tolerance, settled);
}

/** by name and heights: a survey read twice from one sheet is the same */
function isSameSurvey(a: Surface, b: Surface): boolean {
  return (
    a.name === b.name &&
    a.places.length === b.places.length &&
    a.places.every((place, i) => place.label === b.places[i]!.label && place.zUm === b.places[i]!.zUm)
  );
}
