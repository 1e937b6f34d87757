import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { secondSurvey } from "../../kernel-lib/src/decision/second-survey.js";
import { meanChip } from "../../kernel-lib/src/facing/kienzle.js";
import {
  facing,
  input,
  Measured,
  mm,
  newtonMetre,
  parseSurvey,
  proof,
  readSurvey,
  um,
} from "../../kernel-lib/src/index.js";
import { clubTable } from "../figure/club-table.js";
import { refusal } from "../refusal.js";

const folder = mkdtempSync(join(tmpdir(), "refusals "));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const file = (name: string, text: string) => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
const surface = clubTable();
const level = { ...surface, name: "by level", frame: { ...surface.frame, relativeTo: "gravity" as const } };
const second = (independent: object) => secondSurvey({ surface, independent } as never);
const measured = Measured.from(input.normal({ label: "a", estimate: um(9), standardUncertainty: um(1) }));
const entry = { date: "2026-10-24", subject: "table", result: "flatness", value: measured, survey: surface };

it.each<[act: () => unknown, sentence: string]>([
  [
    () => second(clubTable({ name: "again" })),
    "decision.options: Club mill table, before is relative to travel and again to travel; travel and table are told apart by one map against travel and one by level or straightedge, give both",
  ],
  [
    () => second({ ...level, frame: { ...level.frame, plusX: "left" } }),
    "decision.options: Club mill table, before and by level do not have the same FRONT, +X and +Y; check whether one sheet is mirrored or turned round, and state both the same way",
  ],
  [
    () => second({ ...level, places: level.places.slice(3) }),
    "decision.options: 3 of 90 places of Club mill table, before were not probed in by level; probe the same places in both",
  ],
  [
    () => meanChip({ feedPerTooth: mm(0.1), engagedWidth: mm(60), cutterDiameter: mm(50) }),
    "meanChip: a width of 60 mm is no part of a cutter of 50 mm; give a width above zero and up to the diameter",
  ],
  [
    () => facing.preloadByNutFactor(mm(10), newtonMetre(50), 2),
    "facing.preloadByNutFactor: a factor of 2; give K of the short formula, between 0 and 1, such as 0.2",
  ],
  [
    () => proof.recordEntry({ ...entry, subject: " " } as never),
    "proof.recordEntry: subject is empty; say what was surveyed and what of it",
  ],
  [() => proof.readRecord(join(folder, "none.jsonl")), "none.jsonl: can't be read (ENOENT); give the path of a record"],
  [
    () => proof.readRecord(file("bad.jsonl", "{}\n")),
    "bad.jsonl: line 1 is no line of a record; put the file back as it was",
  ],
  [
    () => proof.appendToRecord(join(folder, "new.jsonl"), { ...proof.recordEntry(entry as never), corrects: 7 }),
    "new.jsonl: there is no line 7 to correct; give the number of a line",
  ],
  [
    () => proof.appendToRecord(join(folder, "none", "new.jsonl"), proof.recordEntry(entry as never)),
    "new.jsonl: could not be written (ENOENT); see that the folder is there and may be written to",
  ],
  [
    () => readSurvey(join(folder, "none", "a.csv")),
    `${join(folder, "none", "a.csv")}: the folder is not there either; relative paths start from ${process.cwd()}`,
  ],
  [
    () => readSurvey(file("a.xlsx", "place,x/mm\n")),
    "a.xlsx: is no .xlsx workbook; leave out sheet and give a text sheet the ending .csv",
  ],
  [
    () => parseSurvey('"# title: a\nplace,x/mm,y/mm,z/um\n', { name: "a" }),
    'a line 1: "\\"# title: a" opens a quotation mark and does not close it at the end; close it, or leave it out',
  ],
])("refuses with the whole sentence: %#", (act, sentence) => {
  expect(refusal(act).message).toBe(sentence);
});
