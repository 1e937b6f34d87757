import { MeasurementError } from "../measurement-error.js";
import { LongSum } from "./double-length.js";

/** Mean and scatter of single values, in their unit. */
export interface MeanAndDeviation {
  readonly count: number;
  readonly mean: number;
  /** standard deviation of one value, √(Σ (x − mean)² / (n − 1)); 0 for one value */
  readonly deviation: number;
  /** first-order autocorrelation coefficient; NaN where all values are equal */
  readonly lagOneCorrelation: number;
}

/**
 * Mean and standard deviation by the corrected two-pass method, the sums in double length.
 *
 * @param values one or more numbers of one unit, in the order they were read
 * @throws MeasurementError `no-values`, `not-finite`
 * @see Chan, Golub and LeVeque 1983; checked against the univariate sets of NIST StRD
 * @example
 * numerics.meanAndDeviation([10, 12, 11]).deviation // => 1
 */
export function meanAndDeviation(values: ArrayLike<number>): MeanAndDeviation {
  const count = values.length;
  if (!(count >= 1)) {
    throw new MeasurementError("no-values", "meanAndDeviation: no value is given; give one at least");
  }
  const bad = Array.prototype.findIndex.call(values, (value: number) => !Number.isFinite(value));
  if (bad >= 0) {
    throw new MeasurementError(
      "not-finite",
      `meanAndDeviation: value ${bad + 1} of ${count} is ${values[bad]}; give finite numbers`,
    );
  }
  const total = new LongSum();
  for (let i = 0; i < count; i++) total.add(values[i]!);
  const mean = total.value() / count;
  const rest = new LongSum();
  const squares = new LongSum();
  const products = new LongSum();
  for (let i = 0; i < count; i++) {
    const off = values[i]! - mean;
    rest.add(off);
    squares.addProduct(off, off);
    if (i > 0) products.addProduct(off, values[i - 1]! - mean);
  }
  // the correction takes out what the rounding of the mean left in every deviation
  const sum = Math.max(squares.value() - rest.value() ** 2 / count, 0);
  return {
    count,
    mean,
    deviation: count > 1 ? Math.sqrt(sum / (count - 1)) : 0,
    lagOneCorrelation: products.value() / squares.value(),
  };
}
