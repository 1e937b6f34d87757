import { MeasurementError } from "../measurement-error.js";
import { meanAndDeviation } from "../numerics/index.js";
import { type Difference, type Kind, Quantity } from "../quantity/index.js";
import { counted, withArticle } from "../words.js";
import { Input } from "./input.js";
import { differenceOf, type InputNotes } from "./input-notes.js";
import type { PooledSpread } from "./pooled-spread.js";

export interface Readings<K extends Kind> extends Omit<InputNotes, "degreesOfFreedom" | "relativeDoubt"> {
  readonly readings: readonly Quantity<K>[];
  /** smallest step of the display */
  readonly resolution?: Quantity<Difference<K>>;
  /** the scatter of one reading from other readings taken the same way: then one reading is enough */
  readonly pooled?: PooledSpread<Difference<K>>;
}

/**
 * Type A: the mean of repeated readings, u = s/√n with ν = n − 1, never below resolution/√12. With a pooled scatter s and
 * ν are those of the pool; inputs that share the pool share its degrees of freedom.
 *
 * @throws MeasurementError `too-few-readings` for none, or for one without a pooled scatter; `no-spread` when all are equal
 *   and no resolution is given; `input` for a pooled scatter of another kind
 * @see JCGM 100, 4.2
 * @example
 * input.fromReadings({ label: "gap", readings: [um(10), um(12), um(11)] }).degreesOfFreedom // => 2
 * @example
 * const pooled = uncertainty.pooledSpread([[um(10), um(12)], [um(31), um(30), um(32)]]);
 * `${input.fromReadings({ label: "gap", readings: [um(20)], pooled })}` // => "gap: 20 µm, u = 1.1547 µm (t, type A)"
 */
export function fromReadings<K extends Kind>(spec: Readings<K>): Input<K> {
  const { label, readings, resolution, pooled, source = sourceOf(readings.length, pooled) } = spec;
  const [first] = readings;
  if (first === undefined || (readings.length < 2 && pooled === undefined)) {
    throw new MeasurementError(
      "too-few-readings",
      `input "${label}": ${counted(readings.length, "reading")}; a scatter needs two at least, better five`,
    );
  }
  const n = readings.length;
  const zero = differenceOf(first.kind, 0) as Quantity<Kind>;
  const stated = pooled?.standardDeviation as Quantity<Kind> | undefined;
  if (stated && stated.kind !== zero.kind) {
    throw new MeasurementError(
      "input",
      `input "${label}": the pooled scatter is ${withArticle(stated.kind)}, the readings need ${withArticle(zero.kind)}; pool readings of the same kind`,
    );
  }
  const { mean, deviation } = meanAndDeviation(readings.map(({ si }) => si));
  const fromScatter = (stated?.si ?? deviation) / Math.sqrt(n);
  const fromSteps = ((resolution as Quantity<Kind> | undefined)?.si ?? 0) / Math.sqrt(12);
  if (!(Math.max(fromScatter, fromSteps) > 0)) {
    throw new MeasurementError(
      "no-spread",
      `input "${label}": all ${n} readings are ${first}; the steps of the display hide the scatter, give its resolution`,
    );
  }
  const scattered = fromScatter >= fromSteps;
  return new Input<K>({
    label,
    source,
    estimate: Quantity.fromSi(first.kind, mean),
    standardUncertainty: differenceOf(first.kind, Math.max(fromScatter, fromSteps)),
    distribution: scattered ? "t" : "rectangular",
    degreesOfFreedom: scattered ? (pooled?.degreesOfFreedom ?? n - 1) : Number.POSITIVE_INFINITY,
    evaluation: scattered ? "A" : "B",
    ...(scattered && pooled ? { group: pooled } : {}),
  });
}

function sourceOf(count: number, pooled: { readonly groups: number } | undefined): string {
  const readings = count === 1 ? "one reading" : `${count} readings`;
  return pooled ? `${readings}, scatter pooled over ${pooled.groups} groups` : readings;
}
