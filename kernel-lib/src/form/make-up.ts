import { MeasurementError } from "../measurement-error.js";
import { fUpperTail, leastSquares, orthonormal } from "../numerics/index.js";
import { display, type Kind, type MimeBundle, Quantity, um } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import { Input, Measured, type Term } from "../uncertainty/index.js";
import { relativeWords } from "./place-words.js";
import { placesOf, range, type SurfaceSource, surfaceOf } from "./places.js";
import { legendreProducts } from "./smooth-form.js";

/** One term of the make-up of a form. */
export interface FormTerm<K extends Kind = Kind> {
  readonly name: "tilt x" | "tilt y" | "bow x" | "bow y" | "twist";
  /** tilt: slope along the axis. bow: middle above the line through the ends, hollow negative. twist: the fourth corner
   * out of the plane of the other three */
  readonly amplitude: Measured<K>;
  /** coefficient of the Legendre product, in µm */
  readonly coefficientUm: number;
  /** share of the variance of the heights, the terms taken in the order of the list */
  readonly share: number;
  /** chance of a term this large from the noise of the gauge alone */
  readonly beyondGauge: { readonly F: number; readonly p: number };
  /** chance of a term this large from what the five terms leave unexplained */
  readonly beyondUnevenness: { readonly F: number; readonly p: number };
}

/** What a form is made of: tilt, bow and twist, and what is left over. */
export class MakeUp {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `makeUp` */
  constructor(
    readonly surface: Surface,
    readonly tiltX: FormTerm<"slope">,
    readonly tiltY: FormTerm<"slope">,
    readonly bowX: FormTerm<"length">,
    readonly bowY: FormTerm<"length">,
    readonly twist: FormTerm<"length">,
    /** share of the variance that the five terms leave, and its standard deviation in µm */
    readonly rest: { readonly share: number; readonly standardDeviationUm: number; readonly degreesOfFreedom: number },
  ) {
    Object.freeze(this);
  }

  /** The five terms, in order. */
  get terms(): readonly (FormTerm<"slope"> | FormTerm<"length">)[] {
    return [this.tiltX, this.tiltY, this.bowX, this.bowY, this.twist];
  }

  toString(): string {
    const listed = this.terms.map((t) => `${t.name} ${t.amplitude}`).join(", ");
    return `${listed}; left over ${this.rest.standardDeviationUm.toFixed(1)} µm (standard deviation), ${Math.round(100 * this.rest.share)} % of the variance; ${relativeWords(this.surface.frame.relativeTo)}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

function needThree(what: string, values: readonly number[], { name }: Surface): void {
  const different = new Set(values).size;
  if (different >= 3) return;
  throw new MeasurementError(
    "too-few-places",
    `makeUp: ${name} has ${different} ${what}; a bow needs three at least, measure one between`,
  );
}

/** order of the columns of the Legendre products up to degree 2: 1, x, y, P2(x), xy, P2(y) */
const column = { tiltX: 1, tiltY: 2, bowX: 3, twist: 4, bowY: 5 } as const;

/**
 * What a form is made of: tilt x, tilt y, bow x, bow y and twist, by least squares of Legendre products over the places.
 *
 * The amplitudes are those of the joint fit; shares and F tests take the terms one after another on products
 * orthogonalised over the actual places. U is that of the noise of the readings. Two questions are tested apart: beyond
 * the gauge, and beyond the unevenness that the five terms leave (which assumes it to be random from place to place).
 *
 * @throws MeasurementError `too-few-places` below 9 places or three rows and columns, and as `flatness` does
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 100 * j, zUm: i * j, count: 2 })));
 * form.makeUp({ name: "map", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(2) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 9 } }).twist.amplitude.in("um").toFixed(1) // => "4.0"
 */
export function makeUp(source: SurfaceSource): MakeUp {
  const surface = surfaceOf(source);
  const { x, y, z } = placesOf("makeUp", surface, 9);
  needThree("columns along x", x, surface);
  needThree("rows along y", y, surface);
  const { noise } = surface;
  const columns = legendreProducts(x, y, 2);
  const fit = leastSquares(columns, z);
  const squares = orthonormal(columns).map((q) => q.reduce((s, v, i) => s + v * z[i]!, 0) ** 2);
  const total = squares.slice(1).reduce((s, v) => s + v, 0) + fit.residualSumOfSquares;
  const meanSquare = fit.residualSumOfSquares / fit.degreesOfFreedom;
  const group = {};
  const noiseInput = new Input({
    label: "reading noise",
    estimate: um(0),
    standardUncertainty: um(noise.standardUncertaintyUm),
    distribution: "normal",
    degreesOfFreedom: noise.degreesOfFreedom,
    evaluation: "A",
    source: noise.source ?? "repeats of the survey",
    group,
  });
  const term = <K extends "slope" | "length">(
    name: FormTerm["name"],
    k: number,
    kind: K,
    scaleSi: number,
  ): FormTerm<K> => {
    const c = fit.coefficients[k]!;
    const terms: Term[] = [{ input: noiseInput, sensitivity: scaleSi * 1e6 * Math.sqrt(fit.covarianceFactor[k]![k]!) }];
    const against = (variance: number, nu: number) => {
      const F = squares[k]! / variance;
      return { F, p: fUpperTail(F, 1, Math.min(nu, 1e9)) };
    };
    return {
      name,
      amplitude: Measured.of(Quantity.fromSi(kind, c * scaleSi), terms),
      coefficientUm: c,
      share: squares[k]! / total,
      beyondGauge: against(noise.standardUncertaintyUm ** 2, noise.degreesOfFreedom),
      beyondUnevenness: against(meanSquare, fit.degreesOfFreedom),
    };
  };
  return new MakeUp(
    surface,
    // a coefficient is a rise of c over half the range: µm over mm
    term("tilt x", column.tiltX, "slope", 2e-3 / range(x)),
    term("tilt y", column.tiltY, "slope", 2e-3 / range(y)),
    term("bow x", column.bowX, "length", -1.5e-6),
    term("bow y", column.bowY, "length", -1.5e-6),
    term("twist", column.twist, "length", 4e-6),
    {
      share: fit.residualSumOfSquares / total,
      standardDeviationUm: fit.residualStandardDeviation,
      degreesOfFreedom: fit.degreesOfFreedom,
    },
  );
}
