import { type DriftFit, fitDrift } from "./drift.js";
import { numbersFor } from "./fill.js";
import type { HeightTable } from "./height-table.js";
import type { SurfaceDrift } from "./surface.js";

/** Share of clean surveys in which a straight drift, and in which a bent one, is seen by mistake. */
export const driftRates = { line: 0.011, bend: 0.004 };

/** Drift taken out of the readings, and the doubt it leaves. */
export interface DriftCorrection {
  /** what to take off each reading, µm, in the order of the table */
  readonly perReading: Float64Array;
  readonly drift: SurfaceDrift;
  readonly fit: DriftFit | undefined;
}

/** Judges the datum returns and works out what to take off: nothing, a straight line, or a line from return to return. */
export function correctDrift(table: HeightTable, oneZero: boolean): DriftCorrection {
  const fit = fitDrift(table, oneZero);
  const when = table.when;
  if (!fit || !when) return untested(table);
  const { model, shift } = chosen(fit);
  const perReading = numbersFor(when, shift);
  const said = `${um(fit.total)} µm over the survey by a straight line, standard uncertainty ${um(fit.totalUncertainty)} µm`;
  const done = {
    "none seen": `the datum returns show no drift (${said}); nothing was taken out`,
    "straight line": `the datum returns drift (${said}); the line was taken out`,
    "between returns": `the datum returns drift unevenly (${said}); straight lines from return to return were taken out`,
  }[model];
  return { perReading, drift: { model, statement: done, modesUm: modes(table, when, fit, model) }, fit };
}

function untested(table: HeightTable): DriftCorrection {
  const count = table.datum.z.length;
  const why = !table.when
    ? "the sheet does not say in which order it was read"
    : count === 0
      ? "the sheet has no datum returns"
      : `the ${count} datum reading(s) are no return: no datum was visited twice`;
  const drift: SurfaceDrift = {
    model: "not tested",
    statement: `${why}; drift was not tested and nothing was taken out`,
    modesUm: [],
  };
  return { perReading: new Float64Array(table.z.length), drift, fit: undefined };
}

type Model = "none seen" | "straight line" | "between returns";

function chosen(fit: DriftFit): { model: Model; shift: (t: number) => number } {
  const { rounds } = fit;
  if (fit.bendChance < driftRates.bend && rounds) {
    return { model: "between returns", shift: (t) => interpolate(rounds.when, rounds.shift, t) };
  }
  if (fit.lineChance < driftRates.line) return { model: "straight line", shift: (t) => fit.slope * (t - fit.from) };
  return { model: "none seen", shift: () => 0 };
}

/** Shared doubt of the heights, one mode an independent cause: the slope or each round, then the swelling between
 * returns as the first four terms of a Brownian bridge. */
function modes(table: HeightTable, when: Float64Array, fit: DriftFit, model: Model): readonly (readonly number[])[] {
  const { rounds } = fit;
  const fitted =
    model === "between returns" && rounds
      ? roundModes(rounds).map((mode) => perPlace(table, when, (t) => interpolate(rounds.when, mode, t)))
      : [perPlace(table, when, (t) => fit.slopeUncertainty * (t - (fit.from + fit.to) / 2))];
  if (!rounds || !(fit.wander > 0)) return fitted;
  const bridges = rounds.when.slice(1).flatMap((end, k) => {
    const start = rounds.when[k]!;
    const size = Math.sqrt(2 * fit.wander * (end - start)) / Math.PI;
    return [1, 2, 3, 4].map((m) =>
      perPlace(table, when, (t) =>
        t > start && t < end ? (size / m) * Math.sin((m * Math.PI * (t - start)) / (end - start)) : 0,
      ),
    );
  });
  return [...fitted, ...bridges];
}

/** the covariance of the rounds, cut into independent columns (Cholesky); the first round is exactly zero */
function roundModes({ shift, fit }: NonNullable<DriftFit["rounds"]>): number[][] {
  const size = shift.length - 1;
  const labels = fit.coefficients.length - size;
  const factor: number[][] = [];
  for (let i = 0; i < size; i++) {
    factor.push(new Array<number>(size).fill(0));
    for (let j = 0; j <= i; j++) {
      let rest = fit.covarianceFactor[labels + i]![labels + j]!;
      for (let k = 0; k < j; k++) rest -= factor[i]![k]! * factor[j]![k]!;
      factor[i]![j] = i === j ? Math.sqrt(Math.max(rest, 0)) : rest / factor[j]![j]!;
    }
  }
  return factor.map((_, j) => [0, ...factor.map((row) => row[j]!)]);
}

/** mean over the readings of each place */
function perPlace(table: HeightTable, when: Float64Array, value: (t: number) => number): number[] {
  const sum = new Array<number>(table.labels.length).fill(0);
  const count = new Array<number>(table.labels.length).fill(0);
  table.place.forEach((place, i) => {
    sum[place] = sum[place]! + value(when[i]!);
    count[place] = count[place]! + 1;
  });
  return sum.map((s, i) => s / count[i]!);
}

function interpolate(at: readonly number[], values: readonly number[], t: number): number {
  const after = at.findIndex((knot) => knot >= t);
  if (after < 0) return values.at(-1)!;
  if (after === 0) return values[0]!;
  const share = (t - at[after - 1]!) / (at[after]! - at[after - 1]!);
  return values[after - 1]! + share * (values[after]! - values[after - 1]!);
}

function um(value: number): string {
  return value.toFixed(1).replace("-", "−");
}
