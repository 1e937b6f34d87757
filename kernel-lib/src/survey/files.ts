import { isUtf8 } from "node:buffer";
import { createHash, randomBytes } from "node:crypto";
import {
  closeSync,
  existsSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { counted } from "../words.js";
import { parseChecksums, writeChecksums } from "./checksums.js";
import { alike } from "./likeness.js";
import type { SheetSource } from "./parse-sheet.js";
import { shown } from "./sheet-error.js";
import { workbookText } from "./workbook.js";

/** The one file of this folder that touches the disk. */

/** name of the list of closed sheets, in the folder of the sheets */
export const checksumFile = "checksums.csv";
const largestFile = 64e6;

let strictSheets = false;

/**
 * Whether a closed sheet that was changed is refused (as runs without a person must) instead of read and marked.
 * Set once by whoever runs the notebooks; `readSurvey`'s own option `strict` wins over it.
 *
 * @example
 * setStrictSheets(false) // => undefined
 */
export function setStrictSheets(strict: boolean): void {
  strictSheets = strict;
}

/** A sheet as it lies on the disk. */
export interface SheetText {
  readonly name: string;
  readonly source: SheetSource;
  readonly sha256: string;
  readonly state: string;
}

/** Reads a sheet and says whether it is open, closed, or changed since it was closed. */
export function readSheetFile(path: string, strict = strictSheets, page?: string): SheetText {
  const file = resolve(path);
  const name = basename(file);
  const bytes = readBytes(file, path);
  const sha256 = digest(bytes.subarray(0, -1));
  const closed = readClosed(dirname(file)).find((entry) => entry.file === name);
  if (!closed) return { name, source: sourceOf(bytes, name, page), sha256, state: "open" };
  if (closed.sha256 === sha256)
    return { name, source: sourceOf(bytes, name, page), sha256, state: `closed on ${closed.closed}` };
  if (strict) {
    throw new MeasurementError(
      "closed-sheet-changed",
      `${name}: was changed since it was closed on ${closed.closed}; put the closed sheet back, and save a correction under a new name`,
    );
  }
  return {
    name,
    source: sourceOf(bytes, name, page),
    sha256,
    state: `changed since it was closed on ${closed.closed}`,
  };
}

/**
 * Closes a sheet: writes its checksum into `checksums.csv` beside it, in one step that cannot be left half done.
 *
 * @param date year-month-day, like 2026-10-17
 * @throws MeasurementError `date`, `no-such-file`, `closed-sheet-changed` where a closed sheet was changed
 * @example
 * (() => { try { closeSheet("sheet.csv", "7.11.2026"); } catch (error) { return error.code; } })() // => "date"
 */
export function closeSheet(path: string, date: string): void {
  if (!/^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/.test(date)) {
    throw new MeasurementError(
      "date",
      `closeSheet: ${JSON.stringify(date)} is not a date; write year-month-day, like 2026-10-17`,
    );
  }
  const sheet = readSheetFile(path, true);
  if (sheet.state !== "open") return;
  const folder = dirname(resolve(path));
  const list = join(folder, checksumFile);
  const entries = [...readClosed(folder), { file: sheet.name, closed: date, sha256: sheet.sha256 }];
  const part = join(folder, `.${checksumFile}.${randomBytes(6).toString("hex")}`);
  try {
    writeFileSync(part, writeChecksums(entries), { flag: "wx" });
    renameSync(part, list);
  } catch (error) {
    rmSync(part, { force: true });
    throw new MeasurementError(
      "not-written",
      `closeSheet: ${checksumFile} could not be written (${reason(error)}); see that the folder may be written to`,
    );
  }
}

function readBytes(file: string, asked: string): Uint8Array {
  try {
    const { size } = statSync(file);
    if (size > largestFile) {
      throw new MeasurementError(
        "too-large",
        `${basename(file)}: ${Math.round(size / 1e6)} MB, and a sheet has at most 64 MB; check that this is the sheet`,
      );
    }
    return readWithLineEnd(file, size);
  } catch (error) {
    if (error instanceof MeasurementError) throw error;
    const code = (error as NodeJS.ErrnoException).code;
    if (code === "ENOENT" || code === "ENOTDIR") return missing(file, asked);
    const why = code === "EISDIR" ? "is a folder" : `cannot be read (${reason(error)})`;
    throw new MeasurementError("not-readable", `${asked}: ${why}; give the path of a sheet`);
  }
}

function missing(file: string, asked: string): never {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: those are looked for
  if (/[\u0000-\u001f]/.test(asked)) {
    throw new MeasurementError(
      "no-such-file",
      `${shown(asked)}: is not there, and holds a sign that no name has; write / between folders, as a backslash in quotation marks begins such a sign`,
    );
  }
  const folder = dirname(file);
  if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) {
    throw new MeasurementError(
      "no-such-file",
      `${asked}: the folder is not there either; relative paths start from ${process.cwd()}`,
    );
  }
  const there = readdirSync(folder).filter((name) => /\.(csv|tsv|txt|xlsx)$/i.test(name) && name !== checksumFile);
  throw new MeasurementError("no-such-file", `${asked}: is not there; ${whatIsThere(file, there)}`);
}

