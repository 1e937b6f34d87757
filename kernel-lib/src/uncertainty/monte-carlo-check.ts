import { type Kind, Quantity } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import type { Law } from "./law.js";
import { contribution, type Measured, type Term } from "./measured.js";
import { densityAt, type Histogram } from "./monte-carlo-histogram.js";

/** The first-order interval held against the simulated one (JCGM 101, clause 8); differences in SI. */
export interface Validation {
  /** half a unit of the last of the digits of u that are to count */
  readonly toleranceSi: number;
  /** |y − U − y_low| and |y + U − y_high|, at 95 %, the simulated interval with as much below as above it */
  readonly lowDifferenceSi: number;
  readonly highDifferenceSi: number;
  /** "not told" where the simulation itself is not sharp enough to say */
  readonly outcome: "agrees" | "differs" | "not told";
  /** why they differ, a sentence part each; empty where they do not */
  readonly reasons: readonly string[];
}

/** What of a simulated output the check looks at, in SI. */
export interface Simulated {
  readonly trials: number;
  readonly mean: number;
  readonly standardDeviation: number;
  readonly symmetric: readonly [number, number];
  readonly histogram: Histogram;
}

/** δ = ½ 10^l, where u = c 10^l and c has so many digits. @see JCGM 101:2008, 7.9.2 */
export function tolerance(u: number, digits: number): number {
  if (!(u > 0 && Number.isFinite(u))) return 0;
  const exponent = Number(u.toExponential(digits - 1).split("e")[1]);
  return 0.5 * 10 ** (exponent - digits + 1);
}

/** Holds the first-order interval against the simulated one, and says why they differ where they do. */
export function validate<K extends Kind>(result: Measured<K>, simulated: Simulated, digits: number): Validation {
  const [low, high] = simulated.symmetric;
  const U = (result.expandedUncertainty() as Quantity<Kind>).si;
  const lowDifferenceSi = Math.abs(result.value.si - U - low);
  const highDifferenceSi = Math.abs(result.value.si + U - high);
  const toleranceSi = tolerance(spreadOf(result.terms, simulated), digits);
  // the ends wander by this much from one simulation to another
  const doubt = (end: number) =>
    2 * (Math.sqrt((0.025 * 0.975) / simulated.trials) / densityAt(simulated.histogram, end));
  const slack = [doubt(low), doubt(high)] as const;
  const sure = lowDifferenceSi + slack[0] <= toleranceSi && highDifferenceSi + slack[1] <= toleranceSi;
  const unsure = lowDifferenceSi - slack[0] <= toleranceSi && highDifferenceSi - slack[1] <= toleranceSi;
  const outcome = sure ? "agrees" : unsure ? "not told" : "differs";
  const reasons = outcome === "differs" ? reasonsFor(result, simulated) : [];
  return { toleranceSi, lowDifferenceSi, highDifferenceSi, outcome, reasons };
}

/** u of a simulated output, or what stands for it where a law has none: half of the half interval */
export function spreadOf(terms: readonly Term[], { standardDeviation, symmetric: [low, high] }: Simulated): number {
  return hasNoSpread(terms) ? (high - low) / 4 : standardDeviation;
}

/** Student's t with two degrees of freedom or fewer has no standard deviation, nor has what is made of it. */
export function hasNoSpread(terms: readonly Term[]): boolean {
  return terms.some(({ input }) => !Number.isFinite(widening(input.law)));
}

/** how much wider a law is than the u that the first-order way takes for it */
function widening(law: Law): number {
  if (law.name !== "t") return 1;
  return law.degreesOfFreedom > 2 ? Math.sqrt(law.degreesOfFreedom / (law.degreesOfFreedom - 2)) : Infinity;
}

function reasonsFor<K extends Kind>(result: Measured<K>, simulated: Simulated): readonly string[] {
  const { terms } = result;
  const u = Math.hypot(...terms.map(contribution));
  const straight = Math.hypot(...terms.map((term) => contribution(term) * widening(term.input.law)));
  const few = straight > 1.02 * u ? fewReadings(terms) : [];
  const shift = simulated.mean - result.value.si;
  const ratio = simulated.standardDeviation / straight;
  const noise = 3 / Math.sqrt(2 * simulated.trials);
  const bends =
    Number.isFinite(straight) && (Math.abs(ratio - 1) > 0.01 + noise || Math.abs(shift) > (0.05 + noise) * u);
  const bend = bends
    ? [
        `the model bends within the uncertainty of its inputs: the mean lies ${off(result, shift)} the value at the estimates, u is ${printNumber(ratio, 3)} times that of a straight model`,
      ]
    : [];
  const found = [...few, ...bend, ...flat(terms, u)];
  return found.length > 0 ? found : ["the law of the result is not the t law that U takes for it"];
}

function off<K extends Kind>(result: Measured<K>, shift: number): string {
  const kind = (result.expandedUncertainty() as Quantity<Kind>).kind;
  const size = Quantity.fromSi(kind, Number(Math.abs(shift).toPrecision(2)));
  return `${size} ${shift < 0 ? "below" : "above"}`;
}

/** the inputs whose t law widens the result, the one that does most first */
function fewReadings(terms: readonly Term[]): readonly string[] {
  const grown = (term: Term) => contribution(term) ** 2 * (widening(term.input.law) ** 2 - 1);
  const inputs = terms.filter((term) => grown(term) > 0).sort((a, b) => grown(b) - grown(a));
  const most = grown(inputs[0]!);
  return inputs
    .filter((term) => grown(term) === most || grown(term) > 0.2 * most)
    .map(({ input: { label, law, degreesOfFreedom } }) => {
      const nu = printNumber(law.name === "t" ? law.degreesOfFreedom : degreesOfFreedom, 3);
      const times = widening(law);
      return Number.isFinite(times)
        ? `"${label}" is known from few readings: with ν = ${nu} a t law is √(ν/(ν − 2)) = ${printNumber(times, 3)} times as wide as its u`
        : `"${label}" has ν = ${nu}: such a t law has no standard deviation, only its quantiles count; take more readings, or pool them with others`;
    });
}

function flat(terms: readonly Term[], u: number): readonly string[] {
  return terms
    .filter((term) => contribution(term) ** 2 > 0.5 * u ** 2)
    .filter(({ input: { distribution } }) => distribution !== "normal" && distribution !== "t")
    .map((term) => {
      const share = Math.round(100 * (contribution(term) / u) ** 2);
      return `the ${term.input.distribution} input "${term.input.label}" makes up ${share} % of the variance: its values end where those of a normal law go on`;
    });
}
