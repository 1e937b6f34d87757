import { createHash } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { appendToRecord, type RecordEntry, readRecord, recordEntry, trend } from "../../kernel-lib/src/proof/index.js";
import { dayNumber } from "../../kernel-lib/src/proof/record-entry.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { aMap } from "../facing/a-map.js";
import { refusal } from "../refusal.js";

const folder = mkdtempSync(join(tmpdir(), "record-"));
afterAll(() => rmSync(folder, { recursive: true }));
const survey = aMap(() => 0, { noiseUm: 0.5, gaugeUm: 2 });
const made = (date: string, value: number, more: { corrects?: number } = {}) =>
  recordEntry({
    date,
    subject: "table",
    result: "flatness",
    value: Measured.from(input.normal({ label: "flatness", estimate: um(value), standardUncertainty: um(1.5) })),
    survey,
    ...more,
  });
const dates = ["2026-01-10", "2026-02-14", "2026-04-01", "2026-07-20"];

function written(name: string): string {
  const path = join(folder, name);
  for (const [i, date] of dates.entries()) appendToRecord(path, made(date, 12 + i / 4));
  return path;
}

describe("the record", () => {
  it("gives back what was written, with frame, gauge, places and version", () => {
    const record = readRecord(written("kept.jsonl"));
    expect(record.length).toBe(4);
    const { line, date, valueUm, relativeTo, places, version } = record.at(1)!;
    expect([line, date, valueUm, relativeTo, places]).toEqual([
      2,
      "2026-02-14",
      12.25,
      "travel",
      "78 places, x 20 to 500 mm, y 20 to 220 mm",
    ]);
    expect(version).toMatch(/^\d+\.\d+\.\d+/);
    expect(String(record)).toBe(
      "kept.jsonl: 4 results from 2026-01-10 to 2026-07-20, no line changed since it was written",
    );
  });

  it.each([
    [
      "a changed value",
      (lines: string[]) => lines.map((l) => l.replace("12.25", "11.25")),
      2,
      "was changed after it was written (its checksum differs)",
    ],
    [
      "a line taken out",
      (lines: string[]) => lines.toSpliced(1, 1),
      2,
      "does not follow the line before it (a line was taken out, put in or moved)",
    ],
    [
      "lines exchanged",
      (lines: string[]) => [lines[1]!, lines[0]!, ...lines.slice(2)],
      1,
      "does not follow the line before it (a line was taken out, put in or moved)",
    ],
  ])("finds %s", (name, change, line, words) => {
    const path = written(`${name}.jsonl`);
    writeFileSync(path, change(readFileSync(path, "utf8").split("\n")).join("\n"));
    expect(refusal(() => readRecord(path))).toEqual({
      code: "record-changed",
      message: `${name}.jsonl: line ${line} ${words}; put the file back as it was, and correct by a new line`,
    });
  });

  it("is corrected by a new line, and the trend goes by that", () => {
    const path = written("corrected.jsonl");
    const record = appendToRecord(path, made("2026-02-14", 12.5, { corrects: 2 }));
    const values = record.trend({ subject: "table", result: "flatness" }).points.map(({ valueUm }) => valueUm);
    expect(values).toEqual([12, 12.5, 12.5, 12.75]);
  });

  it("gives the trend of one gauge's results, and names the gauges it has", () => {
    const path = written("gauges.jsonl");
    appendToRecord(path, { ...made("2026-08-01", 30), gauge: "another dial" });
    const record = readRecord(path);
    const what = { subject: "table", result: "flatness" };
    expect(refusal(() => record.trend(what)).code).toBe("not-alike");
    const { gauge } = record.at(0)!;
    const values = record.trend({ ...what, gauge }).points.map(({ valueUm }) => valueUm);
    expect(values).toEqual([12, 12.25, 12.5, 12.75]);
    expect(refusal(() => record.trend({ ...what, gauge: "no dial" }))).toEqual({
      code: "record",
      message: `gauges.jsonl: has no flatness of table by no dial; it has table: flatness by ${gauge}, table: flatness by another dial`,
    });
  });

  it("names its file with the checksum of its bytes, and none once it has been written to", () => {
    const path = written("named.jsonl");
    const sha256 = createHash("sha256").update(readFileSync(path)).digest("hex");
    expect(readRecord(path).file).toEqual({ name: "named.jsonl", sha256, state: "sealed", kind: "record" });
    expect(appendToRecord(path, made("2026-09-01", 12)).file).toBeUndefined();
  });

  it("refuses a date out of order and a date that is none", () => {
    const path = written("order.jsonl");
    expect(refusal(() => appendToRecord(path, made("2026-03-01", 1))).message).toBe(
      "order.jsonl: 2026-03-01 comes before 2026-07-20 of the last line; write results in the order of their dates, or say which line it corrects",
    );
    expect(refusal(() => made("10.1.2026", 1)).message).toBe(
      'proof.recordEntry: "10.1.2026" is not a date; write year-month-day, like 2026-10-17',
    );
  });

  it("counts days as the calendar does", () => {
    for (const date of ["1970-01-01", "2000-02-29", "2026-12-31", "2100-03-01"]) {
      expect(dayNumber(date)).toBe(Date.parse(date) / 86_400_000);
    }
  });
});

