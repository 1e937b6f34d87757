import { display, type Length, type MimeBundle, mm, um } from "../quantity/index.js";
import { Measured } from "../uncertainty/index.js";
import { gaugeAloneOf } from "./gauge-alone.js";
import { doubtTerms, type PositioningDoubt, positioningDoubt } from "./positioning-doubt.js";
import { type PositioningFigures, positioningFigures } from "./positioning-figures.js";
import { lostMotionName, micrometres, positioningNotes, shortOfStandard } from "./positioning-notes.js";
import type { PositioningTest } from "./positioning-test.js";
import type { AxisFigure, PerfectAxis } from "./simulated-tests.js";

/** What is said of one target. */
export interface PositionFigures {
  readonly target: Length;
  readonly meanUp: Length;
  readonly meanDown: Length;
  /** standard deviations (n − 1) */
  readonly deviationUp: Length;
  readonly deviationDown: Length;
  /** B_i = mean up − mean down; plain lost motion makes it negative */
  readonly reversal: Length;
  /** R_i */
  readonly repeatability: Length;
  readonly repeatabilityUp: Length;
  readonly repeatabilityDown: Length;
}

/** How well an axis goes where it is told: the figures of ISO 230-2, each with its uncertainty. */
export class Positioning {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** A, of both directions; of one direction `accuracyUp`, `accuracyDown` */
  readonly accuracy: Measured<"length">;
  readonly accuracyUp: Measured<"length">;
  readonly accuracyDown: Measured<"length">;
  /** E */
  readonly systematic: Measured<"length">;
  readonly systematicUp: Measured<"length">;
  readonly systematicDown: Measured<"length">;
  /** M */
  readonly meanDeviation: Measured<"length">;
  /** R */
  readonly repeatability: Measured<"length">;
  readonly repeatabilityUp: Measured<"length">;
  readonly repeatabilityDown: Measured<"length">;
  /** B, the greatest reversal of all targets: noise makes it too high, so no control is set by it */
  readonly reversal: Measured<"length">;
  /** mean of B_i, with its sign */
  readonly meanReversal: Measured<"length">;
  /** what a perfect axis would be given with this gauge */
  readonly gaugeAlone: PerfectAxis;
  /** where the test is less than the standard asks for; empty where it is not */
  readonly shortOfStandard: readonly string[];
  /** @internal on plain numbers, µm */
  readonly figures: PositioningFigures;
  /** @internal */
  readonly doubt: PositioningDoubt;

  /** @internal made by `positioning` */
  constructor(
    readonly test: PositioningTest,
    seed: number,
  ) {
    const { readings, targetsMm } = test;
    this.figures = positioningFigures(
      test.targetNumbers(),
      readings.map(({ direction }) => (direction === "up" ? 0 : 1)),
      readings.map(({ deviationUm }) => deviationUm),
      targetsMm.length,
    );
    this.doubt = positioningDoubt(test, this.figures, seed);
    const [up, down] = [this.cells("up"), this.cells("down")];
    const both = [...up, ...down];
    const middle = up.map(({ at, mean }, i) => ({ at, mean: (mean + down[i]!.mean) / 2, s: 0 }));
    this.accuracy = this.spread("accuracy", both, 2);
    this.accuracyUp = this.spread("accuracyUp", up, 2);
    this.accuracyDown = this.spread("accuracyDown", down, 2);
    this.systematic = this.spread("systematic", both, 0);
    this.systematicUp = this.spread("systematicUp", up, 0);
    this.systematicDown = this.spread("systematicDown", down, 0);
    this.meanDeviation = this.spread("meanDeviation", middle, 0);
    this.repeatability = this.local("repeatability", true);
    this.repeatabilityUp = this.local("repeatabilityUp", false);
    this.repeatabilityDown = this.local("repeatabilityDown", false);
    this.reversal = this.local("reversal", true);
    this.meanReversal = this.local("meanReversal", true);
    this.gaugeAlone = gaugeAloneOf(test, seed);
    this.shortOfStandard = shortOfStandard(test);
    Object.freeze(this);
  }

  /** What limits the figures, and where an interval holds the true value more or less often than 95 times in 100. */
  get notes(): readonly string[] {
    return positioningNotes(this);
  }

