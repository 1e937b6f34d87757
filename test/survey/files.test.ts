import { chmodSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { closeSheet, readSurvey, setStrictSheets } from "../../kernel-lib/src/survey/index.js";
import { refusal } from "../refusal.js";
import { head } from "./invented-survey.js";

const text = `${head}# gauge resolution: 1 um\nplace,x/mm,y/mm,z/um,pass\nA1,0,0,3,1\nB1,50,0,-2,1\n`;
let folder: string;
const path = (name: string) => join(folder, name);

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "sheets-"));
  writeFileSync(path("table-before.csv"), text);
});
afterEach(() => {
  setStrictSheets(false);
  rmSync(folder, { recursive: true });
});

describe("a sheet on the disk", () => {
  it("is open until it is closed, then closed with its date", () => {
    expect(readSurvey(path("table-before.csv")).file?.state).toBe("open");
    closeSheet(path("table-before.csv"), "2026-10-17");
    expect(readSurvey(path("table-before.csv")).file?.state).toBe("closed on 2026-10-17");
    closeSheet(path("table-before.csv"), "2026-10-18");
    expect(readSurvey(path("table-before.csv")).surface().sheetState).toBe("closed on 2026-10-17");
    expect(readdirSync(folder).sort()).toEqual(["checksums.csv", "table-before.csv"]);
    expect(readFileSync(path("checksums.csv"), "utf8")).toMatch(
      /^file,closed,sha256\ntable-before\.csv,2026-10-17,[0-9a-f]{64}\n$/,
    );
  });

  it("that was changed after it was closed is read and says so, and is refused where no person looks on", () => {
    closeSheet(path("table-before.csv"), "2026-10-17");
    writeFileSync(path("table-before.csv"), text.replace("A1,0,0,3", "A1,0,0,4"));
    const survey = readSurvey(path("table-before.csv"));
    expect(survey.file?.state).toBe("changed since it was closed on 2026-10-17");
    expect(String(survey)).toContain("changed since it was closed on 2026-10-17");
    const wanted = {
      code: "closed-sheet-changed",
      message:
        "table-before.csv: was changed since it was closed on 2026-10-17; put the closed sheet back, and save a correction under a new name",
    };
    expect(refusal(() => readSurvey(path("table-before.csv"), { strict: true }))).toEqual(wanted);
    setStrictSheets(true);
    expect(refusal(() => readSurvey(path("table-before.csv")))).toEqual(wanted);
    expect(readSurvey(path("table-before.csv"), { strict: false }).readings()).toHaveLength(2);
    expect(refusal(() => closeSheet(path("table-before.csv"), "2026-10-20"))).toEqual(wanted);
  });

  it("keeps the sheets closed before when another is closed", () => {
    writeFileSync(path('odd, "name".csv'), text);
    closeSheet(path("table-before.csv"), "2026-10-17");
    closeSheet(path('odd, "name".csv'), "2026-10-18");
    expect(readSurvey(path("table-before.csv")).file?.state).toBe("closed on 2026-10-17");
    expect(readSurvey(path('odd, "name".csv')).file?.state).toBe("closed on 2026-10-18");
  });

  it("that is not there is refused with the names that look alike", () => {
    writeFileSync(path("plate.csv"), text);
    expect(refusal(() => readSurvey(path("Table_before.csv")))).toEqual({
      code: "no-such-file",
      message: `${path("Table_before.csv")}: is not there; the folder has table-before.csv; give one of them`,
    });
    expect(refusal(() => readSurvey(path("q.csv")))).toEqual({
      code: "no-such-file",
      message: `${path("q.csv")}: is not there; the folder has 2 sheet(s), none with a name like it; check the name`,
    });
    expect(refusal(() => readSurvey(path("none/q.csv"))).message).toMatch(
      /the folder is not there either; relative paths start from /,
    );
  });

  it("that is a folder, a list that was tampered with and a date that is none are refused", () => {
    expect(refusal(() => readSurvey(folder))).toEqual({
      code: "not-readable",
      message: `${folder}: is a folder; give the path of a sheet`,
    });
    expect(refusal(() => closeSheet(path("table-before.csv"), "17.10.2026"))).toEqual({
      code: "date",
      message: 'closeSheet: "17.10.2026" is not a date; write year-month-day, like 2026-10-17',
    });
    writeFileSync(path("checksums.csv"), "file,closed,sha256\ntable-before.csv,today,1\n");
    expect(refusal(() => readSurvey(path("table-before.csv")))).toEqual({
      code: "checksums",
      message:
        'checksums.csv line 2: "table-before.csv,today,1" is not a file name, a date and a checksum; put the line back as it was',
    });
  });

  it("that is far too large is not read", () => {
    writeFileSync(path("large.csv"), "");
    truncateSync(path("large.csv"), 65e6);
    expect(refusal(() => readSurvey(path("large.csv")))).toEqual({
      code: "too-large",
      message: "large.csv: 65 MB, and a sheet has at most 64 MB; check that this is the sheet",
    });
  });

  it.skipIf(process.platform === "win32")("is not closed where the folder may not be written to", () => {
    chmodSync(folder, 0o555);
    // the administrator may write everywhere: somebody else closes the sheet
    const asRoot = process.getuid?.() === 0;
    if (asRoot) process.seteuid?.(65534);
    try {
      expect(refusal(() => closeSheet(path("table-before.csv"), "2026-10-17"))).toEqual({
        code: "not-written",
        message: "closeSheet: checksums.csv could not be written (EACCES); see that the folder may be written to",
      });
    } finally {
      if (asRoot) process.seteuid?.(0);
      chmodSync(folder, 0o755);
    }
    expect(readdirSync(folder)).toEqual(["table-before.csv"]);
  });

  it("is read as UTF-16 where it says so, and refused where it is another code", () => {
    writeFileSync(path("wide.csv"), Buffer.from(`\uFEFF${text.replaceAll(",", "\t")}`, "utf16le"));
    expect(readSurvey(path("wide.csv")).readings()).toHaveLength(2);
    writeFileSync(path("old.csv"), Buffer.from(text.replace("z/um", "z/µm"), "latin1"));
    expect(refusal(() => readSurvey(path("old.csv")))).toEqual({
      code: "not-text",
      message: "old.csv: holds bytes that are no UTF-8 text; save the sheet as CSV (UTF-8) and read that file",
    });
  });
});
