/**
 * The one error of the package: a sentence for the person at the machine and a stable code for tests.
 *
 * The sentence says where it happened, what was given, what is needed and what to do; it ends without a period.
 *
 * @example
 * new MeasurementError("not-finite", "mm: NaN is not a length; give a finite number").code // => "not-finite"
 */
export class MeasurementError extends Error {
  override readonly name = "MeasurementError";

  constructor(
    /** stable, kebab-case, safe to test for */
    readonly code: string,
    message: string,
  ) {
    super(message);
  }
}
