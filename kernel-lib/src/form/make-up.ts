import { MeasurementError } from "../measurement-error.js";
import { display, type Kind, type MimeBundle } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import type { Measured } from "../uncertainty/index.js";
import { relativeWords } from "./place-words.js";
import { needMiddle, placesOf, range, type SurfaceSource, surfaceOf, withOpenFindings } from "./places.js";
import { TermMaker, termFits } from "./term-fits.js";

/** One term of the make-up of a form. */
export interface FormTerm<K extends Kind = Kind> {
  /** "tilt x", "bow y", "twist"; a higher term by its powers: "x³", "x²y" */
  readonly name: string;
  /** tilt: slope along the axis. bow: middle above the line through the ends, hollow negative. twist: the fourth corner
   * out of the plane of the other three; a higher term: height of its Legendre product at x, y greatest */
  readonly amplitude: Measured<K>;
  /** coefficient of the Legendre product, in µm */
  readonly coefficientUm: number;
  /** share of the variance of the heights, the terms taken in the order of the list */
  readonly share: number;
  /** chance of a term this large from the noise of the gauge alone */
  readonly beyondGauge: { readonly F: number; readonly p: number };
  /** chance of a term this large from unevenness: what the five terms, or for a higher term all terms, leave */
  readonly beyondUnevenness: { readonly F: number; readonly p: number };
}

/** What terms leave of a form. */
export interface Rest {
  /** of the variance of the heights */
  readonly share: number;
  readonly standardDeviationUm: number;
  readonly degreesOfFreedom: number;
  /** degrees of freedom that it is worth where neighbouring places are alike */
  readonly independent: number;
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
    /** what the five terms leave */
    readonly rest: Rest,
    /** terms of third and fourth order, as far as rows and columns of places tell them apart */
    readonly higher: readonly FormTerm<"length">[] = [],
    /** what the higher terms leave too */
    readonly restOfAll: Rest = rest,
  ) {
    Object.freeze(this);
  }

  /** The five terms, in order. */
  get terms(): readonly (FormTerm<"slope"> | FormTerm<"length">)[] {
    return [this.tiltX, this.tiltY, this.bowX, this.bowY, this.twist];
  }

  toString(): string {
    const listed = this.terms.map((t) => `${t.name} ${t.amplitude}`).join(", ");
    const sentence = `${listed}; left over by these five ${this.rest.standardDeviationUm.toFixed(1)} µm (standard deviation), ${Math.round(100 * this.rest.share)} % of the variance; ${relativeWords(this.surface.frame.relativeTo)}`;
    return withOpenFindings(sentence, this.surface);
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

/**
 * What a form is made of: tilt x, tilt y, bow x, bow y and twist, by least squares of Legendre products over the places.
 *
 * The amplitudes are those of the joint fit; shares take the terms one after another on products orthogonalised over the
 * actual places, F tests ask of each term what it adds to the others. Third and fourth order follow where there are rows and columns enough; the five
 * do not change with them. U holds the noise of the readings, the drift and the gauge.
 *
 * Two questions are tested apart: beyond the gauge (noise found from pass to pass), and beyond the unevenness that is
 * left. Where neighbouring places are alike, unevenness feigns terms: its mean square is raised and its degrees of
 * freedom are cut by the likeness of neighbours along x and y.
 *
 * @throws MeasurementError `too-few-places` below 9 places or three rows and columns, `hole`, and as `flatness` does
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 100 * j, zUm: i * j, count: 2 })));
 * form.makeUp({ name: "map", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(2) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 9 } }).twist.amplitude.in("um").toFixed(1) // => "4.0"
 */
export function makeUp(source: SurfaceSource): MakeUp {
  const surface = surfaceOf(source);
  const places = placesOf("makeUp", surface, 9);
  const { x, y } = places;
  needThree("columns along x", x, surface);
  needThree("rows along y", y, surface);
  needMiddle("makeUp", surface, places);
  const fits = termFits(places);
  const five = fits.fit(2);
  const terms = new TermMaker(surface, places, five, fits);
  const [tiltX, tiltY, bowX, twist, bowY] = [1, 2, 3, 4, 5] as const;
  const all = fits.fit(fits.degree);
  const further = new TermMaker(surface, places, all, fits);
  const higher = fits.names.slice(6).map((name, k) => further.make(name, 6 + k, "length", 1e-6, 1));
  return new MakeUp(
    surface,
    // a coefficient is a rise of c over half the range: µm over mm
    terms.make("tilt x", tiltX, "slope", 2e-3 / range(x), 1e3 / range(x)),
    terms.make("tilt y", tiltY, "slope", 2e-3 / range(y), 1e3 / range(y)),
    terms.make("bow x", bowX, "length", -1.5e-6, 1),
    terms.make("bow y", bowY, "length", -1.5e-6, 1),
    // two differences of heights make a twist
    terms.make("twist", twist, "length", 4e-6, Math.SQRT2),
    terms.rest,
    higher,
    further.rest,
  );
}
