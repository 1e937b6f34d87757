import { createHash } from "node:crypto";
import { appendFileSync, existsSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { type RecordLine, ResultRecord } from "./record.js";
import type { RecordEntry } from "./record-entry.js";

/** The one file of this folder that touches the disk: the record, a result a line, each line sealed to the one before. */

const first = "0".repeat(64);

/**
 * Writes one result to the end of the record, a file of JSON lines. Each line carries its number, the version that wrote
 * it, the checksum of the line before and its own: a line that is changed, taken out or moved later is found when the record is read.
 *
 * @throws MeasurementError `record-changed`, `record-date`, `not-written`, `not-readable`
 * @example
 * (() => { try { proof.appendToRecord("no-such-folder/record.jsonl", {}); } catch (error) { return error.code; } })() // => "not-written"
 */
export function appendToRecord(path: string, entry: RecordEntry): ResultRecord {
  const lines = existsSync(path) ? [...readRecord(path)] : [];
  const last = lines.at(-1);
  const number = lines.length + 1;
  if (last && entry.date < last.date && entry.corrects === undefined) {
    refuse(
      "record-date",
      path,
      `${entry.date} comes before ${last.date} of the last line; write results in the order of their dates, or say which line it corrects`,
    );
  }
  if (entry.corrects !== undefined && !(entry.corrects >= 1 && entry.corrects < number)) {
    refuse("record-date", path, `there is no line ${entry.corrects} to correct; give the number of a line`);
  }
  const body = { line: number, ...entry, version: version(), previous: last?.sha256 ?? first };
  const line = { ...body, sha256: digest(body) };
  try {
    appendFileSync(path, `${JSON.stringify(line)}\n`);
  } catch (error) {
    const reason = (error as NodeJS.ErrnoException).code ?? String(error);
    refuse("not-written", path, `could not be written (${reason}); see that the folder is there and may be written to`);
  }
  return new ResultRecord(basename(path), [...lines, line]);
}

/**
 * Reads a record and proves that no line of it was changed, taken out or moved since it was written.
 *
 * @throws MeasurementError `not-readable`, `record-changed`
 * @example
 * (() => { try { proof.readRecord("no-such-record.jsonl"); } catch (error) { return error.code; } })() // => "not-readable"
 */
export function readRecord(path: string): ResultRecord {
  const lines: RecordLine[] = [];
  const whole = textOf(path);
  for (const [i, text] of whole.split("\n").entries()) {
    if (text.trim() === "") continue;
    const line = parsed(path, i + 1, text);
    const { sha256, ...body } = line;
    const wrong =
      digest(body) !== sha256
        ? "was changed after it was written (its checksum differs)"
        : line.line !== lines.length + 1 || line.previous !== (lines.at(-1)?.sha256 ?? first)
          ? "does not follow the line before it (a line was taken out, put in or moved)"
          : undefined;
    if (wrong)
      refuse("record-changed", path, `line ${i + 1} ${wrong}; put the file back as it was, and correct by a new line`);
    lines.push(line);
  }
  const name = basename(path);
  return new ResultRecord(name, lines, { name, sha256: digestOf(whole), state: "sealed", kind: "record" });
}

function textOf(path: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch (error) {
    const reason = (error as NodeJS.ErrnoException).code ?? String(error);
    return refuse("not-readable", path, `can't be read (${reason}); give the path of a record`);
  }
}

function parsed(path: string, number: number, text: string): RecordLine {
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value === "object" && value !== null && "sha256" in value) return value as RecordLine;
  } catch {
    // told below
  }
  return refuse("record-changed", path, `line ${number} is no line of a record; put the file back as it was`);
}

function digest(body: object): string {
  return digestOf(JSON.stringify(body));
}

function digestOf(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}

function version(): string {
  const text = readFileSync(join(__dirname, "..", "..", "package.json"), "utf8");
  return (JSON.parse(text) as { readonly version: string }).version;
}

function refuse(code: string, path: string, sentence: string): never {
  throw new MeasurementError(code, `${basename(path)}: ${sentence}`);
}
