import { display, type MimeBundle } from "../quantity/index.js";
import type { Measured } from "../uncertainty/index.js";
import { driftFinding, gaugeFinding, gibFinding, gravityFinding } from "./diagnosis-doubts.js";
import type { AxisFinding } from "./diagnosis-finding.js";
import { periodicFindings, pitchFindings, playFinding } from "./diagnosis-parts.js";
import type { LiftUnderPull } from "./lift-under-pull.js";
import type { DrivePeriods } from "./periods.js";
import type { Positioning } from "./positioning.js";
import type { SmallMoves } from "./small-moves.js";
import { type SystematicPart, systematicPart } from "./systematic-part.js";

export interface DiagnosisOptions extends DrivePeriods {
  /** a ladder of small moves of the same axis */
  readonly ladder?: SmallMoves;
  /** the same under a known upward pull, for an axis on which gravity acts */
  readonly ladderUnderPull?: SmallMoves;
  /** both held against each other, which also tells where the pull is more than the weight */
  readonly lift?: LiftUnderPull;
  /** how far the slide turns when its direction is reversed, by a level or two gauges on it: what a loose gib does */
  readonly twistOnReversal?: Measured<"slope">;
}

/** What an evaluated test is held against. */
export interface DiagnosisGiven extends DiagnosisOptions {
  readonly found: Positioning;
  readonly part: SystematicPart;
}

/** Why an axis does not go where it is told: one finding a cause, each with its evidence. */
export class Diagnosis {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly findings: readonly AxisFinding[];
  readonly part: SystematicPart;
  /** how often a sound axis would be told of one cause at least that it does not have, at most */
  readonly falseAlarm: number;

  /** @internal made by `diagnosis` */
  constructor(
    readonly found: Positioning,
    options: DiagnosisOptions,
  ) {
    this.part = systematicPart(found.test, options);
    const given: DiagnosisGiven = { ...options, found, part: this.part };
    this.findings = [
      playFinding(given),
      ...pitchFindings(given),
      ...periodicFindings(given),
      driftFinding(given),
      gaugeFinding(given),
      gibFinding(given),
      ...(found.test.vertical ? [gravityFinding(given)] : []),
    ];
    const tested = this.findings.filter(({ chance }) => chance !== undefined).length;
    this.falseAlarm = 1 - 0.99 ** tested;
    Object.freeze(this);
  }

  /** Those of one verdict. */
  of(verdict: AxisFinding["verdict"]): readonly AxisFinding[] {
    return this.findings.filter((finding) => finding.verdict === verdict);
  }

  toString(): string {
    const listed = (verdict: AxisFinding["verdict"]) => {
      const causes = this.of(verdict).map(({ cause }) => cause);
      return causes.length === 0 ? [] : [`${verdict}: ${causes.join(", ")}`];
    };
    const words = (["seen", "suspected", "not seen", "can't be told"] as const).flatMap(listed);
    return `${this.found.test.name}: ${words.join("; ")}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Why an axis does not go where it is told, in words with their evidence: play, pitch error even and uneven, periodic error,
 * drift during the test, a gauge at its limit, a loose gib, what gravity hides. Each has the chance that scatter, gauge and
 * reference alone would show as much, or the reason why it can't be told.
 *
 * Seen: a chance below 1 in 100; suspected: below 1 in 10.
 *
 * @throws MeasurementError `period`, `too-few-targets`
 * @example
 * const readings = [1, 2, 3].flatMap((run) => [
 *   ...[0, 41, 83, 120].map((at) => ({ target: mm(at), direction: "up", run, deviation: um((run * at) % 2) })),
 *   ...[120, 83, 41, 0].map((at) => ({ target: mm(at), direction: "down", run, deviation: um(19 + ((run + at) % 2)) })),
 * ]);
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
 * const test = axis.positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "blocks" } });
 * axis.diagnosis(axis.positioning(test)).findings[0].verdict // => "seen"
 */
export function diagnosis(found: Positioning, options: DiagnosisOptions = {}): Diagnosis {
  return new Diagnosis(found, options);
}
