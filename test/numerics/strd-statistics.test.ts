import { describe, expect, it } from "vitest";
import { fQuantile, meanAndDeviation, oneWayAnova } from "../../kernel-lib/src/numerics/index.js";
import { agreeingDigits, fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

interface Univariate {
  certified: [string, string, string];
  digits: number;
  values?: string[];
  first?: string;
  pair?: [string, string];
}

interface Anova {
  between: [string, string];
  within: [string, string];
  F: string;
  R2: string;
  s: string;
  digits: number;
  groups?: string[];
  whole?: string;
  digitsOfTreatments?: string;
}

const numbers = (text: string) => text.split(" ").map(Number);
const repeated = ([a, b]: readonly [string, string], times: number) =>
  Array.from({ length: times }, () => [Number(a), Number(b)]).flat();

describe("meanAndDeviation", () => {
  const { sets } = fixture<{ sets: Record<string, Univariate> }>("nist/univariate.json");

  it.each(Object.entries(sets))("reaches the certified digits of NIST StRD %s", (_, set) => {
    const values = set.values?.flatMap(numbers) ?? [Number(set.first), ...repeated(set.pair!, 500)];
    const { mean, deviation, lagOneCorrelation } = meanAndDeviation(values);
    const [certifiedMean, certifiedDeviation, certifiedLag] = set.certified;
    expect(agreeingDigits(mean, certifiedMean)).toBeGreaterThanOrEqual(14.5);
    expect(agreeingDigits(deviation, certifiedDeviation)).toBeGreaterThanOrEqual(set.digits);
    expect(agreeingDigits(lagOneCorrelation, certifiedLag)).toBeGreaterThanOrEqual(Math.min(set.digits, 13));
  });

  it("gives one value no scatter, and refuses none at all and what is no number", () => {
    expect(meanAndDeviation([7])).toMatchObject({ mean: 7, deviation: 0, count: 1 });
    expect(refusal(() => meanAndDeviation([])).message).toBe("meanAndDeviation: no value is given; give one at least");
    expect(refusal(() => meanAndDeviation([1, Number.NaN])).message).toBe(
      "meanAndDeviation: value 2 of 2 is NaN; give finite numbers",
    );
  });
});

describe("oneWayAnova", () => {
  const { sets } = fixture<{ sets: Record<string, Anova> }>("nist/anova.json");

  it.each(Object.entries(sets))("reaches the certified digits of NIST StRD %s", (_, set) => {
    const found = oneWayAnova(set.groups?.map(numbers) ?? simonAndLesage(set.whole!, set.digitsOfTreatments!));
    expect([found.between.degreesOfFreedom, found.within.degreesOfFreedom].map(String)).toEqual([
      set.between[0],
      set.within[0],
    ]);
    const digits = [
      agreeingDigits(found.between.sumOfSquares, set.between[1]),
      agreeingDigits(found.within.sumOfSquares, set.within[1]),
      agreeingDigits(found.f, set.F),
      agreeingDigits(found.rSquared, set.R2),
      agreeingDigits(found.residualStandardDeviation, set.s),
    ];
    expect(Math.min(...digits)).toBeGreaterThanOrEqual(set.digits);
  });

  it("agrees with the daily means of JCGM 100 H.5, from the printed means and deviations", () => {
    const h5 = fixture<{ rows: string[]; published: Record<string, string> }>("gum/daily-means.json");
    const days = h5.rows.map(numbers) as [number, number][];
    // five readings with exactly that mean and deviation: ± d, ± d, 0 about the mean, d² = s²
    const groups = days.map(([mean, s]) => [-1, -1, 0, 1, 1].map((k) => mean + k * s * 1e-6));
    const found = oneWayAnova(groups);
    const sOfMeans = meanAndDeviation(found.means).deviation;
    expect((sOfMeans * 1e6).toFixed(0)).toBe(h5.published.sOfDailyMeans);
    expect((found.residualStandardDeviation * 1e6).toFixed(0)).toBe(h5.published.pooledWithin);
    expect(found.f.toFixed(4)).toBe("2.2615");
    expect(Math.abs(found.f - Number(h5.published.F))).toBeLessThan(0.02);
    expect([found.between.degreesOfFreedom, found.within.degreesOfFreedom]).toEqual([9, 40]);
    // H.5.2.2 (from memory): F lies between the points 2.12 (5 %) and 2.45 (2.5 %) for 9 and 40
    expect([fQuantile(0.95, 9, 40).toFixed(2), fQuantile(0.975, 9, 40).toFixed(2)]).toEqual(["2.12", "2.45"]);
    expect(found.p).toBeGreaterThan(0.025);
    expect(found.p).toBeLessThan(0.05);
  });

  it("is unmoved by a constant added to all readings, and by the order of the groups", () => {
    const groups = [
      [1, 2, 4],
      [2, 3],
      [7, 5, 6, 6],
    ];
    const plain = oneWayAnova(groups);
    const shifted = oneWayAnova(groups.map((group) => group.map((v) => v + 1e9)));
    const turned = oneWayAnova([...groups].reverse());
    expect(shifted.f / plain.f).toBeCloseTo(1, 9);
    expect(turned.f / plain.f).toBeCloseTo(1, 12);
    expect(plain.f).toBeCloseTo(oneWayAnova(groups.map((group) => group.map((v) => v * 25.4))).f, 9);
  });

  it("refuses groups that say nothing", () => {
    const said = (groups: number[][]) => refusal(() => oneWayAnova(groups)).message;
    expect(said([[1, 2]])).toBe("oneWayAnova: 1 group; give two at least");
    expect(said([[1, 2], []])).toBe("oneWayAnova: group 2 of 2 is empty; leave it out");
    expect(said([[1], [2]])).toBe("oneWayAnova: every group has one reading; give two at least in one of them");
    expect(said([[1, 1], [1]])).toBe(
      "oneWayAnova: all 3 readings are 1; nothing scatters, give readings of a finer display",
    );
    expect(said([[1, 2], [Number.POSITIVE_INFINITY]])).toBe(
      "oneWayAnova: value 1 of group 2 is Infinity; give finite numbers",
    );
  });
});

/** the constructed sets of Simon and Lesage, as the fixture's note says */
function simonAndLesage(whole: string, digitsOfTreatments: string): number[][] {
  return [...digitsOfTreatments].map((digit) => {
    const end = (more: number) => `${whole}.${Number(digit) + more}`;
    return [Number(end(0)), ...repeated([end(-1), end(1)], 10)];
  });
}
