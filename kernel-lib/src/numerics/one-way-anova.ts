import { MeasurementError } from "../measurement-error.js";
import { counted } from "../words.js";
import { fUpperTail } from "./distributions.js";
import { LongSum } from "./double-length.js";

/** One source of scatter. */
export interface AnovaLine {
  readonly sumOfSquares: number;
  readonly degreesOfFreedom: number;
  readonly meanSquare: number;
}

/** Scatter of groups of readings, split into that between the groups and that within them. */
export interface OneWayAnova {
  readonly between: AnovaLine;
  readonly within: AnovaLine;
  /** mean square between over mean square within; Infinity where nothing scatters within */
  readonly f: number;
  /** chance of an F this great when the groups do not differ */
  readonly p: number;
  /** mean of each group, in the unit of the values */
  readonly means: readonly number[];
  /** mean of all values */
  readonly grandMean: number;
  /** √ of the mean square within: s of one reading about the mean of its group */
  readonly residualStandardDeviation: number;
  /** part of the whole sum of squares that lies between the groups */
  readonly rSquared: number;
}

/**
 * One-way analysis of variance: do groups (days, places, hands) differ by more than the readings in each scatter?
 *
 * Deviations are taken from the mean of all values first, where the subtraction is exact, so that a large constant in
 * the values costs no digits.
 *
 * @param groups two or more lists of readings of one unit; sizes may differ, one group at least has two
 * @throws MeasurementError `anova`, `not-finite`
 * @see JCGM 100:2008, H.5; checked against the analysis of variance sets of NIST StRD
 * @example
 * numerics.oneWayAnova([[1, 2, 3], [2, 3, 4]]).f.toFixed(4) // => "1.5000"
 */
export function oneWayAnova(groups: readonly ArrayLike<number>[]): OneWayAnova {
  const count = groups.reduce((sum, group) => sum + group.length, 0);
  check(groups, count);
  const centre = longMean(groups.flatMap((group) => Array.from(group)));
  const off = groups.map((group) => Array.from(group, (value) => value - centre));
  const offMeans = off.map(longMean);
  const offGrand = longMean(off.flat());
  const betweenSum = new LongSum();
  const withinSum = new LongSum();
  off.forEach((group, i) => {
    const mean = offMeans[i]!;
    const apart = mean - offGrand;
    betweenSum.addProduct(group.length * apart, apart);
    for (const value of group) withinSum.addProduct(value - mean, value - mean);
  });
  const between = line(betweenSum.value(), groups.length - 1);
  const within = line(withinSum.value(), count - groups.length);
  const f = between.meanSquare / within.meanSquare;
  return {
    between,
    within,
    f,
    p: f === Number.POSITIVE_INFINITY ? 0 : fUpperTail(f, between.degreesOfFreedom, within.degreesOfFreedom),
    means: offMeans.map((mean) => centre + mean),
    grandMean: centre + offGrand,
    residualStandardDeviation: Math.sqrt(within.meanSquare),
    rSquared: between.sumOfSquares / (between.sumOfSquares + within.sumOfSquares),
  };
}

function line(sumOfSquares: number, degreesOfFreedom: number): AnovaLine {
  return { sumOfSquares, degreesOfFreedom, meanSquare: sumOfSquares / degreesOfFreedom };
}

function longMean(values: readonly number[]): number {
  const sum = new LongSum();
  for (const value of values) sum.add(value);
  return sum.value() / values.length;
}

function check(groups: readonly ArrayLike<number>[], count: number): void {
  const refuse = (code: string, what: string): never => {
    throw new MeasurementError(code, `oneWayAnova: ${what}`);
  };
  if (!(groups.length >= 2)) refuse("anova", `${counted(groups.length, "group")}; give two at least`);
  groups.forEach((group, i) => {
    if (group.length === 0) refuse("anova", `group ${i + 1} of ${groups.length} is empty; leave it out`);
    const bad = Array.from(group).findIndex((value) => !Number.isFinite(value));
    if (bad >= 0) refuse("not-finite", `value ${bad + 1} of group ${i + 1} is ${group[bad]}; give finite numbers`);
  });
  if (!(count > groups.length)) refuse("anova", "every group has one reading; give two at least in one of them");
  const first = groups[0]![0];
  if (groups.every((group) => Array.from(group).every((value) => value === first))) {
    refuse("anova", `all ${count} readings are ${first}; nothing scatters, give readings of a finer display`);
  }
}
