import { MeasurementError } from "../measurement-error.js";
import { withArticle } from "../words.js";
import type { Kind } from "./kinds.js";
import type { Difference, ScaledKind } from "./products.js";
import { Quantity } from "./quantity.js";

/** what a list has to be besides: of one kind, not of two that would pass as their union */
type OneKind<K extends Kind, All = K> = (K extends All ? ([All] extends [K] ? true : false) : never) extends true
  ? unknown
  : "quantities of one kind";

/**
 * Sum of quantities of one kind, the unit kept. Temperatures are points on a scale and have no sum.
 *
 * @throws MeasurementError `empty-list`, `kind-mismatch`
 * @example
 * sum([mm(1), um(5), thou(1)]).in("um") // => 1030.4
 */
export function sum<K extends ScaledKind>(values: readonly Quantity<K>[] & OneKind<K>): Quantity<K> {
  const kind = kindOfAll("sum", values);
  if ((kind as Kind) === "temperature") {
    throw new MeasurementError(
      "kind-mismatch",
      "sum: temperatures are points on a scale and have no sum; take their mean",
    );
  }
  return Quantity.fromSi(kind, total(values));
}

/**
 * Mean of quantities of one kind.
 *
 * @throws MeasurementError `empty-list`, `kind-mismatch`
 * @example
 * `${mean([degC(20), degC(21)])}` // => "20.5 °C"
 */
export function mean<K extends Kind>(values: readonly Quantity<K>[] & OneKind<K>): Quantity<K> {
  const kind = kindOfAll("mean", values);
  return Quantity.fromSi(kind, total(values) / values.length);
}

/**
 * The largest of a list: the value itself, not a copy. "Largest" counts signs: 1 µm is larger than −5 µm.
 *
 * @throws MeasurementError `empty-list`, `kind-mismatch`
 * @example
 * `${largest([um(3), um(-5), um(4)])}` // => "4 µm"
 */
export function largest<K extends Kind>(values: readonly Quantity<K>[] & OneKind<K>): Quantity<K> {
  kindOfAll("largest", values);
  return values.reduce((most, value) => (value.si > most.si ? value : most));
}

/**
 * The smallest of a list: the value itself, not a copy. "Smallest" counts signs: −5 µm is smaller than 1 µm.
 *
 * @throws MeasurementError `empty-list`, `kind-mismatch`
 * @example
 * `${smallest([um(3), um(-5), um(4)])}` // => "−5 µm"
 */
export function smallest<K extends Kind>(values: readonly Quantity<K>[] & OneKind<K>): Quantity<K> {
  kindOfAll("smallest", values);
  return values.reduce((least, value) => (value.si < least.si ? value : least));
}

/**
 * Largest less smallest; of temperatures a temperature difference.
 *
 * @throws MeasurementError `empty-list`, `kind-mismatch`
 * @example
 * range([degC(19), degC(21.5)]).in("K") // => 2.5
 */
export function range<K extends Kind>(values: readonly Quantity<K>[] & OneKind<K>): Quantity<Difference<K>> {
  const kind: Kind = kindOfAll("range", values);
  const all = values.map(({ si }) => si);
  const spread = all.reduce((a, b) => Math.max(a, b)) - all.reduce((a, b) => Math.min(a, b));
  const own = kind === "temperature" ? "temperature difference" : kind;
  return Quantity.fromSi(own, spread) as Quantity<Kind> as Quantity<Difference<K>>;
}

/** Neumaier's sum: what each addition rounds off is kept and added at the end. */
function total(values: readonly Pick<Quantity<Kind>, "si">[]): number {
  let high = 0;
  let low = 0;
  for (const { si } of values) {
    const next = high + si;
    low += Math.abs(high) >= Math.abs(si) ? high - next + si : si - next + high;
    high = next;
  }
  return high + low;
}

function kindOfAll<K extends Kind>(where: string, values: readonly Quantity<K>[]): K {
  const [first] = values;
  if (first === undefined) {
    throw new MeasurementError("empty-list", `${where}: the list is empty; give one quantity at least`);
  }
  const bad = values.findIndex((value) => !(value instanceof Quantity && value.kind === first.kind));
  if (bad < 0) return first.kind;
  const given: unknown = values[bad];
  const what =
    given instanceof Quantity ? `${given}, ${withArticle(given.kind)}` : `${String(given)}, which has no unit`;
  throw new MeasurementError(
    "kind-mismatch",
    `${where}: number ${bad + 1} of the list is ${what}; give quantities of one kind${bad > 0 ? `, as ${first} is` : ""}`,
  );
}
