import type { Difference, Kind, Quantity } from "../quantity/index.js";
import { CorrelatedGroup } from "./correlated-group.js";
import { Measured, type Term } from "./measured.js";

/** What halving one contribution would do for the result. */
export interface Improvement<K extends Kind> {
  /** the input, or the inputs that are correlated and can only be improved together */
  readonly label: string;
  /** U at 95 % as it stands, and with that contribution halved */
  readonly from: Quantity<Difference<K>>;
  readonly to: Quantity<Difference<K>>;
}

/**
 * What to improve first: for each input, U with its contribution halved, the one that helps most first.
 *
 * @see JCGM 100:2008, 5.1.2 and annex G
 * @example
 * uncertainty.improvements(Measured.from(input.normal({ label: "scale", estimate: um(5), standardUncertainty: um(3) }))).at(0)?.to.text() // => "2.93995 µm"
 */
export function improvements<K extends Kind>(result: Measured<K>): readonly Improvement<K>[] {
  const from = result.expandedUncertainty();
  const groups = new Map<object, Term[]>();
  for (const term of result.terms) {
    const key = term.input.group instanceof CorrelatedGroup ? term.input.group : term.input;
    groups.set(key, [...(groups.get(key) ?? []), term]);
  }
  return [...groups]
    .map(([key, halved]) => {
      const terms = result.terms.map((term) =>
        halved.includes(term) ? { ...term, sensitivity: term.sensitivity / 2 } : term,
      );
      const label = key instanceof CorrelatedGroup ? key.labels.join(" and ") : halved[0]!.input.label;
      return { label, from, to: Measured.of(result.value, terms).expandedUncertainty() };
    })
    .sort((a, b) => siOf(a.to) - siOf(b.to));
}

function siOf(quantity: Quantity<Kind>): number {
  return quantity.si;
}
