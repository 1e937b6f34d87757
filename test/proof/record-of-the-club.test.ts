import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { flatness } from "../../kernel-lib/src/form/index.js";
import { readRecord, recordEntry, trend } from "../../kernel-lib/src/proof/index.js";
import { readSurvey } from "../../kernel-lib/src/survey/index.js";

const folder = new URL("../../data/", import.meta.url);
const path = (name: string) => fileURLToPath(new URL(name, folder));
const { record: truth } = JSON.parse(readFileSync(path("truth.json"), "utf8")) as {
  readonly record: {
    readonly flatnessUm: number;
    readonly eveningUm: number;
    readonly climbsFrom: string;
    readonly climbUmPerYear: number;
  };
};
const record = readRecord(path("record-table.jsonl"));
const what = { subject: "table of the bed mill", result: "minimum zone flatness" };

describe("the club's record", () => {
  it("is sealed as the package seals it, by a script that imports nothing of the package", () => {
    expect(String(record)).toBe(
      "record-table.jsonl: 19 results from 2026-10-24 to 2030-10-19, no line changed since it was written",
    );
  });

  it("begins with the stoned table as it is read from its sheet", () => {
    const survey = readSurvey(path("table-stoned.csv"));
    const made = recordEntry({ date: "2026-10-24", ...what, value: flatness(survey).minimumZone.corrected, survey });
    const rounded = (um: number) => Math.round(um * 100) / 100;
    expect(record.at(0)).toMatchObject({
      ...made,
      valueUm: rounded(made.valueUm),
      standardUncertaintyUm: rounded(made.standardUncertaintyUm),
    });
  });

  it("tells the planted climb and not before it began", () => {
    const { gauge } = record.at(0)!;
    const whole = record.trend({ ...what, gauge });
    const known = whole.points.filter(({ date }) => date <= truth.climbsFrom).length;
    const corrected = record.toArray().filter((one) => one.gauge === gauge && one.line !== 7);
    expect(trend(corrected.slice(0, known)).alarms).toEqual([]);
    expect(whole.alarms[0]).toMatch(/^drifts by \d\.\d µm a year/);
    // the climb alone, as the last seven surveys give it: within 3.3 standard errors of least squares (99.9 %)
    const late = trend(corrected.slice(known - 1)).slopeUmPerYear!;
    const standardError = (late.standardUncertainty * truth.eveningUm) / record.at(0)!.standardUncertaintyUm;
    expect(Math.abs(late.value - truth.climbUmPerYear)).toBeLessThan(3.3 * standardError);
  });
});
