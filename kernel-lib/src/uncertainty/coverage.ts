import { Draws } from "../numerics/draws.js";
import { normalQuantile, tQuantile } from "../numerics/index.js";
import type { AnyInput } from "./input.js";
import { LawColumns } from "./law-columns.js";
import type { AnyMeasured, Term } from "./measured.js";

/** How often intervals made by the rule hold the true value, counted over repeats of the whole measurement. */
export interface Coverage {
  readonly repeats: number;
  readonly hits: number;
  /** hits over repeats */
  readonly rate: number;
}

/** repeats computed together */
const columnRepeats = 2000;

/**
 * Repeats the whole measurement many times, with errors drawn from the laws of the inputs and the spread of inputs read
 * a few times estimated anew each time, and counts how often value ± U holds the true value. The model is taken as
 * straight.
 *
 * @param result a measured value with its terms
 * @param options `level` of U, number of repeats (rounded up to whole 2000), `seed`
 * @see JCGM 100:2008, G.4: what the effective degrees of freedom promise
 * @example
 * const flat = Measured.from(input.rectangular({ label: "scale", estimate: um(0), halfWidth: um(3) }));
 * uncertainty.measuredCoverage(flat, { seed: 1 }).rate // => 1
 */
export function measuredCoverage(
  { terms }: AnyMeasured,
  {
    level = 0.95,
    repeats = 10_000,
    seed,
  }: { readonly level?: number; readonly repeats?: number; readonly seed: number },
): Coverage {
  const read = terms.filter(({ input }) => input.law.name === "t");
  const other = terms.filter(({ input }) => input.law.name !== "t");
  const columns = new LawColumns(
    other.map(({ input }) => input),
    columnRepeats,
  );
  const shifts = new Float64Array(other.length * columnRepeats);
  const draws = new Draws();
  const factor = coverageFactors(level);
  let hits = 0;
  let done = 0;
  for (let block = 0; done < repeats; block++) {
    columns.start(seed, 2 * block);
    columns.fill(shifts, columnRepeats);
    draws.start(seed, 2 * block + 1);
    const state = new Columns(columnRepeats);
    state.addKnown(other, shifts);
    for (const group of groupsOf(read)) state.addEstimated(group, draws);
    hits += state.hits(factor);
    done += columnRepeats;
  }
  return { repeats: done, hits, rate: hits / done };
}

/** errors and estimated variances of one column of repeats */
class Columns {
  private readonly error: Float64Array;
  private readonly variance: Float64Array;
  /** Σ (variance of a line)² / ν, the denominator of the Welch–Satterthwaite formula */
  private readonly spread: Float64Array;

  constructor(private readonly size: number) {
    this.error = new Float64Array(size);
    this.variance = new Float64Array(size);
    this.spread = new Float64Array(size);
  }

  addKnown(terms: readonly Term[], shifts: Float64Array): void {
    terms.forEach(({ input, sensitivity }, k) => {
      const variance = (sensitivity * input.uncertaintySi) ** 2;
      for (let i = 0; i < this.size; i++) this.error[i] = this.error[i]! + sensitivity * shifts[k * this.size + i]!;
      this.addLine(variance, input.degreesOfFreedom, () => 1);
    });
  }

  /** inputs whose spread comes from one set of readings: their estimate errs by χ² together */
  addEstimated(terms: readonly Term[], draws: Draws): void {
    const normal = new Float64Array(this.size);
    let variance = 0;
    for (const { input, sensitivity } of terms) {
      const scale = sensitivity * input.uncertaintySi;
      draws.normal(normal, 0, scale);
      for (let i = 0; i < this.size; i++) this.error[i] = this.error[i]! + normal[i]!;
      variance += scale ** 2;
    }
    const { degreesOfFreedom } = terms[0]!.input;
    const spread = new Float64Array(this.size);
    draws.spread(spread, degreesOfFreedom);
    this.addLine(variance, degreesOfFreedom, (i) => spread[i]! ** -2);
  }

  hits(factor: (degreesOfFreedom: number) => number): number {
    let count = 0;
    for (let i = 0; i < this.size; i++) {
      const variance = this.variance[i]!;
      const nu = variance ** 2 / this.spread[i]!;
      if (Math.abs(this.error[i]!) <= factor(nu) * Math.sqrt(variance)) count++;
    }
    return count;
  }

  private addLine(variance: number, degreesOfFreedom: number, share: (i: number) => number): void {
    for (let i = 0; i < this.size; i++) {
      const found = variance * share(i);
      this.variance[i] = this.variance[i]! + found;
      this.spread[i] = this.spread[i]! + found ** 2 / degreesOfFreedom;
    }
  }
}

function groupsOf(terms: readonly Term[]): readonly (readonly Term[])[] {
  const groups = new Map<object, Term[]>();
  for (const term of terms) {
    const { group }: AnyInput = term.input;
    groups.set(group, [...(groups.get(group) ?? []), term]);
  }
  return [...groups.values()];
}

/** k by truncated degrees of freedom, each computed once */
function coverageFactors(level: number): (degreesOfFreedom: number) => number {
  const p = 0.5 + level / 2;
  const known = new Map<number, number>();
  return (nu) => {
    const whole = nu >= 1 ? Math.min(Math.trunc(nu), 10_000) : 1;
    let k = known.get(whole);
    if (k === undefined) {
      k = whole === 10_000 ? normalQuantile(p) : tQuantile(p, whole);
      known.set(whole, k);
    }
    return k;
  };
}
