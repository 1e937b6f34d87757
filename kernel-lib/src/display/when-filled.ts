import { readSheetFile } from "../survey/files.js";
import { Survey } from "../survey/survey.js";
import { type UnreadColumn, unreadColumn } from "../survey/unread-column.js";
import { Note } from "./note.js";

/**
 * A result once there are readings; until then a note that says what to fill in. For notebooks that are written before
 * anything is measured: from a survey, from the path of a sheet of any kind and its reader, or from an earlier result.
 *
 * @param sheet a survey, perhaps with no reading yet; the path of a sheet, from the folder of the notebook; or what an earlier `whenFilled` gave
 * @param make what to compute from it; for a path the reader, such as `axis.readSmallMoves`
 * @throws MeasurementError `no-such-file` for a path; whatever reader or computation refuses once a reading is there
 * @example
 * const blank = parseSurvey("# relative to: travel\n# front: y-\n# +x: right\n# +y: back\n# gauge resolution: 1 um\n# gauge maximum permissible error: 4 um\nplace,x/mm,y/mm,z/um,pass\nA1,0,0,,1\nA2,50,0,,1", { name: "mine.csv" });
 * `${whenFilled(blank, (sheet) => form.flatness(sheet))}` // => "mine.csv has no reading yet: fill in the column z/um (2 cells), save, and run this notebook again"
 * @example
 * const ladder = whenFilled("data/ladder-x.csv", axis.readSmallMoves);
 * `${whenFilled(ladder, (ladder) => ladder.play.in("um").toFixed(1))}` // => "13.9"
 */
export function whenFilled<T>(sheet: string, make: (path: string) => T): T | Note;
export function whenFilled<S extends object, T>(sheet: S | Note, make: (sheet: S) => T): T | Note;
export function whenFilled<T>(sheet: object | string, make: (sheet: never) => T): T | Note {
  const made = make as (sheet: object | string) => T;
  if (sheet instanceof Note) return sheet;
  if (typeof sheet === "string") return noteOfPath(sheet) ?? made(sheet);
  if (!(sheet instanceof Survey) || sheet.readings().length > 0) return made(sheet);
  return blankNote(sheet.name, { heading: `z/${sheet.heightUnit}`, cells: sheet.blanks.length });
}

function noteOfPath(path: string): Note | undefined {
  const { source, ...file } = readSheetFile(path);
  const blank = unreadColumn(source.text(), file.name);
  return blank && blankNote(file.name, blank, file);
}

function blankNote(name: string, { heading, cells }: UnreadColumn, file?: Note["file"]): Note {
  const toFill = `fill in the column ${heading} (${cells} cells), save, and run this notebook again`;
  return new Note(`${name} has no reading yet: ${toFill}`, file);
}
