import { display, type Length, type MimeBundle, um } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";

/** EV repeats, AV operators, INT operators × parts, GRR these together, PV parts, TV the whole. */
export type ComponentKey = "EV" | "AV" | "INT" | "GRR" | "PV" | "TV";

/** One part of what makes the readings of a study differ. */
export interface StudyComponent {
  readonly key: ComponentKey;
  readonly name: string;
  readonly standardDeviation: Length;
  /** 6 or 5.15 standard deviations, as the study states */
  readonly spread: Length;
  /** of the whole variation, in standard deviations: the percentages do not add up to 100 */
  readonly percentOfVariation: number;
  /** of the variance: these add up to 100 */
  readonly percentOfVariance: number;
  /** spread against the width of the tolerance; missing where none is given */
  readonly percentOfTolerance?: number;
  /** effective, by Welch and Satterthwaite; missing where the method has none or the component is zero */
  readonly degreesOfFreedom?: number;
}

/** A variance in µm² with its degrees of freedom. */
export interface Variance {
  readonly value: number;
  readonly degreesOfFreedom?: number;
}

export type Variances = {
  readonly [K in Exclude<ComponentKey, "TV">]?: Variance;
};

/** What turns variances into the lines of a study. */
export interface SplitTerms {
  readonly sigmas: number;
  readonly tolerance?: Length | undefined;
  readonly names: { readonly [K in ComponentKey]: string };
}

/** The variation of a study split into its components, by one method. */
export class StudySplit {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly components: readonly StudyComponent[];
  /** how many groups of parts the gauge can tell apart: 1.41 PV/GRR, rounded down; `Infinity` where the gauge shows no scatter */
  readonly categories: number;

  /** @internal made by `gaugeStudy` */
  constructor(
    readonly method: string,
    variances: Variances,
    terms: SplitTerms,
    /** what was set to zero, what was not tested */
    readonly notes: readonly string[],
  ) {
    const gauge = variances.GRR!.value;
    const parts = variances.PV!.value;
    const whole = gauge + parts;
    const keys = ["EV", "AV", "INT", "GRR", "PV"] as const;
    const present = keys.flatMap((key) => (variances[key] ? [[key, variances[key]] as const] : []));
    this.components = [...present, ["TV", { value: whole }] as const].map(([key, variance]) =>
      componentOf(key, variance, whole, terms),
    );
    this.categories = gauge > 0 ? Math.floor(1.41 * Math.sqrt(parts / gauge)) : Number.POSITIVE_INFINITY;
  }

  toString(): string {
    const parts = this.components.map(
      ({ key, standardDeviation }) => `${key} ${printNumber(standardDeviation.in("um"), 3)} µm`,
    );
    return `${this.method}: ${parts.join(", ")} (one standard deviation each)`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  /** One component; undefined where the method did not test it. */
  of(key: ComponentKey): StudyComponent | undefined {
    return this.components.find((component) => component.key === key);
  }
}

function componentOf(
  key: ComponentKey,
  { value, degreesOfFreedom }: Variance,
  whole: number,
  { sigmas, tolerance, names }: SplitTerms,
): StudyComponent {
  const standardDeviation = um(Math.sqrt(value));
  const spread = standardDeviation.times(sigmas);
  const share = value / whole;
  return {
    key,
    name: names[key],
    standardDeviation,
    spread,
    percentOfVariation: 100 * Math.sqrt(share),
    percentOfVariance: 100 * share,
    ...(tolerance ? { percentOfTolerance: (100 * spread.si) / tolerance.si } : {}),
    ...(degreesOfFreedom === undefined ? {} : { degreesOfFreedom }),
  };
}
