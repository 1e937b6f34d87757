import { MeasurementError } from "../measurement-error.js";
import { leastSquares } from "../numerics/index.js";
import { arcsec, display, type Length, type MimeBundle, Quantity, type Slope, um } from "../quantity/index.js";
import { type Gauge, heightFactor, resolutionUncertainty, type SheetFile } from "../survey/index.js";
import { Input, input, Measured, type Term } from "../uncertainty/index.js";
import { counted } from "../words.js";

/** Indicator readings along one leg of a square. */
export interface LegReading {
  /** distance along the leg */
  readonly at: Length;
  readonly reading: Length;
}

/** A square on the table, one leg along one axis, the other leg along the other. */
export interface SquarenessGiven {
  /** "Y to X" */
  readonly name: string;
  readonly gauge: Gauge;
  /** the leg along the first axis: readings grow as the leg turns counter-clockwise away from the motion */
  readonly first: readonly LegReading[];
  /** the leg along the second axis, readings signed the same way */
  readonly second: readonly LegReading[];
  /** the same two legs after the square was turned over: its own error changes sign, that of the machine does not */
  readonly turnedOver?: { readonly first: readonly LegReading[]; readonly second: readonly LegReading[] };
  /** needed without `turnedOver`: departure of the square from 90°, positive where its angle is wider */
  readonly square?: Measured<"slope"> | { readonly within: Slope };
  /** lines of the sheet that say something else: workshop, date, which square */
  readonly notes?: readonly string[];
  /** the sheet that it was read from */
  readonly file?: SheetFile | undefined;
}

/** Squareness of two axes. Made by `squareness`. */
export class Squareness {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `squareness` */
  constructor(
    readonly given: SquarenessGiven,
    /** angle between the positive axes less 90°, positive where it is wider */
    readonly angle: Measured<"slope">,
    /** the square itself, its angle less 90°; missing where it was taken as given */
    readonly square: Measured<"slope"> | undefined,
  ) {
    Object.freeze(this);
  }

  /** How far the second axis leaves the perpendicular over a length. */
  over(length: Length): Measured<"length"> {
    return Measured.of(
      this.angle.value.times(length),
      this.angle.terms.map(({ input: base, sensitivity }) => ({ input: base, sensitivity: sensitivity * length.si })),
    );
  }

  toString(): string {
    const wide = this.angle.value.si >= 0 ? "wider" : "narrower";
    const { name } = this.given;
    const square = this.square ? `; the square itself ${this.square} from 90°` : "; the square as given";
    return `squareness of ${name}: ${this.angle}, the angle between the positive axes is ${wide} than 90° by ${Math.abs(this.angle.value.in("arcsec")).toFixed(1)}″${square}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Squareness of two lines of motion by a square: least-squares slope of each leg; their difference is square less machine.
 * Turned over, the square's own error changes sign: half the sum of both differences is the machine, half their
 * difference the square.
 *
 * Signs: both legs' readings are positive where the leg, going along it, bends counter-clockwise off the motion seen from
 * above. The leg slopes are then s₁ and s₂, and the angle of the axes is that of the square plus s₁ − s₂.
 *
 * @throws MeasurementError `too-few-places`, `square`
 * @see ISO 230-1, squareness by a square and an indicator (from public summaries)
 * @example
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
 * const leg = (rise) => [0, 100, 200].map((at) => ({ at: mm(at), reading: um((rise * at) / 200) }));
 * form.squareness({ name: "Y to X", gauge: dial, first: leg(0), second: leg(-6), turnedOver: { first: leg(0), second: leg(-2) } }).angle.in("um/m").toFixed(3) // => "20.000"
 */
export function squareness(given: SquarenessGiven): Squareness {
  const { name, first, second, turnedOver, square } = given;
  const maker = new LegMaker(given);
  const once = maker.slope("first leg", first).minus(maker.slope("second leg", second));
  if (turnedOver) {
    const twice = maker
      .slope("first leg, turned over", turnedOver.first)
      .minus(maker.slope("second leg, turned over", turnedOver.second));
    return new Squareness(given, once.plus(twice).times(0.5), twice.minus(once).times(0.5));
  }
  if (square === undefined) {
    throw new MeasurementError(
      "square",
      `squareness: ${name} was read one way round only and the square is not known; turn it over and read again, or give its departure from 90° with the doubt of it`,
    );
  }
  const known =
    square instanceof Measured
      ? square
      : Measured.from(
          input.rectangular({ label: "square, departure from 90°", estimate: arcsec(0), halfWidth: square.within }),
        );
  return new Squareness(given, once.plus(known), undefined);
}

/** Slopes of legs, the scatter pooled over all of them. */
class LegMaker {
  private readonly group = {};
  private readonly spreadUm: number;
  private readonly degreesOfFreedom: number;

  constructor(private readonly given: SquarenessGiven) {
    const { first, second, turnedOver, gauge } = given;
    const legs = [first, second, ...(turnedOver ? [turnedOver.first, turnedOver.second] : [])];
    const fits = legs.map((leg) => this.fit(leg));
    const nu = fits.reduce((s, fit) => s + fit.degreesOfFreedom, 0);
    const seen = Math.sqrt(fits.reduce((s, fit) => s + fit.residualSumOfSquares, 0) / nu);
    const floor = resolutionUncertainty(gauge).in("um");
    this.spreadUm = Math.max(seen, floor);
    this.degreesOfFreedom = seen > floor ? nu : Number.POSITIVE_INFINITY;
  }

  slope(which: string, leg: readonly LegReading[]): Measured<"slope"> {
    const { gauge } = this.given;
    const { coefficients, covarianceFactor: c } = this.fit(leg);
    const length = Math.max(...leg.map(({ at }) => at.si)) - Math.min(...leg.map(({ at }) => at.si));
    const noise = leg.map(({ at }, k): Term => {
      const reading = new Input({
        label: `${which}, reading ${k + 1}`,
        estimate: um(0),
        standardUncertainty: um(this.spreadUm),
        distribution: "normal",
        degreesOfFreedom: this.degreesOfFreedom,
        evaluation: "A",
        source: "what straight lines leave of all legs",
        group: this.group,
      });
      return { input: reading, sensitivity: c[1]![0]! + c[1]![1]! * at.si };
    });
    const error = input.rectangular({
      label: `${gauge.name}, error over the ${which}`,
      estimate: um(0),
      halfWidth: gauge.maximumPermissibleError,
      source: "maximum permissible error, ± over the range used",
    });
    return Measured.of(Quantity.fromSi("slope", coefficients[1]! * 1e-6), [
      ...noise,
      { input: error, sensitivity: 1 / length },
    ]);
  }

  /** µm over metres */
  private fit(leg: readonly LegReading[]) {
    const { name, gauge } = this.given;
    if (!(new Set(leg.map(({ at }) => at.si)).size >= 3)) {
      throw new MeasurementError(
        "too-few-places",
        `squareness: a leg of ${name} was read at ${counted(new Set(leg.map(({ at }) => at.si)).size, "place")}; read three at least along each leg`,
      );
    }
    const heights = leg.map(({ reading }) => reading.in("um") * heightFactor(gauge));
    return leastSquares([leg.map(() => 1), leg.map(({ at }) => at.si)], heights);
  }
}
