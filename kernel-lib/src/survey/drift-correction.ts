import { counted } from "../words.js";
import { type DriftFit, fitDrift, wanderOf } from "./drift.js";
import { type DriftCurve, driftCurves } from "./drift-curves.js";
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

/** Judges the datum returns and works out what to take off: nothing, a straight line, a curve that settles, or lines from
 * return to return. Tests at fixed rates say whether there is drift; where there is, the evidence says which curve. */
export function correctDrift(table: HeightTable, oneZero: boolean): DriftCorrection {
  const fit = fitDrift(table, oneZero);
  const when = table.when;
  if (!fit || !when) return untested(table);
  const curves = driftCurves(fit);
  const curve = chosen(fit, curves);
  const perReading = numbersFor(when, curve.shift);
  const said = `${um(fit.total)} µm over the survey by a straight line, standard uncertainty ${um(fit.totalUncertainty)} µm`;
  const end = um(curve.shift(fit.to));
  const done = {
    "none seen": `the datum returns show no drift beyond their scatter (${said}); nothing was taken out`,
    "straight line": `the datum returns drift (${said}); the line was taken out`,
    settling: `the datum returns settle (${end} µm in all, time constant ${lasting(curve.timeConstant ?? 0, table)}); that curve was taken out`,
    "between returns": `the datum returns drift unevenly (${said}); straight lines from return to return were taken out`,
  }[curve.model];
  const others = curves.filter((other) => other !== curve && other.share > 0.01);
  const statement = others.length > 0 ? `${done}${likelihoods(curve, others)}` : done;
  const drift: SurfaceDrift = { model: curve.model, statement, modesUm: modes(table, when, fit, curve, others) };
  return { perReading, drift, fit };
}

function likelihoods(curve: DriftCurve, others: readonly DriftCurve[]): string {
  const percent = ({ model, share }: DriftCurve) => `${model} ${Math.round(100 * share)} %`;
  return `; evidence: ${[curve, ...others].map(percent).join(", ")}, and the spread between them is in the doubt of the heights`;
}

function untested(table: HeightTable): DriftCorrection {
  const count = table.datum.z.length;
  const why = !table.when
    ? "the sheet does not say in which order it was read"
    : count === 0
      ? "the sheet has no datum returns"
      : `the ${counted(count, "datum reading is", "datum readings are")} no return: no datum was visited at two moments`;
  const drift: SurfaceDrift = {
    model: "not tested",
    statement: `${why}; drift was not tested and nothing was taken out`,
    modesUm: [],
  };
  return { perReading: new Float64Array(table.z.length), drift, fit: undefined };
}

function chosen(fit: DriftFit, curves: readonly DriftCurve[]): DriftCurve {
  const isSeen = fit.lineChance < driftRates.line || fit.bendChance < driftRates.bend;
  return curves
    .filter(({ model }) => (model === "none seen") !== isSeen)
    .reduce((best, one) => (one.share > best.share ? one : best));
}

/** Shared doubt of the heights, one mode an independent cause: the parameters of the curve, how far each other curve that
 * the evidence allows stands from it, then the swelling between returns as the first four terms of a Brownian bridge. */
function modes(
  table: HeightTable,
  when: Float64Array,
  fit: DriftFit,
  curve: DriftCurve,
  others: readonly DriftCurve[],
): readonly (readonly number[])[] {
  const { rounds } = fit;
  const spread = others.map(
    ({ share, shift }) =>
      (t: number) =>
        Math.sqrt(share) * (shift(t) - curve.shift(t)),
  );
  const fitted = [...curve.doubts, ...spread].map((doubt) => perPlace(table, when, doubt));
  const smooth = curve.model === "settling" ? curve.shift : (t: number) => fit.slope * t;
  const wander = rounds ? wanderOf(rounds, smooth) : 0;
  if (!rounds || !(wander > 0)) return fitted;
  const bridges = rounds.when.slice(1).flatMap((end, k) => {
    const start = rounds.when[k]!;
    const size = Math.sqrt(2 * wander * (end - start)) / Math.PI;
    return [1, 2, 3, 4].map((m) =>
      perPlace(table, when, (t) =>
        t > start && t < end ? (size / m) * Math.sin((m * Math.PI * (t - start)) / (end - start)) : 0,
      ),
    );
  });
  return [...fitted, ...bridges];
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

function lasting(time: number, { whenUnit }: HeightTable): string {
  const inMinutes = whenUnit === "s" && time >= 120;
  return `${Number((inMinutes ? time / 60 : time).toPrecision(2))} ${inMinutes ? "min" : whenUnit}`;
}

function um(value: number): string {
  return value.toFixed(1).replace("-", "−");
}