  /**
   * The positive number that a control wants as lost motion: the mean of B_i with its sign turned round. On a vertical axis it is wind-up
   * and friction as it hangs, and nothing to set: the weight closes the play.
   */
  get lostMotion(): Measured<"length"> {
    return this.meanReversal.times(-1);
  }

  /** Target by target. */
  get positions(): readonly PositionFigures[] {
    const { figures } = this;
    return this.test.targetsMm.map((target, i) => ({
      target: mm(target),
      meanUp: um(figures.meanUp[i]!),
      meanDown: um(figures.meanDown[i]!),
      deviationUp: um(figures.deviationUp[i]!),
      deviationDown: um(figures.deviationDown[i]!),
      reversal: um(figures.reversals[i]!),
      repeatability: um(figures.repeatabilities[i]!),
      repeatabilityUp: um(4 * figures.deviationUp[i]!),
      repeatabilityDown: um(4 * figures.deviationDown[i]!),
    }));
  }

  toString(): string {
    const { test, accuracy, systematic, repeatability, lostMotion, gaugeAlone } = this;
    const short = this.shortOfStandard.length > 0 ? "; less than ISO 230-2 asks for" : "";
    return `${test.name}: A = ${accuracy}, E = ${systematic}, R = ${repeatability}, ${lostMotionName(test)} ${lostMotion} (mean of ${test.targetsMm.length} targets); a perfect axis would be given A ${micrometres(gaugeAlone.accuracy)}, R ${micrometres(gaugeAlone.repeatability)}${short}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private cells(direction: "up" | "down"): Cell[] {
    const { figures, test } = this;
    const [means, spreads] =
      direction === "up" ? [figures.meanUp, figures.deviationUp] : [figures.meanDown, figures.deviationDown];
    return means.map((mean, i) => ({ at: test.targetsMm[i]!, mean, s: spreads[i]! }));
  }

  /** a figure that is greatest less least over the travel: what grows with the length acts on the distance of the two */
  private spread(figure: AxisFigure, cells: readonly Cell[], k: number): Measured<"length"> {
    const top = cells.reduce((a, b) => (b.mean + k * b.s > a.mean + k * a.s ? b : a));
    const low = cells.reduce((a, b) => (b.mean - k * b.s < a.mean - k * a.s ? b : a));
    const terms = doubtTerms(this.doubt, figure, (top.at - low.at) / 1000, true);
    return Measured.of(um(this.figures[figure]), terms);
  }

  /** a figure of readings at one target */
  private local(figure: AxisFigure, acrossDirections: boolean): Measured<"length"> {
    const terms = doubtTerms(this.doubt, figure, 0, acrossDirections);
    const kept = acrossDirections ? terms : terms.filter(({ input }) => input === this.doubt.scatterOf[figure]);
    return Measured.of(um(this.figures[figure]), kept);
  }
}

interface Cell {
  readonly at: number;
  readonly mean: number;
  readonly s: number;
}

/**
 * Evaluates a positioning test: B, E, M, R, A of both directions and of each, per target and for the axis.
 *
 * U holds how far each figure would come out otherwise in another test of the same axis (simulated, seeded, at the means found), the
 * gauge's maximum permissible error on any difference, its hysteresis between the directions, half of the drift from run to run, and
 * what the reference adds over the distance between the two targets that make the figure. A test with fewer than five runs or targets
 * is evaluated and says so.
 *
 * @throws MeasurementError `positioning-readings`
 * @see ISO 230-2:2014, ISO/TR 230-9:2005 (names of the shares; formulas from memory)
 * @example
 * const readings = [1, 2, 3].flatMap((run) => [
 *   ...[0, 40, 80].map((at) => ({ target: mm(at), direction: "up", run, deviation: um(at / 20 + run) })),
 *   ...[80, 40, 0].map((at) => ({ target: mm(at), direction: "down", run, deviation: um(at / 20 + 9 + run) })),
 * ]);
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
 * axis.positioning(axis.positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "blocks" } })).lostMotion.in("um") // => 9
 */
export function positioning(test: PositioningTest, options: { readonly seed?: number } = {}): Positioning {
  return new Positioning(test, options.seed ?? 1);
}
