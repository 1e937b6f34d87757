import { MeasurementError } from "../measurement-error.js";
import { leastSquares } from "../numerics/index.js";
import { type Angle, deg, display, type Length, type MimeBundle, Quantity, um } from "../quantity/index.js";
import { printDecimals } from "../quantity/print.js";
import { sizeText } from "../quantity/size-text.js";
import { type Gauge, heightFactor, resolutionUncertainty, type SheetFile } from "../survey/index.js";
import { Input, input, Measured, type Term } from "../uncertainty/index.js";
import { counted } from "../words.js";

/** One reading of an indicator on an arm in the spindle, turned by hand. */
export interface SweepReading {
  /** of the stylus about the spindle seen from above, from +X towards +Y */
  readonly angle: Angle;
  /** positive = the plunger is pushed in */
  readonly reading: Length;
}

/** A sweep of an indicator in the spindle over table, track or balls. */
export interface SweepGiven {
  readonly name: string;
  /** from the axis of the spindle to the stylus: half of what the two ends of the sweep are apart */
  readonly radius: Length;
  readonly radiusWithin?: Length;
  readonly gauge: Gauge;
  /** in any order; places read again are given again */
  readonly readings: readonly SweepReading[];
  /** what was swept: the table itself, or a plate or ring laid on it */
  readonly over?: string;
  /** where the axis of the spindle stands over the table */
  readonly centre?: { readonly x: Length; readonly y: Length };
  /**
   * Slope of the table against travel under the swept circle, along X and along Y, as `form.flatness` of a map against travel
   * gives it: taken off for cutting.
   */
  readonly tableSlope?: { readonly x: Measured<"slope">; readonly y: Measured<"slope"> };
  /** lines of the sheet that say something else: workshop, date, how it was swept */
  readonly notes?: readonly string[];
  /** the sheet that it was read from */
  readonly file?: SheetFile | undefined;
}

/** A tilt of the spindle's axis: where the head's top leans to. */
export interface Lean {
  /** positive: the top leans towards +X */
  readonly x: Measured<"slope">;
  /** positive: the top leans towards +Y */
  readonly y: Measured<"slope">;
}

/** Tilt of a spindle from a swept circle. Made by `spindleTram`. */
export class SpindleTram {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** against the table, over the swept circle */
  readonly againstTable: Lean;
  /** against the travel, as a cutter feels it; missing until the slope of the table against travel is given */
  readonly againstTravel: Lean | undefined;
  /** what the circle leaves, in µm, in the order of the readings */
  readonly residualsUm: readonly number[];
  /** a + b cos θ + c sin θ of the heights pushed in, µm */
  readonly circleUm: { readonly mean: number; readonly cosine: number; readonly sine: number };

  /** @internal made by `spindleTram` */
  constructor(readonly sweep: SweepGiven) {
    const { readings, gauge, tableSlope } = sweep;
    const angles = readings.map(({ angle }) => angle.si);
    const heights = readings.map(({ reading }) => reading.in("um") * heightFactor(gauge));
    const columns = [angles.map(() => 1), angles.map(Math.cos), angles.map(Math.sin)];
    const fit = leastSquares(columns, heights);
    const [mean, cosine, sine] = fit.coefficients;
    this.circleUm = { mean: mean!, cosine: cosine!, sine: sine! };
    this.residualsUm = fit.residuals;
    this.againstTable = leanOf(sweep, columns, fit);
    this.againstTravel = tableSlope && {
      x: this.againstTable.x.minus(tableSlope.x),
      y: this.againstTable.y.minus(tableSlope.y),
    };
    Object.freeze(this);
  }

  /** what a cutter feels where it is known, else the tilt against the table */
  get lean(): Lean {
    return this.againstTravel ?? this.againstTable;
  }

  /** Size of the tilt. Below about three times its u it is biased high: look at the two parts. */
  get size(): Measured<"slope"> {
    const { x, y } = this.lean;
    const size = Math.hypot(x.value.si, y.value.si);
    if (size === 0) return x.times(0);
    return Measured.of(Quantity.fromSi("slope", size), [
      ...scaled(x.terms, x.value.si / size),
      ...scaled(y.terms, y.value.si / size),
    ]);
  }

  /** where the top of the head leans to, seen from above, from +X towards +Y */
  get direction(): Angle {
    const { x, y } = this.lean;
    return deg((Math.atan2(y.value.si, x.value.si) * 180) / Math.PI);
  }

  /** Rise over a length, as trams are stated: "0.02 mm over 150 mm". @example typeof form.SpindleTram // => "function" */
  over(length: Length): Measured<"length"> {
    const { value, terms } = this.size;
    return Measured.of(value.times(length), scaled(terms, length.si));
  }

  /** whether the tilt can be told from none, 95 %: both parts together against their covariance */
  get isTold(): boolean {
    const { x, y } = this.lean;
    return [x, y].some((part) => Math.abs(part.value.si) > part.expandedUncertainty(0.975).si);
  }

