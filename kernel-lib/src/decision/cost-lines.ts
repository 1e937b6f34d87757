import type { CostRow } from "./expected-cost.js";
import { type Purse, type Stakes, sumText } from "./stakes.js";

/** At which other tolerance, and at which other value of an hour, another option would cost least. */
export function costLines(
  rows: readonly CostRow[],
  stakes: Stakes,
  purse: Purse,
  toleranceUm: number,
): readonly string[] {
  return [...byTolerance(rows, purse.costOf("ifMissed", stakes.ifMissed), toleranceUm), ...byHour(rows, stakes, purse)];
}

/** the nearest tolerances below and above at which the choice is another one, on a grid of a fiftieth of the tolerance */
function byTolerance(rows: readonly CostRow[], missed: number, toleranceUm: number): readonly string[] {
  const bestAt = (limitUm: number) =>
    leastBy(rows, ({ doing, option: { drawnUm = [] } }) => {
      const over = drawnUm.filter((f) => f > limitUm).length / drawnUm.length;
      return doing + missed * over;
    });
  const now = bestAt(toleranceUm);
  return ([-1, 1] as const).flatMap((way) => {
    for (let k = 1; k <= (way < 0 ? 49 : 100); k++) {
      const limitUm = toleranceUm * (1 + (way * k) / 50);
      const then = bestAt(limitUm);
      if (then === now) continue;
      const side = way < 0 ? "down to" : "from";
      return [
        `a tolerance ${side} about ${limitUm.toFixed(1)} µm${way < 0 ? " or less" : " upwards"}: ${then.option.name} would cost least`,
      ];
    }
    return [];
  });
}

/** the nearest values of an hour below and above at which the choice is another one */
function byHour(rows: readonly CostRow[], { ifMissed, hourlyValue }: Stakes, purse: Purse): readonly string[] {
  const now = hourlyValue?.amount;
  if (now === undefined) return [];
  const missed = purse.partsOf("ifMissed", ifMissed);
  const lines = rows.map(({ option, chanceToMiss }) => {
    const own = purse.partsOf(option.name, option.effort);
    return { option, hours: own.hours + chanceToMiss * missed.hours, money: own.money + chanceToMiss * missed.money };
  });
  const bestAt = (hour: number) => leastBy(lines, ({ hours, money }) => money + hours * hour);
  const crossings = lines
    .flatMap((a) => lines.flatMap((b) => (a.hours > b.hours ? [(b.money - a.money) / (a.hours - b.hours)] : [])))
    .filter((hour) => hour > 0)
    .sort((a, b) => a - b);
  const best = bestAt(now);
  const below = crossings.filter((hour) => hour < now).findLast((hour) => bestAt(hour * (1 - 1e-9)) !== best);
  const above = crossings.filter((hour) => hour > now).find((hour) => bestAt(hour * (1 + 1e-9)) !== best);
  const line = (hour: number, words: string, beside: number) =>
    `an hour worth ${words} ${sumText(hour, purse.unit)}: ${bestAt(hour * beside).option.name} would cost least`;
  return [
    ...(below === undefined ? [] : [line(below, "less than", 1 - 1e-9)]),
    ...(above === undefined ? [] : [line(above, "more than", 1 + 1e-9)]),
  ];
}

function leastBy<T>(list: readonly T[], cost: (of: T) => number): T {
  return list.reduce((a, b) => (cost(b) < cost(a) ? b : a));
}
