import { MeasurementError } from "../measurement-error.js";
import { meanAndDeviation } from "../numerics/index.js";
import { type Difference, type Kind, Quantity, type UnitSystem } from "../quantity/index.js";
import { printTwoDigits } from "../quantity/print.js";
import { counted } from "../words.js";
import { differenceOf } from "./input-notes.js";

/** A standard deviation of single readings found before, with its degrees of freedom. */
export interface StatedSpread<D extends Kind> {
  readonly standardDeviation: Quantity<D>;
  readonly degreesOfFreedom: number;
}

/** The scatter of single readings, from several groups together. Inputs that use the same one share its degrees of freedom. */
export class PooledSpread<D extends Kind> {
  /** @internal made by `pooledSpread` */
  constructor(
    /** of one reading */
    readonly standardDeviation: Quantity<D>,
    readonly degreesOfFreedom: number,
    readonly groups: number,
  ) {
    Object.freeze(this);
  }

  text(system?: UnitSystem): string {
    const [groups, free] = [this.groups, this.degreesOfFreedom];
    const words = [
      `${groups} ${groups === 1 ? "group" : "groups"}`,
      `${free} ${free === 1 ? "degree" : "degrees"} of freedom`,
    ];
    return `s = ${printTwoDigits(this.standardDeviation, system)} from ${words.join(", ")}`;
  }

  toString(): string {
    return this.text();
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Pooled standard deviation of one reading: groups of readings of different things, taken the same way. s² = Σ ν_i s_i² / Σ ν_i.
 *
 * @param groups lists of readings of two or more each, standard deviations found before with their ν, or both kinds
 * @throws MeasurementError `pooled`
 * @see JCGM 100:2008, 4.2.4; H.3.6
 * @example
 * `${uncertainty.pooledSpread([[um(10), um(12)], [um(31), um(30), um(32)]])}` // => "s = 1.2 µm from 2 groups, 3 degrees of freedom"
 */
export function pooledSpread<K extends Kind>(
  groups: readonly (readonly Quantity<K>[] | StatedSpread<Difference<K>>)[],
): PooledSpread<Difference<K>> {
  const spreads = groups.map((group, i) => spreadOf(group, i + 1));
  const [first] = spreads;
  if (first === undefined) {
    throw new MeasurementError("pooled", "pooledSpread: no group is given; give lists of readings, two or more each");
  }
  const other = spreads.findIndex(({ kind }) => kind !== first.kind);
  if (other > 0) {
    throw new MeasurementError(
      "pooled",
      `pooledSpread: group ${other + 1} is of the kind ${spreads[other]!.kind}, the first of ${first.kind}; pool readings of one kind`,
    );
  }
  const degreesOfFreedom = spreads.reduce((sum, { nu }) => sum + nu, 0);
  const squares = spreads.reduce((sum, { nu, s }) => sum + nu * s * s, 0);
  const standardDeviation = Quantity.fromSi(first.kind, Math.sqrt(squares / degreesOfFreedom));
  return new PooledSpread(
    standardDeviation as Quantity<Kind> as Quantity<Difference<K>>,
    degreesOfFreedom,
    groups.length,
  );
}

function spreadOf<K extends Kind>(
  group: readonly Quantity<K>[] | StatedSpread<Difference<K>>,
  number: number,
): { kind: Kind; s: number; nu: number } {
  if (!("degreesOfFreedom" in group)) {
    const [first] = group;
    if (first === undefined || group.length < 2) {
      throw new MeasurementError(
        "pooled",
        `pooledSpread: group ${number} has ${counted(group.length, "reading")}; a scatter needs two at least`,
      );
    }
    const { deviation } = meanAndDeviation(group.map(({ si }) => si));
    return { kind: differenceOf(first.kind, 0).kind, s: deviation, nu: group.length - 1 };
  }
  const { standardDeviation, degreesOfFreedom: nu } = group;
  const { kind, si: s } = standardDeviation as Quantity<Kind>;
  if (s >= 0 && nu >= 1 && nu < Number.POSITIVE_INFINITY) return { kind, s, nu };
  throw new MeasurementError(
    "pooled",
    `pooledSpread: group ${number} has s = ${standardDeviation} with ${nu} degrees of freedom; give s of zero or more and ν of 1 or more`,
  );
}