  toString(): string {
    const { x, y } = this.lean;
    const against = this.againstTravel
      ? "against the travel (sweep less the slope of the table), as it cuts"
      : "against the table under the sweep; for cutting, the slope of the table against travel is still to be taken off";
    const size = this.isTold
      ? `the top of the head leans ${this.size} towards ${printDecimals(this.direction.in("deg"), 0)}° (from +X towards +Y), and the cutter cuts deeper there`
      : "no tilt can be told from none";
    return `tram: ${this.sweep.name}, ${against}: ${size}; along X ${x}, along Y ${y}; ${this.sweep.readings.length} places on a circle of radius ${this.sweep.radius.text("mm")}; isolate the spindle before you reach in, and turn it by hand only`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Spindle tram from a swept circle: a + b cos θ + c sin θ is fitted to the heights; tilt = √(b² + c²)/r towards (b, c), r the
 * radius of the sweep. Where the plunger is pushed in most the head's top leans that way, and the cutter cuts deeper there.
 *
 * For cutting, the slope of the table against travel under the sweep is taken off, as a vector. Sweep at the height and
 * quill position of the cut. What the circle leaves is scatter of the readings or form of the table; with 4 places one
 * degree of freedom is left, more places say more.
 *
 * @throws MeasurementError `too-few-places`, `angles`, `radius`
 * @see trade formula; the sign follows from the stylus turning with the spindle
 * @example
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
 * const at = (angle, z) => ({ angle: deg(angle), reading: um(z) });
 * const found = form.spindleTram({ name: "head", radius: mm(75), gauge: dial, readings: [at(0, 10), at(90, 0), at(180, -10), at(270, 0)] });
 * found.size.in("um/m").toFixed(3) // => "133.333"
 */
export function spindleTram(sweep: SweepGiven): SpindleTram {
  const { name, radius, readings } = sweep;
  const turn = (angle: Angle) => (Math.round((((angle.in("deg") % 360) + 360) % 360) * 10) / 10) % 360;
  const missing = readings.findIndex(({ angle }) => angle === undefined);
  if (missing >= 0)
    refuse("angles", `reading ${missing + 1} of ${name} has no angle; give each reading the angle of the stylus`);
  const places = [...new Set(readings.map(({ angle }) => turn(angle)))].sort((a, b) => a - b);
  if (!(places.length >= 4)) {
    refuse(
      "too-few-places",
      `${name} was swept at ${counted(places.length, "place")} of the circle; read four at least, a quarter turn apart`,
    );
  }
  const gaps = places.map((at, i) => (i + 1 < places.length ? places[i + 1]! - at : places[0]! + 360 - at));
  if (!(Math.max(...gaps) < 180)) {
    refuse(
      "angles",
      `the places of ${name} lie on half of the circle, from ${places[0]}° to ${places.at(-1)}°; sweep all round it`,
    );
  }
  if (!(radius.si > 0))
    refuse(
      "radius",
      `the radius of the sweep of ${name} is ${sizeText(radius)}; give the distance of the stylus from the axis`,
    );
  return new SpindleTram(sweep);
}

type Fit = ReturnType<typeof leastSquares>;

/** b/r and c/r with the noise of the readings, the gauge, the radius */
function leanOf(sweep: SweepGiven, columns: readonly (readonly number[])[], fit: Fit): Lean {
  const { radius, radiusWithin, gauge, readings, name } = sweep;
  const floor = resolutionUncertainty(gauge).in("um");
  const seen = fit.residualStandardDeviation;
  const group = {};
  const noise = readings.map(
    (_, k) =>
      new Input({
        label: `sweep of ${name}, reading ${k + 1}`,
        estimate: um(0),
        standardUncertainty: um(Math.max(seen, floor)),
        distribution: "normal",
        degreesOfFreedom: seen > floor ? fit.degreesOfFreedom : Number.POSITIVE_INFINITY,
        evaluation: "A",
        source: seen > floor ? "what the circle leaves" : "resolution of the gauge",
        group,
      }),
  );
  // the gauge may be off by its limit from one side of the circle to the other, either way apart
  const part = (row: 1 | 2, along: string): Measured<"slope"> => {
    const slope = fit.coefficients[row]! / 1e6 / radius.si;
    const effect = (k: number) => columns.reduce((s, column, j) => s + fit.covarianceFactor[row]![j]! * column[k]!, 0);
    const error = input.rectangular({
      label: `${gauge.name}, error across the sweep along ${along}`,
      estimate: um(0),
      halfWidth: gauge.maximumPermissibleError,
      source: "maximum permissible error, ± over the range used",
    });
    const terms: Term[] = [
      ...noise.map((reading, k) => ({ input: reading, sensitivity: effect(k) / radius.si })),
      { input: error, sensitivity: 1 / (2 * radius.si) },
      ...(radiusTerm ? [{ input: radiusTerm, sensitivity: -slope / radius.si }] : []),
    ];
    return Measured.of(Quantity.fromSi("slope", slope), terms);
  };
  const radiusTerm =
    radiusWithin && radiusWithin.si > 0
      ? input.rectangular({
          label: "radius of the sweep",
          estimate: radius,
          halfWidth: radiusWithin,
          source: "as measured",
        })
      : undefined;
  return { x: part(1, "X"), y: part(2, "Y") };
}

function scaled(terms: readonly Term[], factor: number): Term[] {
  return terms.map(({ input: base, sensitivity }) => ({ input: base, sensitivity: sensitivity * factor }));
}

function refuse(code: string, words: string): never {
  throw new MeasurementError(code, `spindleTram: ${words}`);
}
