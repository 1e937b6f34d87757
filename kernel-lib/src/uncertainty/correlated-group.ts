import type { AnyInput } from "./input.js";

/** What the parts of correlated inputs share: a joint normal law, or a joint t where its degrees of freedom are finite. */
export class CorrelatedGroup {
  readonly labels: readonly string[];
  /** in SI */
  readonly estimates: readonly number[];

  /** @internal made by `correlated` */
  constructor(
    inputs: readonly AnyInput[],
    /** u_i u_j r_ij in SI; for a joint t the matrix of its scales */
    readonly covariance: readonly (readonly number[])[],
    readonly degreesOfFreedom: number,
    /** false where the inputs state different ones and the least of them was taken */
    readonly degreesOfFreedomStated: boolean,
  ) {
    this.labels = inputs.map(({ label }) => label);
    this.estimates = inputs.map(({ estimate }) => estimate.si);
    Object.freeze(this);
  }

  toString(): string {
    const law = Number.isFinite(this.degreesOfFreedom)
      ? `joint t with ${this.degreesOfFreedom} degrees of freedom`
      : "joint normal law";
    return `correlated: ${this.labels.join(", ")} (${law})`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}
