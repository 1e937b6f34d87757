import { tCdf } from "../numerics/distributions.js";
import { orderAt, rowsWhere, type SheetColumns, wordAt } from "./columns.js";
import type { Checked, Finding } from "./finding.js";
import { chanceText } from "./health-readings.js";
import { asideTest } from "./height-table.js";
import { passShifts } from "./pass-test.js";
import { isDatum } from "./sheet.js";

/** chance of a false alarm that the test of approaches is set to */
const approachRate = 0.002;

/** A clock that runs back while the readings go on. */
export function checkClock({ sheet: { columns } }: Checked): readonly Finding[] {
  const { time, labels, place, pass } = columns;
  if (!time) return [];
  const rows = inOrder(columns).filter((i) => !Number.isNaN(time[i]!));
  const back = rows.filter((i, k) => k > 0 && time[i]! < time[rows[k - 1]!]!);
  if (back.length === 0) return [];
  const first = labels[place[back[0]!]!]!;
  const times = back.length === 1 ? "once" : `${back.length} times`;
  return [
    {
      check: "clock",
      severity: "check",
      what: `the clock runs back ${times}, first at ${first}, pass ${pass[back[0]!]}; the order of the readings is used instead of it`,
      places: [...new Set(back.map((i) => labels[place[i]!]!))],
      howSure: "certain",
      whatToDo: "correct the time there, or write the hours past midnight on (head the column time/h)",
    },
  ];
}

/** Datum returns that should be there: at the start, at the end, and every datum in every round. */
export function checkReturns({ sheet, raw }: Checked): readonly Finding[] {
  const { columns } = sheet;
  if (raw.datum.z.length === 0 || !raw.when) return [];
  const isAside = asideTest(sheet);
  const rows = inOrder(columns).filter((i) => !Number.isNaN(columns.z[i]!) && !isAside(i));
  const datum = rows.map((i) => isDatum(columns.labels[columns.place[i]!]!));
  const missing: string[] = [];
  if (!datum[0]) missing.push(`the survey begins without one (the first stands ${datum.indexOf(true)} readings on)`);
  if (!datum.at(-1)) {
    missing.push(
      `it ends without one (the last stands ${datum.length - 1 - datum.lastIndexOf(true)} readings before the end)`,
    );
  }
  const labels = new Set(raw.datum.label);
  const seen = new Map<number, Set<string>>();
  let round = 0;
  rows.forEach((i, k) => {
    if (k > 0 && datum[k] && !datum[k - 1]) round++;
    if (!datum[k]) return;
    seen.set(round, (seen.get(round) ?? new Set()).add(columns.labels[columns.place[i]!]!));
  });
  [...seen.values()].forEach((there, k) => {
    const left = [...labels].filter((label) => !there.has(label));
    if (left.length > 0) missing.push(`${left.join(", ")} is not in round ${k + 1} of ${seen.size}`);
  });
  if (missing.length === 0) return [];
  return [
    {
      check: "returns",
      severity: "check",
      what: `a datum return is missing: ${missing.slice(0, 3).join("; ")}`,
      places: [...labels],
      howSure: "certain",
      whatToDo:
        "read every datum at the start, between and at the end; beyond the last return drift is only carried on",
    },
  ];
}

/** Places approached from both sides that read differently: hysteresis of the gauge, or play. */
export function checkApproach({ sheet, table, scatter }: Checked): readonly Finding[] {
  const { columns } = sheet;
  if (!columns.approach || columns.approach.words.length < 2) return [];
  const words = columns.approach.words;
  const gauge = sheet.preamble.gauge;
  const mixed = `the sheet has readings approached ${words.join(" and ")}`;
  const unstated: Finding = {
    check: "approach",
    severity: "note",
    what: `${mixed}, and the gauge states no hysteresis`,
    places: [],
    howSure: "certain",
    whatToDo: "approach every place from the same side, or state the hysteresis of the gauge",
  };
  const effect = scatter && approachEffect(columns, sheet, table, scatter);
  if (!effect) return gauge.hysteresis === undefined ? [unstated] : [];
  if (!(effect.chance < approachRate && Math.abs(effect.size) > table.step / 2)) return [];
  return [
    {
      check: "approach",
      severity: "check",
      what: `places approached ${words[0]} read ${Math.abs(effect.size).toFixed(1)} µm ${effect.size > 0 ? "higher" : "lower"} than approached ${words[1]}`,
      places: [],
      howSure: `${chanceText(effect.chance)}; standard uncertainty ${effect.standardUncertainty.toFixed(1)} µm over ${effect.places} places`,
      whatToDo: "approach every place from the same side; until then the heights carry this hysteresis or play",
    },
  ];
}

interface Side {
  sum: number;
  n: number;
}

function approachEffect(
  columns: SheetColumns,
  sheet: Checked["sheet"],
  table: Checked["table"],
  scatter: NonNullable<Checked["scatter"]>,
) {
  const isAside = asideTest(sheet);
  const rows = rowsWhere(
    columns,
    (i) => !isDatum(columns.labels[columns.place[i]!]!) && !Number.isNaN(columns.z[i]!) && !isAside(i),
  );
  const shift = new Map(passShifts(table, 1).map(({ pass, offset }) => [pass, offset]));
  const [first, second] = columns.approach!.words;
  const sums = table.labels.map((): readonly [Side, Side] => [
    { sum: 0, n: 0 },
    { sum: 0, n: 0 },
  ]);
  const passesOf = [new Set<number>(), new Set<number>()];
  rows.forEach((row, k) => {
    const word = wordAt(columns.approach, row);
    if (word !== first && word !== second) return;
    const side = word === first ? 0 : 1;
    passesOf[side]!.add(table.pass[k]!);
    const cell = sums[table.place[k]!]![side];
    cell.sum += table.z[k]! - (shift.get(table.pass[k]!) ?? 0);
    cell.n++;
  });
  // a pass approached from one side only cannot be told from a pass that was zeroed anew
  if (![...passesOf[0]!].some((pass) => passesOf[1]!.has(pass))) return undefined;
  const both = sums.filter(([a, b]) => a.n > 0 && b.n > 0);
  if (both.length < 3) return undefined;
  const size = both.reduce((sum, [a, b]) => sum + a.sum / a.n - b.sum / b.n, 0) / both.length;
  const spread = Math.max(scatter.standardDeviation, table.step / Math.sqrt(12));
  const variance = both.reduce((sum, [a, b]) => sum + 1 / a.n + 1 / b.n, 0) / both.length ** 2;
  const standardUncertainty = spread * Math.sqrt(variance);
  const chance = 2 * tCdf(-Math.abs(size) / standardUncertainty, scatter.degreesOfFreedom);
  return { size, standardUncertainty, chance, places: both.length };
}

/** rows as they were read, where the sheet says it; else as they stand */
function inOrder(columns: SheetColumns): number[] {
  const rows = Array.from({ length: columns.count }, (_, i) => i);
  if (typeof columns.order !== "object") return rows;
  return rows.sort((a, b) => (orderAt(columns, a) ?? 0) - (orderAt(columns, b) ?? 0) || a - b);
}
