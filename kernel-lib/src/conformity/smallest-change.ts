import { MeasurementError } from "../measurement-error.js";
import { simultaneousFactor, tQuantile } from "../numerics/index.js";
import { type Kind, Quantity, type UnitSystem } from "../quantity/index.js";
import { printTwoDigits } from "../quantity/print.js";

/** What change between two surveys can be told from nothing. */
export class SmallestChange<K extends Kind> {
  /** 1.96 u_d, more where u_d has few degrees of freedom: at one place named beforehand, with 5 false alarms in 100 */
  readonly atNamedPlace: Quantity<K>;
  /** 2.80 u_d, likewise: a change of this size at a named place is found 8 times in 10 */
  readonly foundEightInTen: Quantity<K>;
  /** the factor for all places together × u_d: the change stands out anywhere, with 5 false alarms in 100 surveys */
  readonly anywhere: Quantity<K>;

  /** @internal made by `smallestChange` */
  constructor(
    readonly standardUncertainty: Quantity<K>,
    readonly places: number,
    readonly simultaneousFactor: number,
    private readonly degreesOfFreedom: number,
  ) {
    const { kind, si } = standardUncertainty;
    const [either, found] = this.factors;
    this.atNamedPlace = Quantity.fromSi(kind, either * si);
    this.foundEightInTen = Quantity.fromSi(kind, found * si);
    this.anywhere = Quantity.fromSi(kind, simultaneousFactor * si);
    Object.freeze(this);
  }

  /** quantiles of Student's t; their sum stands for the noncentral one, and is within a hundredth of it from ν = 5 on */
  private get factors(): readonly [either: number, found: number] {
    const either = tQuantile(0.975, this.degreesOfFreedom);
    return [either, either + tQuantile(0.8, this.degreesOfFreedom)];
  }

  /** What can be told at one place, and anywhere. */
  sentence(system?: UnitSystem): string {
    const two = (q: Quantity<K>) => printTwoDigits(q as Quantity<Kind>, system);
    const [either, found] = this.factors.map((factor) => factor.toFixed(2));
    const everywhere =
      this.places > 1
        ? `; anywhere among ${this.places} places ${two(this.anywhere)} (${this.simultaneousFactor.toFixed(2)} u, 5 false alarms in 100 whole surveys)`
        : "";
    return `smallest change: ${two(this.atNamedPlace)} at one place named beforehand (${either} u of the difference), ${two(this.foundEightInTen)} to be found 8 times in 10 (${found} u)${everywhere}`;
  }

  toString(): string {
    return this.sentence();
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * The smallest change between two surveys that can be told from nothing, from the standard uncertainty of the difference.
 *
 * @param standardUncertainty u of the difference: `after.minus(before).standardUncertainty`, or √2 times that of one survey
 * @param options `places` looked at together, `degreesOfFreedom` of u
 * @throws MeasurementError `uncertainty`
 * @example
 * smallestChange(um(1), { places: 90 }).anywhere.in("um").toFixed(2) // => "3.45"
 */
export function smallestChange<K extends Kind>(
  standardUncertainty: Quantity<K>,
  options: { readonly places?: number; readonly degreesOfFreedom?: number } = {},
): SmallestChange<K> {
  if (!(standardUncertainty instanceof Quantity && standardUncertainty.si > 0)) {
    throw new MeasurementError(
      "uncertainty",
      `smallestChange: the difference has an uncertainty of ${String(standardUncertainty)}; give one greater than zero`,
    );
  }
  const { places = 1, degreesOfFreedom = Number.POSITIVE_INFINITY } = options;
  return new SmallestChange(
    standardUncertainty,
    places,
    simultaneousFactor(places, degreesOfFreedom),
    degreesOfFreedom,
  );
}
