import { simultaneousFactor } from "../numerics/index.js";
import { type Slope, umPerM } from "../quantity/index.js";
import type { LevelReading, LevelSurvey } from "./level-reading.js";
import { placeName } from "./level-runs.js";
import type { LevelSolution } from "./level-solution.js";

/** below this share of its own error a reading shows too little of a blunder */
export const leastRedundancy = 0.3;

/** A reading of a level survey, and what the others say of it. */
export interface CheckedReading extends LevelReading {
  /** reading less what the heights and the zero make it */
  readonly residual: Slope;
  /** share of a blunder in it that its own residual shows, 0 to 1 */
  readonly redundancy: number;
  readonly verdict: "fits" | "stands out" | "can't be checked";
  /** for one that can be checked: by so much it is off, as the others have it */
  readonly off?: Slope;
  /** off as a multiple of its standard uncertainty */
  readonly times?: number;
  /** a blunder this large would be found 8 times in 10 */
  readonly smallestFound?: Slope;
  /** where it stands out: others that would explain the misfit as well */
  readonly orInstead: readonly string[];
}

/** The test of all readings of one survey. */
export interface BlunderTest {
  readonly readings: readonly CheckedReading[];
  /** multiple above which a reading stands out: chance alone reaches it in 1 of 20 clean surveys */
  readonly limit: number;
}

/** Solves the survey without the readings listed. Of a reading that can be checked the others always make a network. */
type Solve = (without: ReadonlySet<number>) => LevelSolution;

/**
 * Tests every reading against the others: its residual over the standard deviation that the others give, two-sided,
 * limit for all readings together. One that stands out most is set aside and the rest is tested again, five at most.
 */
export function testReadings(survey: LevelSurvey, solve: Solve): BlunderTest {
  const aside = new Map<number, CheckedReading>();
  for (;;) {
    const left = survey.readings.map((_, k) => k).filter((k) => !aside.has(k));
    const solved = solve(new Set(aside.keys()));
    const tested = testOnce(survey, left, solved);
    const limit = limitOf(survey, tested, solved.degreesOfFreedom);
    const worst = tested.filter(({ times }) => times !== undefined && times > limit).sort(larger)[0];
    if (worst === undefined || aside.size >= 5) {
      const rest = new Map(tested.map((reading) => [reading.number, published(reading)]));
      return { limit, readings: survey.readings.map((_, k) => aside.get(k) ?? rest.get(k)!) };
    }
    const partners = tested.filter(
      ({ number, place }) => number !== worst.number && Math.abs(solved.alike(worst.place, place)) > 0.95,
    );
    aside.set(worst.number, {
      ...published(worst),
      orInstead: partners.map(({ reading }) => readingName(reading)),
    });
  }
}

interface Tested {
  readonly number: number;
  /** among the readings that are left */
  readonly place: number;
  readonly reading: LevelReading;
  readonly residual: number;
  readonly redundancy: number;
  readonly spread?: number;
  readonly times?: number;
  limit?: number;
}

function larger(a: Tested, b: Tested): number {
  return b.times! - a.times!;
}

function testOnce(survey: LevelSurvey, left: readonly number[], solution: LevelSolution): Tested[] {
  const { instrument, readings } = survey;
  const { residualsUmPerM, redundancies, degreesOfFreedom, squares } = solution;
  const floor = instrument.resolution.in("um/m") / Math.sqrt(12);
  const stated = instrument.repeatability?.standardDeviation.in("um/m");
  return left.map((number, place): Tested => {
    const [residual, redundancy] = [residualsUmPerM[place]!, redundancies[place]!];
    const bare = { number, place, reading: readings[number]!, residual, redundancy };
    if (!(redundancy > leastRedundancy && (stated !== undefined || degreesOfFreedom > 1))) return bare;
    const others = Math.sqrt(Math.max(0, squares - residual ** 2 / redundancy) / (degreesOfFreedom - 1));
    const spread = Math.max(stated ?? others, floor);
    return { ...bare, spread, times: Math.abs(residual) / (spread * Math.sqrt(redundancy)) };
  });
}

function limitOf({ instrument }: LevelSurvey, tested: Tested[], degreesOfFreedom: number): number {
  const nu = instrument.repeatability?.degreesOfFreedom ?? degreesOfFreedom - 1;
  const count = tested.filter(({ times }) => times !== undefined).length;
  const limit = count > 0 ? simultaneousFactor(count, nu) : Number.POSITIVE_INFINITY;
  for (const one of tested) one.limit = limit;
  return limit;
}

function published(tested: Tested): CheckedReading {
  const { reading, residual, redundancy, spread, times, limit } = tested;
  const common = { ...reading, residual: umPerM(residual), redundancy, orInstead: [] };
  if (times === undefined) return { ...common, verdict: "can't be checked" };
  return {
    ...common,
    verdict: times > limit! ? "stands out" : "fits",
    off: umPerM(residual / redundancy),
    times,
    // 0.84: the normal quantile of 8 in 10
    smallestFound: umPerM(((limit! + 0.84) * spread!) / Math.sqrt(redundancy)),
  };
}

/** "line front, A1 to A2" */
export function readingName({ line, from, to }: LevelReading): string {
  return `line ${line}, ${placeName(from)} to ${placeName(to)}`;
}
