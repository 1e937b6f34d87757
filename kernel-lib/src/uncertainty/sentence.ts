import type { Kind, Quantity, UnitSystem } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { withCaveats } from "./caveat.js";
import { CorrelatedGroup } from "./correlated-group.js";
import { measuredCoverage } from "./coverage.js";
import { contribution, type Measured } from "./measured.js";
import { report } from "./report.js";

/** what a budget has beyond a measured value, in SI */
export interface Beyond {
  readonly measurand: string;
  readonly secondOrderSi: number;
  /** labels of inputs that move the result neither alone nor with another one, within u of their estimates */
  readonly idle: readonly string[];
}

/** What 95 % means here, in words. */
export const ninetyFivePercent =
  "intervals made this way hold the true value 95 times in 100, if the model is right and the inputs are as stated";

/** Value, U, k, its origin, and what speaks against the 95 %. */
export function budgetSentence<K extends Kind>(result: Measured<K>, beyond: Beyond, system?: UnitSystem): string {
  const { measurand } = beyond;
  if (result.terms.length === 0) return `${measurand}: ${result.text(system)}`;
  const nu = result.effectiveDegreesOfFreedom;
  const k =
    nu > 1000
      ? "the normal law"
      : `Student's t with ${nu >= 1 ? Math.trunc(nu) : printNumber(nu, 2)} effective degrees of freedom`;
  const [low, high] = result.interval();
  const U = (result.expandedUncertainty() as Quantity<Kind>).si;
  const ends = [low, high].map((end) => report(result.kind, end.si, U, system).value).join(" to ");
  const note = coverageNote(result, beyond);
  const sentence = `${measurand}: ${result.text(system)}, that is ${ends}; k from ${k} (JCGM 100); ${ninetyFivePercent}${note ? `; ${note}` : ""}`;
  return withCaveats(sentence, result.caveats);
}

/** What speaks against a coverage of 95 %: a lone flat input, very few readings, a model that bends, correlated inputs
 * without degrees of freedom of their own, inputs without effect. */
export function coverageNote<K extends Kind>(result: Measured<K>, { secondOrderSi, idle }: Beyond): string {
  const notes = result.terms.length === 0 ? [] : notesOfTerms(result, secondOrderSi);
  if (idle.length > 0) {
    const names = idle.map((label) => `"${label}"`).join(", ");
    notes.push(`${names} has no effect on the result, neither at first nor at second order; check the model`);
  }
  return notes.join("; ");
}

function notesOfTerms<K extends Kind>(result: Measured<K>, secondOrderSi: number): string[] {
  const u = Math.hypot(...result.terms.map(contribution));
  const notes: string[] = [];
  const [largest] = [...result.terms].sort((a, b) => contribution(b) - contribution(a));
  const { label, distribution } = largest!.input;
  const share = (contribution(largest!) / u) ** 2;
  if (share > 0.5 && distribution !== "normal" && distribution !== "t") {
    notes.push(
      `the ${distribution} input "${label}" makes up ${Math.round(100 * share)} % of the variance, so they hold it more often`,
    );
  }
  if (result.effectiveDegreesOfFreedom < 4) {
    notes.push("with fewer than four effective degrees of freedom they may hold it less often; take more readings");
  }
  const few = result.terms.find((term) => term.input.degreesOfFreedom < 4 && contribution(term) > 0.2 * u);
  if (notes.length > 0 || few) notes.push(measuredText(result));
  if (Math.abs(secondOrderSi - u) > 0.05 * u) {
    notes.push(
      `the model bends within the uncertainty of its inputs: with second-order terms u is ${printNumber(secondOrderSi / u, 2)} times the first-order figure used here`,
    );
  }
  return [...notes, ...notesOfGroups(result)];
}

/** Outside the cases for which 95 % is claimed, what it comes to in the end is counted. */
function measuredText<K extends Kind>(result: Measured<K>): string {
  const { repeats, rate } = measuredCoverage(result, { seed: 95 });
  return `counted over ${repeats.toLocaleString("en").replaceAll(",", "\u2009")} repeats of the measurement, they hold it ${rate === 1 ? "100" : Math.min(99.9, 100 * rate).toFixed(1)} times in 100`;
}

/** The Welch–Satterthwaite formula is for independent inputs: correlated ones enter as one line, with one ν. */
function notesOfGroups<K extends Kind>({ terms }: Measured<K>): readonly string[] {
  const groups = new Set(terms.map(({ input }) => input.group));
  return [...groups].flatMap((group) =>
    group instanceof CorrelatedGroup && !group.degreesOfFreedomStated
      ? [
          `the Welch–Satterthwaite formula does not hold for correlated inputs (${group.labels.join(", ")}): the least of their degrees of freedom, ${printNumber(group.degreesOfFreedom, 3)}, is taken for all of them; state one for the group`,
        ]
      : [],
  );
}
