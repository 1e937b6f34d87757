import { existsSync, readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { MeasurementError } from "../../measurement-error.js";
import { readSheetFile } from "../../survey/files.js";
import { type SheetEdit, SheetText } from "../../survey/sheet-text.js";
import { sumOf } from "../archive-contents.js";
import { filesNamed } from "../files-used.js";
import { parseNotebook } from "../notebook-file.js";
import { writeWhole } from "../whole-file.js";
import { bytesOf } from "./file-model.js";
import { type Place, placeOf } from "./place.js";
import { Refused } from "./refused.js";
import { needOpen } from "./saving.js";

/** A sheet as a page is told of it. */
export interface SheetModel {
  readonly path: string;
  readonly name: string;
  /** SHA-256 of the bytes */
  readonly version: string;
  /** "open", "closed on 2026-10-17", "changed since it was closed on 2026-10-17" */
  readonly state: string;
  readonly text: string;
  /** notebooks whose code names the sheet */
  readonly notebooks: readonly string[];
}

/** @throws Refused `no-sheet` for what cannot be a sheet in text form, and what the reader of sheets refuses */
export function loadSheet(project: string, path: string): SheetModel {
  const place = sheetPlace(project, path);
  const bytes = bytesOf(place);
  const { state } = readSheetFile(place.file);
  const text = textOf(bytes, place);
  const notebooks = notebooksOf(project, place);
  return { path: place.path, name: basename(place.file), version: sumOf(bytes), state, text, notebooks };
}

/** SHA-256 of a sheet as it lies on the disk */
export function versionOf(project: string, path: string): string {
  return sumOf(bytesOf(sheetPlace(project, path)));
}

/**
 * Writes some cells of an open sheet, whole or not at all; every other byte stays as it is.
 *
 * @returns the new version
 * @throws Refused `changed-on-disk` (409) where the file is not what the page saw, `closed-sheet`
 */
export function saveSheet(project: string, path: string, base: string, edits: readonly SheetEdit[]): string {
  const place = sheetPlace(project, path);
  needOpen(place);
  const bytes = bytesOf(place);
  if (sumOf(bytes) !== base) {
    throw new Refused(
      409,
      "changed-on-disk",
      `${place.path}: was changed on the disk since this page last saw it; nothing was written over it, both are shown place by place`,
    );
  }
  const edited = Buffer.from(SheetText.of(textOf(bytes, place), basename(place.file)).edited(edits).text, "utf8");
  writeWhole(place.file, edited);
  return sumOf(edited);
}

/** A correction of a sheet under a new name, with a line that says of what and why. @returns the path of the new sheet */
export function copySheet(project: string, path: string, to: string, reason: string): string {
  const from = loadSheet(project, path);
  if (!/^[\w][\w.-]*\.csv$/.test(to)) {
    throw new Refused(
      400,
      "name",
      `${JSON.stringify(to)}: is no name for a sheet; use letters, digits, - and _ and the ending .csv`,
    );
  }
  if (reason.trim() === "") {
    throw new Refused(
      400,
      "reason",
      `${from.name}: the correction has no reason; say in a few words what is corrected`,
    );
  }
  const place = placeOf(project, `data/${to}`);
  if (existsSync(place.file)) {
    throw new Refused(409, "name-taken", `${place.path}: is there already; choose a name that is free`);
  }
  const note = `correction of ${from.name}, ${from.state}: ${reason.trim()}`;
  writeWhole(place.file, SheetText.of(from.text, from.name).edited([{ note }]).text);
  return place.path;
}

function sheetPlace(project: string, path: string): Place {
  const place = placeOf(project, path);
  if (place.path.startsWith("data/") && /\.(csv|tsv|txt)$/i.test(place.path)) return place;
  const what = /\.xlsx$/i.test(place.path)
    ? "is a workbook; save its sheet as CSV (UTF-8) into data/ and open that, a notebook reads the workbook as it is"
    : "is no sheet of readings; open a .csv file from data/";
  throw new Refused(400, "no-sheet", `${place.path}: ${what}`);
}

function textOf(bytes: Uint8Array, place: Place): string {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new Refused(
      400,
      "not-text",
      `${place.path}: is no UTF-8 text and can't be typed into here; save the sheet as CSV (UTF-8) and open that file`,
    );
  }
}

function notebooksOf(project: string, place: Place): readonly string[] {
  const folder = join(project, "notebooks");
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => name.endsWith(".ipynb") && !name.startsWith("."))
    .filter((name) => names(join(folder, name), place.file))
    .map((name) => `notebooks/${name}`);
}

function names(notebookPath: string, file: string): boolean {
  try {
    const notebook = parseNotebook(readFileSync(notebookPath, "utf8"), basename(notebookPath));
    return filesNamed(notebookPath, notebook).some(({ path }) => path === file);
  } catch (error) {
    // a notebook that cannot be read names nothing; its own page says what is wrong with it
    if (error instanceof MeasurementError || error instanceof SyntaxError) return false;
    throw error;
  }
}
