// The record of the table of the invented bed mill over four years: the planted truth and the lines drawn from it.
// Plain JavaScript that imports nothing of the package.

import { createHash } from "node:crypto";
import { generator } from "./planted.mjs";

/** The truth of the record. Flatness in µm: it stands for so long, then it climbs. */
export const recordTruth = {
  flatnessUm: 14,
  /** what one evening differs from another by; the error of the gauge is the same in all */
  eveningUm: 0.7,
  climbsFrom: "2029-01-20",
  climbUmPerYear: 3.5,
  standardUncertaintyUm: 2.37,
  mistyped: { date: "2028-04-22", plusUm: 30 },
  otherGauge: { date: "2028-11-04", standardUncertaintyUm: 1.9 },
};

/** what the job allows */
const limitUm = 16;

/** after the table was stoned, a survey each quarter, on a Saturday */
const dates = [
  ...["2027-01-23", "2027-04-24", "2027-07-24", "2027-10-23", "2028-01-22", "2028-04-22", "2028-07-22", "2028-10-21"],
  ...["2029-01-20", "2029-04-21", "2029-07-21", "2029-10-20", "2030-01-19", "2030-04-20", "2030-07-20", "2030-10-19"],
];

const years = (from, to) => (Date.parse(to) - Date.parse(from)) / 86_400_000 / 365.25;
const hundredths = (value) => Math.round(value * 100) / 100;

/** True flatness of the table on a day. */
export function trueFlatness(date) {
  const { flatnessUm, climbsFrom, climbUmPerYear } = recordTruth;
  return flatnessUm + climbUmPerYear * Math.max(0, years(climbsFrom, date));
}

/** The truth with what follows from it: the last flatness, the mean climb over all surveys, the day it passed the limit of the job. */
export function recordFacts() {
  const all = ["2026-10-24", ...dates];
  const mean = (values) => values.reduce((a, b) => a + b, 0) / values.length;
  const when = all.map((date) => years(all[0], date));
  const middle = mean(when);
  const slope =
    all.reduce((sum, date, i) => sum + (when[i] - middle) * trueFlatness(date), 0) /
    when.reduce((sum, at) => sum + (at - middle) ** 2, 0);
  const { flatnessUm, climbsFrom, climbUmPerYear } = recordTruth;
  const passed = Date.parse(climbsFrom) + ((limitUm - flatnessUm) / climbUmPerYear) * 365.25 * 86_400_000;
  return {
    ...recordTruth,
    lastUm: hundredths(trueFlatness(dates.at(-1))),
    meanClimbInAYearUm: hundredths(slope),
    limitUm,
    passesLimitOn: new Date(passed).toISOString().slice(0, 10),
  };
}

function entry(date, valueUm, more = {}) {
  return {
    date,
    subject: "table of the bed mill",
    result: "minimum zone flatness",
    valueUm: hundredths(valueUm),
    standardUncertaintyUm: recordTruth.standardUncertaintyUm,
    relativeTo: "travel",
    gauge: "plunger dial indicator, invented",
    places: "77 places, x 20 to 500 mm, y 20 to 220 mm",
    sheet: `table-${date}.csv`,
    ...more,
  };
}

/** the first line is what chapter 12 states of the stoned table, with the checksum of its sheet; the others are drawn */
function entries(stonedSheet) {
  const draw = generator(20301019);
  const { eveningUm, mistyped, otherGauge } = recordTruth;
  const first = entry("2026-10-24", 14.02, {
    sheet: "table-stoned.csv",
    sheetSha256: createHash("sha256").update(stonedSheet, "utf8").digest("hex"),
  });
  const others = dates.flatMap((date) => {
    const seen = trueFlatness(date) + eveningUm * draw.normal();
    const lines = date === mistyped.date ? [entry(date, seen + mistyped.plusUm)] : [entry(date, seen)];
    if (date === mistyped.date) lines.push(entry(date, seen, { note: "a digit was mistyped", corrects: "last" }));
    if (date !== "2028-10-21") return lines;
    const lent = trueFlatness(otherGauge.date) + 2 + eveningUm * draw.normal();
    const { standardUncertaintyUm } = otherGauge;
    const gauge = "digital plunger indicator, invented";
    return [
      ...lines,
      entry(otherGauge.date, lent, { gauge, standardUncertaintyUm, note: "the other indicator, on trial" }),
    ];
  });
  return [first, ...others];
}

/** Each line sealed to the one before: its checksum is over all that stands before the checksum. */
export function inventRecord(stonedSheet) {
  let previous = "0".repeat(64);
  const lines = entries(stonedSheet).map((one, i) => {
    const corrects = one.corrects === "last" ? { corrects: i } : {};
    const body = { line: i + 1, ...one, ...corrects, version: "0.1.0", previous };
    previous = createHash("sha256").update(JSON.stringify(body)).digest("hex");
    return JSON.stringify({ ...body, sha256: previous });
  });
  return { "record-table.jsonl": { text: `${lines.join("\n")}\n`, closed: "2030-10-19" } };
}
