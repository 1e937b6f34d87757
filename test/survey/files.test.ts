import { createHash } from "node:crypto";
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
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
      message: `${path("q.csv")}: is not there; the folder has 2 sheets, none with a name like it; check the name`,
    });
    rmSync(path("plate.csv"));
    expect(refusal(() => readSurvey(path("q.csv"))).message).toBe(
      `${path("q.csv")}: is not there; the folder has 1 sheet, none with a name like it; check the name`,
    );
    mkdirSync(path("bare"));
    expect(refusal(() => readSurvey(path("bare/q.csv"))).message).toBe(
      `${path("bare/q.csv")}: is not there; the folder has no sheet at all; check the folder`,
    );
    expect(refusal(() => readSurvey(path("none/q.csv"))).message).toMatch(
      /the folder is not there either; relative paths start from /,
    );
  });

  it("that lies in data/ beside, or is called by its name alone, is named by its path", () => {
    // from a notebook, readSurvey("mill.csv") was told that "the folder has 0 sheet(s)"
    for (const name of ["notebooks", "data"]) mkdirSync(path(name));
    writeFileSync(path("data/mill.csv"), text);
    const there = relative(process.cwd(), path("data/mill.csv"));
    for (const asked of [path("mill.csv"), path("notebooks/mill.csv"), path("data/mill"), path("notebooks/mill")]) {
      expect(refusal(() => readSurvey(asked))).toEqual({
        code: "no-such-file",
        message: `${asked}: is not there; ${there} is; give it by that path`,
      });
    }
  });

  it("whose path holds what a backslash made is told to be written with /", () => {
    expect(refusal(() => readSurvey("..data\barn.csv"))).toEqual({
      code: "no-such-file",
      message:
        '"..data\\barn.csv": is not there, and holds a sign that no name has; write / between folders, as a backslash in quotation marks begins such a sign',
    });
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

  it("is told from a workbook, an old spreadsheet and half a text, whatever it is called", () => {
    const read = (name: string, bytes: Buffer) => {
      writeFileSync(path(name), bytes);
      const { code, message } = refusal(() => readSurvey(path(name)));
      return `${code}: ${message}`;
    };
    const zip = Buffer.from([0x50, 0x4b, 3, 4, 0, 0]);
    expect(read("a.csv", zip)).toBe(
      "not-text: a.csv: is a workbook, not a text; give it the ending .xlsx, or save the sheet as CSV (UTF-8)",
    );
    expect(read("a.XLSX", zip)).toBe(
      "not-a-workbook: a.XLSX: cannot be opened as an .xlsx workbook; save it again, or save the sheet as CSV (UTF-8)",
    );
    for (const i of [0, 1, 2, 3]) {
      const other = Buffer.from(zip);
      other[i] = 0x41;
      expect(read("a.xlsx", other)).toBe(
        "not-a-workbook: a.xlsx: is no .xlsx workbook; leave out sheet and give a text sheet the ending .csv",
      );
    }
    expect(refusal(() => readSurvey(path("table-before.csv"), { sheet: "one" })).code).toBe("not-a-workbook");
    // the mark of UTF-16 and half a sign behind it
    expect(read("b.csv", Buffer.from([0xff, 0xfe, 0x41]))).toMatch(
      /^not-text: b\.csv: holds bytes that are no UTF-8 text; /,
    );
    expect(read("b.csv", Buffer.from([0xff, 0x41, 0x41]))).toMatch(
      /^not-text: b\.csv: holds bytes that are no UTF-8 text; /,
    );
  });

  it("that is larger than any sheet, or lies behind a file, is refused", () => {
    writeFileSync(path("large.csv"), "");
    truncateSync(path("large.csv"), 65_000_000);
    expect(refusal(() => readSurvey(path("large.csv")))).toEqual({
      code: "too-large",
      message: "large.csv: 65 MB, and a sheet has at most 64 MB; check that this is the sheet",
    });
    expect(refusal(() => readSurvey(path("table-before.csv/more.csv"))).code).toBe("no-such-file");
    expect(refusal(() => readSurvey(path("none/q.csv")))).toEqual({
      code: "no-such-file",
      message: `${path("none/q.csv")}: the folder is not there either; relative paths start from ${process.cwd()}`,
    });
  });

  it("names sheets alone among those that look alike, the list of closed ones left out", () => {
    for (const name of ["tabel.csv", "table.tsv", "table.TXT", "table.xlsx", "table.md", "checksums.csv"]) {
      writeFileSync(path(name), name === "checksums.csv" ? "file,closed,sha256\n" : text);
    }
    expect(refusal(() => readSurvey(path("table.csv"))).message).toBe(
      `${path("table.csv")}: is not there; the folder has table.tsv, table.TXT, table.xlsx; give one of them`,
    );
    expect(refusal(() => readSurvey(path("zzzzzzzzzzzzzz.csv"))).message).toContain("the folder has 5 sheets");
  });

  it("carries the sum of its bytes, its own name or the one given", () => {
    const survey = readSurvey(path("table-before.csv"));
    expect(survey.file).toEqual({
      name: "table-before.csv",
      state: "open",
      sha256: createHash("sha256").update(text).digest("hex"),
    });
    expect(survey.name).toBe("table-before.csv");
    expect(readSurvey(path("table-before.csv"), { name: "mine" }).name).toBe("mine");
    expect(String(survey)).toMatch(/, open sheet$/);
  });

  it("is closed on a day that there is", () => {
    for (const date of ["2026-13-01", "2026-00-01", "2026-01-32", "2026-1-1", "on 2026-01-01", "2026-01-01 late"]) {
      expect(refusal(() => closeSheet(path("table-before.csv"), date)).code).toBe("date");
    }
    for (const [i, date] of ["2026-12-31", "2026-01-09", "2026-10-30"].entries()) {
      writeFileSync(path(`s${i}.csv`), text);
      closeSheet(path(`s${i}.csv`), date);
      expect(readSurvey(path(`s${i}.csv`)).file?.state).toBe(`closed on ${date}`);
    }
    expect(refusal(() => closeSheet(path("none.csv"), "2026-12-31")).code).toBe("no-such-file");
  });
});