function whatIsThere(file: string, there: readonly string[]): string {
  const whole = elsewhere(file);
  if (whole !== undefined) return `${whole} is; give it by that path`;
  const near = alike(basename(file), there);
  if (near.length > 0) return `the folder has ${near.join(", ")}; give one of them`;
  if (there.length === 0) return "the folder has no sheet at all; check the folder";
  return `the folder has ${counted(there.length, "sheet")}, none with a name like it; check the name`;
}

/** the sheet of this name where sheets usually lie, or that differs by its ending alone; as a path from the working directory */
function elsewhere(file: string): string | undefined {
  const folder = dirname(file);
  return [folder, join(folder, "data"), join(folder, "..", "data")]
    .flatMap((place) => ["", ".csv", ".xlsx"].map((end) => join(place, basename(file) + end)))
    .filter((path) => statSync(path, { throwIfNoEntry: false })?.isFile())
    .map((path) => relative(process.cwd(), path).split(sep).join("/"))[0];
}

function readClosed(folder: string): ReturnType<typeof parseChecksums> {
  const list = join(folder, checksumFile);
  return existsSync(list) ? parseChecksums(readFileSync(list, "utf8")) : [];
}

/** the bytes of a file, and one line end behind them that belongs to none */
function readWithLineEnd(file: string, size: number): Uint8Array {
  const open = openSync(file, "r");
  try {
    const bytes = new Uint8Array(size + 1);
    let filled = 0;
    for (let got = -1; got !== 0 && filled < size; filled += got)
      got = readSync(open, bytes, filled, size - filled, null);
    bytes[filled] = 10;
    return bytes.subarray(0, filled + 1);
  } finally {
    closeSync(open);
  }
}

/** UTF-8, or UTF-16 where the file begins with its mark, as some spreadsheets write it */
function sourceOf(withEnd: Uint8Array, name: string, page: string | undefined): SheetSource {
  const bytes = withEnd.subarray(0, -1);
  if (isWorkbook(bytes)) {
    if (/\.xlsx$/i.test(name)) return { bytes: undefined, text: () => workbookText(bytes, name, page) };
    throw new MeasurementError(
      "not-text",
      `${name}: is a workbook, not a text; give it the ending .xlsx, or save the sheet as CSV (UTF-8)`,
    );
  }
  if (page !== undefined || /\.xlsx$/i.test(name)) {
    throw new MeasurementError(
      "not-a-workbook",
      `${name}: is no .xlsx workbook; leave out sheet and give a text sheet the ending .csv`,
    );
  }
  const wide = bytes[0] === 0xff && bytes[1] === 0xfe;
  if (!wide && isUtf8(bytes)) return { bytes: withEnd, text: () => new TextDecoder().decode(bytes) };
  if (wide) {
    try {
      const text = new TextDecoder("utf-16le", { fatal: true }).decode(bytes);
      return { bytes: undefined, text: () => text };
    } catch {
      // told below
    }
  }
  throw new MeasurementError(
    "not-text",
    `${name}: holds bytes that are no UTF-8 text; save the sheet as CSV (UTF-8) and read that file`,
  );
}

/** a workbook is a zip archive */
function isWorkbook(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4;
}

function digest(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}

function reason(error: unknown): string {
  return (error as NodeJS.ErrnoException).code ?? String(error);
}