const plain = (day: number, valueUm: number): RecordEntry => ({
  ...{ date: new Date(day * 86_400_000).toISOString().slice(0, 10), subject: "table", result: "flatness", valueUm },
  ...{ standardUncertaintyUm: 1, relativeTo: "travel", gauge: "dial", places: "78 places", sheet: "a.csv" },
});

describe("a trend", () => {
  it("takes its limits from u below 20 results, from moving ranges from there on", () => {
    const random = randomStream(3);
    const series = Array.from({ length: 24 }, (_, i) => plain(20_000 + 10 * i, 12 + 0.2 * random.normal()));
    const few = trend(series.slice(0, 8));
    expect(few.highUm - few.lowUm).toBeCloseTo(6, 9);
    const many = trend(series);
    expect(many.limitsFrom).toBe("moving ranges of the 24 results");
    const ranges = series.slice(1).map((e, i) => Math.abs(e.valueUm - series[i]!.valueUm));
    // 2.66 = 3 / 1.128: factor of individual values charts, as printed in tables of control chart factors (from memory)
    const limit = 2.66 * (ranges.reduce((a, b) => a + b, 0) / ranges.length);
    expect((many.highUm - many.lowUm) / 2 / limit).toBeCloseTo(1, 2);
  });

  it("tells a drift of four spreads over its length, and rarely one where there is none", () => {
    const count = 400;
    const series = (seed: number, moved: number) => {
      const random = randomStream(seed);
      return trend(
        Array.from({ length: 12 }, (_, i) => plain(20_000 + 30 * i, 12 + (moved * i) / 11 + random.normal())),
      );
    };
    const found = Array.from({ length: count }, (_, k) => series(k, 4)).filter((t) => t.alarms.length > 0).length;
    const false_ = Array.from({ length: count }, (_, k) => series(k, 0)).filter((t) => t.alarms.length > 0).length;
    console.log(`drift of 4 spreads over 12 results: ${found} of ${count} told; none: ${false_} of ${count} alarms`);
    expect(found / count).toBeGreaterThan(0.7);
    // results outside 3 spreads (12 × 0.27 %), slope (1 %), runs of eight (about 2 %): 6 %, binomial 99.9 % band to 42
    expect(false_).toBeLessThanOrEqual(42);
  });

  it("holds only like against like", () => {
    expect(refusal(() => trend([plain(20_000, 1), { ...plain(20_010, 1), gauge: "another dial" }]))).toEqual({
      code: "not-alike",
      message:
        'proof.trend: the result of 2024-10-04 has gauge "dial" and that of 2024-10-14 "another dial"; only like is held against like, give each a trend of its own',
    });
    for (const [key, other] of [
      ["relativeTo", "gravity"],
      ["places", "77 places"],
      ["subject", "plate"],
    ] as const) {
      expect(refusal(() => trend([plain(20_000, 1), { ...plain(20_010, 1), [key]: other }])).code).toBe("not-alike");
    }
    expect(refusal(() => trend([plain(20_000, 1)])).code).toBe("too-few-results");
  });
});
