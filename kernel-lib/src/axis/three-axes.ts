import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, Quantity } from "../quantity/index.js";
import { sizeText } from "../quantity/size-text.js";
import type { Measured } from "../uncertainty/index.js";
import type { AxisName } from "./positioning-test.js";
import { type GrowTogether, isPossible, rootSumSquare, sharedDoubt } from "./root-sum-square.js";
import { type AxisErrors, type Contribution, contributionsOf } from "./tool-contributions.js";

export interface ThreeAxesOptions {
  /** what each axis shows; leave out what is not measured */
  readonly axes: { readonly [A in AxisName]?: AxisErrors };
  /** angle between two axes less 90°, as `form.squareness` gives it */
  readonly squareness?: {
    readonly XY?: Measured<"slope">;
    readonly XZ?: Measured<"slope">;
    readonly YZ?: Measured<"slope">;
  };
  /** lean of the spindle along X and along Y against the travel, as `form.spindleTram` gives it */
  readonly tram?: { readonly x: Measured<"slope">; readonly y: Measured<"slope"> };
  /** size of the work along each axis */
  readonly work: { readonly [A in AxisName]: Length };
  /** of the cutter that the lean acts on */
  readonly cutterDiameter?: Length;
  /** lines that grow and shrink together over the work, for the root sum of squares; those not named are taken to do so by chance */
  readonly together?: readonly GrowTogether[];
}

const names: readonly AxisName[] = ["X", "Y", "Z"];

/** What the axes together do at the tool, over a piece of work of the size given. */
export class ThreeAxes {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly contributions: readonly Contribution[];
  /** what still has to be measured before more is known */
  readonly missing: readonly string[];

  /** @internal made by `threeAxes` */
  constructor(readonly options: ThreeAxesOptions) {
    this.contributions = contributionsOf(options);
    this.missing = missingOf(options);
    Object.freeze(this);
  }

  /** All that is known in one direction at the tool, each at its greatest and all the same way; undefined where nothing is. */
  together(direction: AxisName): Measured<"length"> | undefined {
    const [first, ...others] = this.along(direction).map(({ error }) => (error.value.si < 0 ? error.times(-1) : error));
    return first && others.reduce((sum, error) => sum.plus(error), first);
  }

  /**
   * All that is known in one direction as the root of the sum of squares: what is to be expected where the lines do not reach their
   * greatest in the same place, but for those said to. Undefined where nothing is known.
   */
  likely(direction: AxisName): Measured<"length"> | undefined {
    return rootSumSquare(this.along(direction), this.options.together ?? []);
  }

  /** Pairs of lines of one direction whose uncertainties hold something in common, with their correlation. */
  sharedDoubt(direction: AxisName): readonly GrowTogether[] {
    return sharedDoubt(this.along(direction));
  }

  /** The largest in one direction. */
  largest(direction: AxisName): Contribution | undefined {
    const own = this.along(direction);
    return own.length === 0
      ? undefined
      : own.reduce((a, b) => (Math.abs(b.error.value.si) > Math.abs(a.error.value.si) ? b : a));
  }

  toString(): string {
    const known = names.map((direction) => {
      const sum = this.together(direction);
      if (sum === undefined) return `in ${direction} nothing is measured`;
      return `in ${direction} up to ${sum.text("um")} at worst, ${this.likely(direction)!.text("um")} as a root sum of squares, most of it ${this.largest(direction)!.source}`;
    });
    return `at the tool ${known.join("; ")}; ${this.missing.length} ${this.missing.length === 1 ? "thing" : "things"} not measured`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private along(direction: AxisName): readonly Contribution[] {
    return this.contributions.filter((one) => one.direction === direction);
  }
}

/**
 * What three axes do at the tool over a piece of work: lost motion, pitch and repeatability of each axis, squareness and lean of
 * the spindle, each in the direction in which it acts; and what still has to be measured. Nothing unmeasured counts as zero.
 *
 * @throws MeasurementError `three-axes`
 * @example
 * const square = Measured.from(input.normal({ label: "square", estimate: slope(um(20), mm(1000)), standardUncertainty: slope(um(2), mm(1000)) }));
 * const whole = axis.threeAxes({ axes: {}, squareness: { XY: square }, work: { X: mm(200), Y: mm(100), Z: mm(50) } });
 * whole.together("X").in("um").toFixed(1) // => "2.0"
 */
export function threeAxes(options: ThreeAxesOptions): ThreeAxes {
  for (const name of names) {
    const size: unknown = options.work?.[name];
    if (size instanceof Quantity && size.kind === "length" && size.si > 0) continue;
    refuse(`the work along ${name} is ${sizeText(size)}; give its size, such as mm(100)`);
  }
  for (const name of names) {
    const tested = options.axes[name]?.positioning?.test.axis;
    if (tested === undefined || tested === name) continue;
    refuse(`under ${name} stands a test of ${tested}; give each axis its own`);
  }
  const whole = new ThreeAxes(options);
  needKnownLines(whole);
  return whole;
}

/** every pair names two lines of one direction, and no pairs contradict each other */
function needKnownLines({ contributions, options }: ThreeAxes): void {
  for (const { between, correlation } of options.together ?? []) {
    const [a, b] = between.map((source) => contributions.find((one) => one.source === source));
    if (a === undefined || b === undefined || a === b || a.direction !== b.direction) {
      const known = contributions.map(({ source, direction }) => `${source} (${direction})`).join(", ");
      refuse(`together names "${between.join('" and "')}"; name two lines of one direction out of: ${known || "none"}`);
    }
    if (!(correlation >= -1 && correlation <= 1)) {
      refuse(`"${between.join('" and "')}" have a correlation of ${correlation}; give one from −1 to 1`);
    }
  }
  for (const direction of names) {
    const own = contributions.filter((one) => one.direction === direction);
    if (isPossible(own, options.together ?? [])) continue;
    refuse(
      `the correlations given for ${direction} contradict each other; two lines that both go with a third can't go against each other`,
    );
  }
}

function missingOf({ axes, squareness = {}, tram, cutterDiameter }: ThreeAxesOptions): readonly string[] {
  const perAxis = names.flatMap((name) => {
    const given = axes[name];
    if (given === undefined) return [`positioning of ${name}: no test`];
    return [
      given.part ? "" : `pitch of ${name} over the work: no systematic part is given`,
      given.positioning && !given.positioning.test.senseProven
        ? `sense of ${name}: no deliberate move proved which way it counts`
        : "",
      given.positioning?.test.vertical && !given.ladderUnderPull && !given.lift
        ? `play of ${name} under cutting load: gravity hides it, take a ladder under an upward pull`
        : "",
    ];
  });
  return [
    ...perAxis,
    ...(["XY", "XZ", "YZ"] as const).map((pair) =>
      squareness[pair] ? "" : `squareness of ${pair[0]} to ${pair[1]}: a square turned over shows it`,
    ),
    tram ? "" : "lean of the spindle: sweep the table",
    tram && !cutterDiameter ? "step of the spindle's lean: give the diameter of the cutter" : "",
    "straightness of each axis, and how it pitches, yaws and rolls: in no line here",
    "what warmth and the cutter's force do: in no line here",
  ].filter((line) => line !== "");
}

function refuse(sentence: string): never {
  throw new MeasurementError("three-axes", `threeAxes: ${sentence}`);
}
