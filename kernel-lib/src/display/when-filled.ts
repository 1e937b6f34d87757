import type { Survey } from "../survey/survey.js";
import { type Note, note } from "./note.js";

/**
 * A result of a sheet once it has readings; until then a note that says what to fill in. For notebooks that are written
 * before anything is measured.
 *
 * @param sheet a survey, perhaps with no reading yet
 * @param make what to compute from it
 * @example
 * const blank = parseSurvey("# relative to: travel\n# front: y-\n# +x: right\n# +y: back\n# gauge resolution: 1 um\n# gauge maximum permissible error: 4 um\nplace,x/mm,y/mm,z/um,pass\nA1,0,0,,1\nA2,50,0,,1", { name: "mine.csv" });
 * `${whenFilled(blank, (sheet) => form.flatness(sheet))}` // => "mine.csv has no reading yet: fill in the column z/um (2 cells), save, and run this notebook again"
 */
export function whenFilled<T>(sheet: Survey, make: (sheet: Survey) => T): T | Note {
  if (sheet.readings().length > 0) return make(sheet);
  return note(
    `${sheet.name} has no reading yet: fill in the column z/um (${sheet.blanks.length} cells), save, and run this notebook again`,
  );
}
